//! Rule sets: limits with their sources, and how the readings of a job stand against them.
//!
//! Makers disagree, so the mechanic picks a [`RuleSet`]; the maker's own figures for the engine on
//! the stand ([`MakersFigures`]) win over it. [`evaluate`] holds the readings in force against the
//! limits in force and returns plain data. It never sums them up into one verdict.

mod answer;
mod cranking;
mod evaluate;
mod evaluation;
mod leak_down;
mod limit;
mod makers;
mod published;
mod set;
mod wording;

pub use crate::source::Source;
pub use evaluate::evaluate;
pub use evaluation::{
    CrankingSummary, CylinderEvaluation, CylinderPressure, Evaluation, LeakFigure, LeakSummary,
    LimitResult, PressureFigure, PutAside, Verdict, WhyNot,
};
pub use limit::{AtLimit, Band, CrankingDemand, Demand, LeakDemand, LeakPart, Limit, Subject};
pub use makers::{LimitsInForce, MakersFigures};
pub use set::{NoSuchRuleSet, RuleSet};
