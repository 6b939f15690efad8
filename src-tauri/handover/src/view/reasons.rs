//! The findings with what speaks for and against them.

use borespoke_core::engine::Cylinder;
use borespoke_core::judgement::{Finding, Weight};
use serde::Serialize;

use super::entries::{Citations, Cited};
use super::number;
use super::sureness::Sureness;
use crate::data::HandoverData;

/// More pieces of evidence than this on one side are counted, not listed.
const MOST_PER_SIDE: usize = 4;
/// Evidence that changes the odds by less than a tenth is counted, not listed.
const LEAST_FACTOR: f64 = 1.1;
/// Findings below this probability are named, without their reasons. On the buyer's page they are
/// left out.
const WORTH_TELLING: f64 = 0.10;
/// So are those after the first few: they would crowd out what matters.
const MOST_TOLD: usize = 3;

/// A finding less probable than this is told, but reasoned only when it is the first.
const WORTH_REASONING: f64 = 0.33;

/// A finding for the evidence pages.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reasoned {
    /// The cause by its name in the model.
    pub cause: String,
    /// "Cylinder 3".
    pub cylinders: String,
    /// How sure.
    pub sureness: Sureness,
    /// How sure before anything was observed.
    pub prior: String,
    /// What to do if it is so.
    pub advice: String,
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
pub fn cylinders(some: &[Cylinder], data: &HandoverData) -> String {
    match some {
        [] => "The whole engine".to_owned(),
        [one] => format!("Cylinder {one}"),
        all if all.len() == data.table.rows.len() => "The whole engine".to_owned(),
        several => format!("Cylinders {}", number::listed(several)),
    }
}

/// The findings that are told to the buyer, and the rest.
pub fn told_and_rest(data: &HandoverData) -> (&[Finding], &[Finding]) {
    let findings = &data.judgement.findings;
    let worth = findings.iter().take_while(|f| f.probability.value() >= WORTH_TELLING).count();
    findings.split_at(worth.min(MOST_TOLD))
}

/// The findings that are reasoned in the evidence, and the rest.
fn reasoned_and_rest(data: &HandoverData) -> (&[Finding], &[Finding]) {
    let findings = &data.judgement.findings;
    let (told, _) = told_and_rest(data);
    let worth = told.iter().take_while(|f| f.probability.value() >= WORTH_REASONING).count();
    findings.split_at(worth.max(1).min(told.len()))
}

/// The findings that weigh, with their reasons.
pub fn reasons(data: &HandoverData, citations: &Citations<'_>) -> Vec<Reasoned> {
    let (worth, _) = reasoned_and_rest(data);
    worth.iter().map(|finding| reasoned(finding, data, citations)).collect()
}

fn reasoned(finding: &Finding, data: &HandoverData, citations: &Citations<'_>) -> Reasoned {
    let listed = |weights: &[Weight]| {
        let strong = |weight: &&Weight| weight.log_odds.abs() >= LEAST_FACTOR.ln();
        let pieces = weights.iter().filter(strong).take(MOST_PER_SIDE);
        pieces.map(|weight| piece(weight, citations)).collect::<Vec<_>>()
    };
    let (speaks_for, speaks_against) = (listed(&finding.in_favour), listed(&finding.against));
    Reasoned {
        cause: finding.cause.clone(),
        cylinders: cylinders(&finding.cylinders, data),
        sureness: Sureness::of(finding.probability),
        more_for: finding.in_favour.len() - speaks_for.len(),
        speaks_for,
        more_against: finding.against.len() - speaks_against.len(),
        speaks_against,
        prior: number::probability(finding.prior),
        advice: finding.advice.clone(),
        source: finding.source.clone(),
    }
}

/// The findings that are only named: "Cylinder 3: coked valve seat, very unlikely, 6 %".
pub fn also_considered(data: &HandoverData) -> Vec<String> {
    let (_, rest) = reasoned_and_rest(data);
    rest.iter()
        .map(|finding| {
            let Sureness { words, percent, .. } = Sureness::of(finding.probability);
            let cylinders = cylinders(&finding.cylinders, data);
            format!("{cylinders}: {}, {words}, {percent}", finding.cause)
        })
        .collect()
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
