//! How sure a hearing is: a logistic model over the evidence.

use super::evidence::Evidence;

/// The chance that the likeliest candidate is what was said.
///
/// The coefficients are set by hand, not fitted.
pub(super) fn of(evidence: &Evidence) -> f64 {
    let agrees = if evidence.free_agrees { 1.5 } else { 0.0 };
    let z = -1.0 + 0.9 * evidence.odds.min(evidence.sound_odds + 1.0) + agrees
        - 0.35 * evidence.margin
        + 2.0 * (evidence.mean + 0.2).min(0.0);
    1.0 / (1.0 + (-z).exp())
}
