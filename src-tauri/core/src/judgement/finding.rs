//! The shape of a judgement's result.

use serde::Serialize;

use crate::engine::Cylinder;
use crate::quantity::Probability;
use crate::record::EntryId;

/// How much one entry speaks for or against a finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Weight {
    /// The entry.
    pub entry: EntryId,
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
    /// The cylinders it concerns.
    pub cylinders: Vec<Cylinder>,
    /// How probable it is, given everything observed.
    pub probability: Probability,
    /// What speaks for it, strongest first.
    #[serde(rename = "for")]
    pub in_favour: Vec<Weight>,
    /// What speaks against it, strongest first.
    pub against: Vec<Weight>,
    /// Where the model has this cause from.
    pub source: String,
    /// What to do about it and how urgent it is, in plain words; never whether to buy.
    pub advice: String,
}

/// A test that could still be made.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NextStep {
    /// What to do, as an instruction.
    pub next_step: String,
    /// On which cylinder, where it is on one.
    pub cylinder: Option<Cylinder>,
    /// How much it would tell, on average, in bits.
    pub bits: f64,
    /// How long it takes.
    pub minutes: f64,
    /// What it would settle, in plain words.
    pub settles: String,
}
