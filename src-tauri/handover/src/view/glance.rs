//! What is known of a cylinder, at one glance.

use borespoke_core::engine::Cylinder;
use borespoke_core::judgement::Action;
use borespoke_core::record::CylinderRow;
use serde::Serialize;

use super::limits;
use crate::data::HandoverData;

/// The state of one cylinder; each has a word, a shape and a colour in the template.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Measured, and nothing points to a fault.
    Clear,
    /// The advice is to test again, a reading is outside a limit, or readings contradict each
    /// other.
    Watch,
    /// The advice is to open it or not to run it.
    Work,
    /// Neither cranking pressure nor leak-down was read.
    Unmeasured,
}

impl State {
    /// Every state, from good to bad to none.
    pub const ALL: [Self; 4] = [Self::Clear, Self::Watch, Self::Work, Self::Unmeasured];

    /// The word under the shape.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Clear => "nothing found",
            Self::Watch => "look closer",
            Self::Work => "needs work",
            Self::Unmeasured => "not measured",
        }
    }

    /// What the word means, for the legend.
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Clear => "measured, and no reading points to a fault",
            Self::Watch => "test it again: a reading is outside a limit or in doubt",
            Self::Work => "the advice is to open it up or not to run it",
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

/// The state of the cylinder of `row`: what `core` advises for it, and no better than its limits
/// and contradictions allow.
pub fn state(data: &HandoverData, row: &CylinderRow) -> State {
    let judgement = &data.judgement;
    let advice = judgement.advice.iter().find(|advice| advice.cylinders.contains(&row.cylinder));
    let work = advice.is_some_and(|advice| match advice.action {
        Action::OpenTop | Action::OpenBottom | Action::DoNotRun => true,
        Action::CarryOn | Action::WatchAndRetest | Action::RetestNow => false,
    });
    let carry_on = advice.is_none_or(|advice| advice.action == Action::CarryOn);
    if work {
        State::Work
    } else if row.dry.is_none()
        && row.wet.is_none()
        && row.leak.is_none()
        && row.leak_tapped.is_none()
    {
        State::Unmeasured
    } else if !carry_on
        || judgement.conflicts.iter().any(|conflict| conflict.cylinder == row.cylinder)
        || limits::cranking_outside(data, row.cylinder)
        || limits::leak_outside(data, row.cylinder)
    {
        State::Watch
    } else {
        State::Clear
    }
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
