//! What is wrong with which cylinder, how sure, and what to test next.
//!
//! [`judge`] weighs every entry in force against a written causal model ([`Model`]) and gives, for
//! every cause and cylinder, the exact posterior probability, what speaks for and against it, what
//! to do, and which test would tell most per minute of work. It is a pure function: the same job
//! and log give the same judgement.
//!
//! # The model in short
//! - A cylinder has nothing wrong, one cause, or two at once, each at a severity. Causes are
//!   independent between cylinders. Their effects multiply on pressure and add on leak area.
//! - Neighbours share a gasket that may leak; a bank shares its cam timing; the engine shares the
//!   starter, throttle, warmth and gauge; the leak-down set may read too much.
//! - Pressure is judged against the level this engine's healthy cylinders crank to. Nobody states
//!   it, so it is an unknown of the model, on a grid ([`LevelGrid`]).
//! - Readings of one cylinder share that cylinder's own scatter, so the rise after oil is judged far
//!   more sharply than either pressure.
//! - "About" and ranges widen a reading's scatter.

mod advice;
#[cfg(test)]
mod brute_force;
mod causes;
mod evidence;
mod explain;
mod finding;
mod infer;
mod likelihood;
mod model;
mod next_step;
mod posterior;
mod report;
mod scale;
mod shared;
mod state;
mod step;
mod topology;

pub use advice::Action;
pub use finding::{Advice, Conflict, Finding, Judgement, NextStep, Posterior, Weight};
pub use model::{CauseRow, Climb, Consequence, Kind, Level, Model, ModelError, SCATTER, Scatter};
pub use scale::{LevelGrid, LevelGridError};
pub use shared::{GasketRow, HealthyRow, LeakSetRow, LevelRow, SharedTable};
pub use step::{Test, TestRow};

use crate::job::Job;
use crate::record::Log;

/// Judges an engine from the entries in force, with the model in use.
#[must_use]
pub fn judge(job: &Job, log: &Log) -> Judgement {
    judge_with(Model::standard(), job, log)
}

/// Judges an engine with another model.
#[must_use]
pub fn judge_with(model: &Model, job: &Job, log: &Log) -> Judgement {
    report::report(model, job, log, true)
}

/// The same judgement without the next steps, which take most of the time.
#[must_use]
pub fn weigh(job: &Job, log: &Log) -> Judgement {
    weigh_with(Model::standard(), job, log)
}

/// [`weigh`] with another model.
#[must_use]
pub fn weigh_with(model: &Model, job: &Job, log: &Log) -> Judgement {
    report::report(model, job, log, false)
}

/// Every posterior probability, also of what is not worth a finding.
#[must_use]
pub fn posterior(model: &Model, job: &Job, log: &Log) -> Posterior {
    report::posterior(model, job, log)
}
