//! The testers: cranking gauges and leak-down sets, and their zero checks.

use serde::{Deserialize, Serialize};

use crate::quantity::{Length, StatedPressure};

/// What a tester measures.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "measures", rename_all = "kebab-case")]
pub enum TesterKind {
    /// A gauge that screws or presses into a plug hole and holds the highest pressure.
    CrankingGauge {
        /// The distance between two marks that can be told apart.
        #[serde(default)]
        resolution: Option<StatedPressure>,
    },
    /// A regulator, a restrictor and one or two gauges.
    LeakDownSet {
        /// Diameter of the restrictor; without it readings on other sets cannot be compared.
        #[serde(default)]
        restrictor: Option<Length>,
        /// Regulated supply pressure.
        #[serde(default)]
        supply: Option<StatedPressure>,
    },
}

/// What the tester showed when it should have shown nothing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ZeroCheck {
    /// Not looked at.
    NotDone,
    /// Came back to zero.
    Good,
    /// Did not; what it showed, in words.
    Off {
        /// What it showed.
        note: String,
    },
}

/// One tester, known in the job by its name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Tester {
    /// What it is called in this job.
    pub name: String,
    /// What it measures.
    #[serde(flatten)]
    pub kind: TesterKind,
    /// The zero check before use.
    pub zero: ZeroCheck,
}
