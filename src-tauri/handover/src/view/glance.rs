//! What is known of a cylinder, at one glance.

use borespoke_core::engine::Cylinder;
use borespoke_core::record::CylinderRow;
use serde::Serialize;

use super::limits;
use crate::data::HandoverData;

/// From this probability a finding marks its cylinders as "fault likely": "likely" on the scale
/// in `sureness`. Our own threshold.
const FAULT: f64 = 0.66;
/// From this probability it marks them as "look closer": "about as likely as not" on that scale.
/// Our own threshold.
const WATCH: f64 = 0.33;

/// The state of one cylinder; each has a word, a shape and a colour in the template.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Measured, and nothing points to a fault.
    Clear,
    /// A reading outside a limit, or a finding that may well be so.
    Watch,
    /// A finding that is likely so.
    Fault,
    /// Neither cranking pressure nor leak-down was read.
    Unmeasured,
}

impl State {
    /// Every state, from good to bad to none.
    pub const ALL: [Self; 4] = [Self::Clear, Self::Watch, Self::Fault, Self::Unmeasured];

    /// The word under the shape.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Clear => "nothing found",
            Self::Watch => "look closer",
            Self::Fault => "fault likely",
            Self::Unmeasured => "not measured",
        }
    }

    /// What the word means, for the legend.
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Clear => "measured, and no reading points to a fault",
            Self::Watch => "a reading is outside a limit, or a fault is possible",
            Self::Fault => "a fault is likely, see below",
            Self::Unmeasured => "no pressure and no leak was read",
        }
    }
}

/// One cylinder of the strip.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Cell {
    /// The maker's number.
    pub cylinder: u8,
    /// The state.
    pub state: State,
    /// Its word.
    pub word: &'static str,
}

/// One line of the legend.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LegendLine {
    /// The state.
    pub state: State,
    /// Its word.
    pub word: &'static str,
    /// What it means.
    pub meaning: &'static str,
}

/// The state of the cylinder of `row`.
pub fn state(data: &HandoverData, row: &CylinderRow) -> State {
    if row.dry.is_none() && row.wet.is_none() && row.leak.is_none() && row.leak_tapped.is_none() {
        return State::Unmeasured;
    }
    let most = most_probable(data, row.cylinder);
    if most >= FAULT {
        State::Fault
    } else if most >= WATCH
        || limits::cranking_outside(data, row.cylinder)
        || limits::leak_outside(data, row.cylinder)
    {
        State::Watch
    } else {
        State::Clear
    }
}

fn most_probable(data: &HandoverData, cylinder: Cylinder) -> f64 {
    data.findings
        .iter()
        .filter(|finding| finding.cylinders.contains(&cylinder))
        .map(|finding| finding.probability.value())
        .fold(0.0, f64::max)
}

/// The strip, in firing order.
pub fn strip(data: &HandoverData) -> Vec<Cell> {
    let cell = |cylinder: Cylinder| {
        let state = state(data, &data.table.rows[cylinder.index()]);
        Cell { cylinder: cylinder.number(), state, word: state.word() }
    };
    data.job.engine.firing_order().iter().map(cell).collect()
}

/// The legend: the states that occur in `strip`.
pub fn legend(strip: &[Cell]) -> Vec<LegendLine> {
    State::ALL
        .into_iter()
        .filter(|state| strip.iter().any(|cell| cell.state == *state))
        .map(|state| LegendLine { state, word: state.word(), meaning: state.meaning() })
        .collect()
}
