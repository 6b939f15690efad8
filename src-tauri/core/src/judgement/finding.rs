//! The shape of a judgement's result.

use serde::Serialize;

use super::advice::Action;
use crate::engine::Cylinder;
use crate::quantity::Probability;
use crate::record::EntryId;

/// How much one entry speaks for or against a finding.
///
/// The mean of two answers to "what does this entry do to the odds": of what it does when it is all
/// that is known about its cylinder, and of what it does when it comes last. So two entries that say
/// the same both count.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Weight {
    /// The entry.
    pub entry: EntryId,
    /// Which cylinder it is about.
    pub cylinder: Cylinder,
    /// What it says, in plain words with its number and unit.
    pub says: String,
    /// Natural logarithm of the odds it adds (for) or takes away (against), always positive.
    pub log_odds: f64,
}

/// A cause that explains what was observed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// The cause, by its name in the model.
    pub cause: String,
    /// The cause in plain words for the buyer.
    pub plain: String,
    /// The cylinders it concerns; all of a bank or engine for a shared cause.
    pub cylinders: Vec<Cylinder>,
    /// How probable it is, given everything observed.
    pub probability: Probability,
    /// How probable it was before anything was observed.
    pub prior: Probability,
    /// What speaks for it, strongest first.
    #[serde(rename = "for")]
    pub in_favour: Vec<Weight>,
    /// What speaks against it, strongest first.
    pub against: Vec<Weight>,
    /// Where the model has this cause from.
    pub source: String,
    /// What to do if it is so and how urgent that is, in plain words; never whether to buy.
    pub advice: String,
}

/// A test that could still be made.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NextStep {
    /// What to do, as an instruction.
    pub next_step: String,
    /// On which cylinder, where it is on one.
    pub cylinder: Option<Cylinder>,
    /// How much it would tell about the causes, on average, in bits.
    pub bits: f64,
    /// How long it takes.
    pub minutes: f64,
    /// The chance that its result changes what to do or what is suspected first.
    pub changes_advice: Probability,
    /// What it would settle, in plain words.
    pub settles: String,
}

/// Entries of one cylinder that contradict each other.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Conflict {
    /// Which cylinder.
    pub cylinder: Cylinder,
    /// The two entries that contradict each other most.
    pub entries: [EntryId; 2],
    /// Natural logarithm of how much less probable the entries are together than they would be if
    /// they had nothing to do with each other.
    pub measure: f64,
    /// What contradicts what, and what to suspect, in plain words.
    pub says: String,
}

/// What to do about some cylinders, or about the engine.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Advice {
    /// For which cylinders.
    pub cylinders: Vec<Cylinder>,
    /// What to do.
    pub action: Action,
    /// The same in plain words, with how urgent it is.
    pub says: String,
    /// Why.
    pub because: String,
}

/// Everything the tool says about an engine.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Judgement {
    /// Causes that the entries made more probable, most probable first.
    pub findings: Vec<Finding>,
    /// Tests still possible, most telling per minute first. Empty when no test would change what to
    /// do.
    pub next_steps: Vec<NextStep>,
    /// Why testing can stop, when it can.
    pub settled: Option<String>,
    /// Entries that contradict each other.
    pub conflicts: Vec<Conflict>,
    /// What was not tested, and what was assumed, in plain words.
    pub not_tested: Vec<String>,
    /// What to do, most urgent first. Empty when nothing was observed.
    pub advice: Vec<Advice>,
}

/// Posterior probabilities, bare.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Posterior {
    /// By cylinder number less one, then by row of the model. Faults of the leak-down test count
    /// here even where none was read.
    pub causes: Vec<Vec<f64>>,
    /// By cylinder number less one: nothing leaks there, and the leak-down test was not at fault.
    pub tight: Vec<f64>,
    /// Gaskets between neighbours, or of a cylinder to a neighbour that is not known.
    pub gaskets: Vec<(Vec<Cylinder>, f64)>,
    /// By row of [`super::SharedTable::levels`].
    pub levels: Vec<f64>,
    /// Cam timing, by bank.
    pub timing: Vec<f64>,
    /// The leak-down set reads too much.
    pub leak_set: f64,
}
