//! What to do, and how urgent it is. Consequences only: whether to buy is not this tool's business.

use serde::Serialize;

use super::model::Consequence;

/// What can be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Action {
    /// Nothing to do.
    CarryOn,
    /// Run it and test again later.
    WatchAndRetest,
    /// Test again before anything else.
    RetestNow,
    /// Take the head off, or work on the valves.
    OpenTop,
    /// Look at rings, bore and piston.
    OpenBottom,
    /// Leave it standing.
    DoNotRun,
}

impl Action {
    /// Every action, in the order of the loss table.
    pub const ALL: [Self; 6] = [
        Self::CarryOn,
        Self::WatchAndRetest,
        Self::RetestNow,
        Self::OpenTop,
        Self::OpenBottom,
        Self::DoNotRun,
    ];

    /// In plain words. Ten hours: Lycoming IO-390-D manual 72-30 table 2 (spread 6 to 15 psi:
    /// repeat after 10 h); the mileage is common practice, no source.
    #[must_use]
    pub const fn says(self) -> &'static str {
        match self {
            Self::CarryOn => "Carry on. Nothing here asks for work.",
            Self::WatchAndRetest => {
                "Watch it. Run it and test again after 10 hours, or about 500 miles (800 km)."
            }
            Self::RetestNow => {
                "Test again now, before any work and before relying on these readings."
            }
            Self::OpenTop => {
                "Open it up from the top: valve lash and valve gear first, then the head. Do it \
                 before the next long run."
            }
            Self::OpenBottom => {
                "Open it up: the fault is below the head (rings, bore or piston). Plan the work \
                 soon; running on wears it further."
            }
            Self::DoNotRun => "Don't run it until it has been opened. Running on can break more.",
        }
    }
}

/// What it costs, in working hours or their worth, to act as the column says when the row is true.
/// Common practice, no source: the order matters more than the numbers. Rows in the order of
/// [`Consequence::ALL`], columns in that of [`Action::ALL`].
const LOSS: [[f64; 6]; 6] = [
    [0.0, 0.3, 0.6, 6.0, 10.0, 8.0],
    [1.0, 0.8, 0.3, 6.0, 10.0, 8.0],
    [2.0, 0.4, 1.0, 5.0, 7.0, 8.0],
    [6.0, 3.0, 1.8, 0.8, 6.0, 5.0],
    [6.0, 3.0, 1.8, 5.0, 0.8, 5.0],
    [30.0, 20.0, 6.0, 2.5, 2.5, 0.5],
];

/// The action that costs least on average, given the (not necessarily normalised) weight of each
/// consequence in the order of [`Consequence::ALL`].
pub(super) fn best_action(weights: &[f64; Consequence::ALL.len()]) -> Action {
    best(weights).0
}

/// What the best action costs on average, times the sum of the weights.
pub(super) fn least_loss(weights: &[f64; Consequence::ALL.len()]) -> f64 {
    best(weights).1
}

fn best(weights: &[f64; Consequence::ALL.len()]) -> (Action, f64) {
    let mut best = (Action::CarryOn, f64::INFINITY);
    for (column, action) in Action::ALL.into_iter().enumerate() {
        let loss: f64 = weights.iter().zip(&LOSS).map(|(weight, row)| weight * row[column]).sum();
        if loss < best.1 {
            best = (action, loss);
        }
    }
    best
}

/// What to do when a cause with this consequence is there for sure.
pub(super) fn action_for(consequence: Consequence) -> Action {
    let mut sure = [0.0; Consequence::ALL.len()];
    sure[consequence as usize] = 1.0;
    best_action(&sure)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sure_consequence_gets_its_action() {
        let actions: Vec<Action> = Consequence::ALL.into_iter().map(action_for).collect();
        assert_eq!(
            actions,
            [
                Action::CarryOn,
                Action::RetestNow,
                Action::WatchAndRetest,
                Action::OpenTop,
                Action::OpenBottom,
                Action::DoNotRun
            ]
        );
    }

    #[test]
    fn in_doubt_between_top_and_bottom_it_is_tested_again() {
        assert_eq!(best_action(&[0.0, 0.0, 0.0, 0.5, 0.5, 0.0]), Action::RetestNow);
    }

    #[test]
    fn a_small_chance_of_breaking_more_outweighs_carrying_on() {
        assert_ne!(best_action(&[0.9, 0.0, 0.0, 0.0, 0.0, 0.1]), Action::CarryOn);
    }

    #[test]
    fn no_action_is_a_verdict_on_the_purchase() {
        for action in Action::ALL {
            let words = action.says().to_lowercase();
            assert!(!words.contains("buy") && !words.contains("purchase"), "{words}");
        }
    }
}
