//! The findings with what speaks for and against them.

use borespoke_core::judgement::{Finding, Weight};
use serde::Serialize;

use super::entries::{Citations, Cited};
use super::number;
use super::sureness::Sureness;

/// More pieces of evidence than this on one side are counted, not listed.
const MOST_PER_SIDE: usize = 5;

/// A finding for the evidence pages.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reasoned {
    /// The cause by its name in the model.
    pub cause: String,
    /// "Cylinder 3".
    pub cylinders: String,
    /// How sure.
    pub sureness: Sureness,
    /// What speaks for it, strongest first.
    pub speaks_for: Vec<Piece>,
    /// How many more speak for it.
    pub more_for: usize,
    /// What speaks against it, strongest first.
    pub speaks_against: Vec<Piece>,
    /// How many more speak against it.
    pub more_against: usize,
    /// Where the model has the cause from.
    pub source: String,
}

/// A piece of evidence.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Piece {
    /// What it says.
    pub says: String,
    /// By what factor it changes the odds, "×4.5".
    pub factor: String,
    /// The entry behind it.
    pub entry: Option<Cited>,
}

/// "Cylinder 3", "Cylinders 3 and 4", "The whole engine".
pub fn cylinders(finding: &Finding) -> String {
    match finding.cylinders.as_slice() {
        [] => "The whole engine".to_owned(),
        [one] => format!("Cylinder {one}"),
        several => format!("Cylinders {}", number::listed(several)),
    }
}

/// A finding with its reasons.
pub fn reasoned(finding: &Finding, citations: &Citations<'_>) -> Reasoned {
    let side = |weights: &[Weight]| {
        weights.iter().take(MOST_PER_SIDE).map(|weight| piece(weight, citations)).collect()
    };
    Reasoned {
        cause: finding.cause.clone(),
        cylinders: cylinders(finding),
        sureness: Sureness::of(finding.probability),
        speaks_for: side(&finding.in_favour),
        more_for: finding.in_favour.len().saturating_sub(MOST_PER_SIDE),
        speaks_against: side(&finding.against),
        more_against: finding.against.len().saturating_sub(MOST_PER_SIDE),
        source: finding.source.clone(),
    }
}

fn piece(weight: &Weight, citations: &Citations<'_>) -> Piece {
    Piece {
        says: weight.says.clone(),
        factor: factor(weight.log_odds),
        entry: citations.cite(weight.entry),
    }
}

/// A change of the odds as a factor, with two figures.
fn factor(log_odds: f64) -> String {
    match log_odds.abs().exp() {
        small if small < 9.95 => format!("×{}", number::fixed(small, 1)),
        middling if middling < 999.5 => format!("×{}", number::fixed(middling, 0)),
        _ => "over ×1000".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_factor_is_the_exponential_of_the_log_odds() {
        assert_eq!(factor(1.5), "×4.5");
        assert_eq!(factor(-1.5), "×4.5");
        assert_eq!(factor(3.0), "×20");
        assert_eq!(factor(9.0), "over ×1000");
    }
}
