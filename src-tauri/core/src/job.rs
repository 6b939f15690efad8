//! A job: one engine looked at, for one customer, on one day.

use std::fmt;
use std::str::FromStr;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::engine::Engine;
use crate::quantity::{AbsolutePressure, Length};
use crate::rules::MakersFigures;
use crate::tester::Tester;

/// Which job. Globally unique and sortable by the time it was made (UUID version 7, RFC 9562), so
/// that the files of two phones can be joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct JobId(pub Uuid);

impl fmt::Display for JobId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl FromStr for JobId {
    type Err = uuid::Error;
    fn from_str(text: &str) -> Result<Self, uuid::Error> {
        text.parse().map(Self)
    }
}

/// How warm the engine was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Warmth {
    /// Not run today.
    Cold,
    /// Between.
    Warm,
    /// At working temperature, as the manuals ask.
    Hot,
}

/// The state the engine and the place were in. `None` is "not said", which the handover says too.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Conditions {
    /// How warm the engine was.
    pub warmth: Option<Warmth>,
    /// Throttle held wide open while cranking.
    pub throttle_open: Option<bool>,
    /// All plugs out while cranking.
    pub all_plugs_out: Option<bool>,
    /// Ignition and fuel made safe.
    pub made_safe: Option<bool>,
    /// Battery charged or supported.
    pub battery_charged: Option<bool>,
    /// Height above sea level.
    pub altitude: Option<Length>,
    /// Pressure of the air around.
    pub barometer: Option<AbsolutePressure>,
    /// Anything else, in words.
    pub notes: Vec<String>,
}

/// A job, without its log.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Job {
    /// When it was begun.
    pub begun: Timestamp,
    /// For whom.
    pub customer: String,
    /// Which vehicle or machine, in words.
    pub vehicle: String,
    /// What the customer wants to know.
    pub question: String,
    /// The engine.
    pub engine: Engine,
    /// The testers used.
    pub testers: Vec<Tester>,
    /// The conditions.
    pub conditions: Conditions,
    /// The identity of the rule set the mechanic picked.
    pub rule_set: String,
    /// The maker's own figures for this engine, which win over the rule set. A job written before
    /// they could be typed in has none.
    #[serde(default)]
    pub makers_figures: MakersFigures,
    /// Whether this is an invented example; said on every page then.
    pub invented: bool,
}
