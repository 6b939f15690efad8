//! The maker's own figures for the engine on the stand, typed in by the mechanic. They win over
//! the general limits about the same thing.

use serde::{Deserialize, Serialize};

use super::limit::{AtLimit, CrankingDemand, Demand, LeakDemand, LeakPart, Limit, Through};
use super::set::RuleSet;
use crate::quantity::{GaugePressure, LeakPercent, PressureUnit, Share, StatedPressure};
use crate::source::Source;

/// What the maker of this engine prints. All of it is optional.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct MakersFigures {
    /// Where the mechanic has them from, in words; empty when not said.
    pub from: String,
    /// The lowest cranking pressure allowed.
    pub lowest: Option<StatedPressure>,
    /// The highest cranking pressure allowed.
    pub highest: Option<StatedPressure>,
    /// The largest difference allowed between cylinders.
    pub spread: Option<StatedPressure>,
    /// The smallest share of the highest cylinder's pressure allowed.
    pub lowest_of_highest: Option<Share>,
    /// The largest leak-down allowed.
    pub leak: Option<LeakPercent>,
    /// What the leak-down tester showed through the maker's master orifice on the day.
    pub master_orifice: Option<StatedPressure>,
}

impl MakersFigures {
    /// The figures as limits.
    pub fn limits(&self) -> impl Iterator<Item = Limit> {
        let limit = |id, demand| Limit {
            id,
            demand,
            at_limit: AtLimit::Inside,
            through: Through::Any,
            source: Source::MakersFigure,
            note: "",
        };
        let gauge = |stated: Option<StatedPressure>| stated.map(StatedPressure::gauge);
        [
            gauge(self.lowest).map(|pressure| {
                limit("makers-lowest", Demand::Cranking(CrankingDemand::AtLeast { pressure }))
            }),
            gauge(self.highest).map(|pressure| {
                limit("makers-highest", Demand::Cranking(CrankingDemand::AtMost { pressure }))
            }),
            gauge(self.spread).map(|at_most| {
                limit("makers-spread", Demand::Cranking(CrankingDemand::BelowHighest { at_most }))
            }),
            self.lowest_of_highest.map(|at_least| {
                limit(
                    "makers-lowest-of-highest",
                    Demand::Cranking(CrankingDemand::OfHighest { at_least }),
                )
            }),
            self.leak.and_then(|leak| Share::from_percent(leak.percent()).ok()).map(|at_most| {
                limit(
                    "makers-leak",
                    Demand::LeakDown(LeakDemand::LossAtMost { at_most, part: LeakPart::Total }),
                )
            }),
            gauge(self.master_orifice).map(|master| {
                let demand = Demand::LeakDown(LeakDemand::HeldAtLeastMaster {
                    supply: GaugePressure::new(80.0, PressureUnit::Psi),
                    master: Some(master),
                });
                limit("makers-master-orifice", demand)
            }),
        ]
        .into_iter()
        .flatten()
    }
}

/// The limits a job is held against: the maker's, and of the picked set those on which the maker's
/// figures say nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitsInForce {
    /// The picked set.
    pub set: RuleSet,
    /// Where the maker's figures are from, in words.
    pub from: String,
    /// The limits that count, the maker's first.
    pub limits: Vec<Limit>,
    /// The limits of the set that the maker's figures put aside.
    pub put_aside: Vec<Limit>,
}

impl LimitsInForce {
    /// The limits of `set` under the maker's figures.
    #[must_use]
    pub fn new(set: RuleSet, makers: &MakersFigures) -> Self {
        let mut limits: Vec<_> = makers.limits().collect();
        let own: Vec<_> = limits.iter().map(|limit| limit.demand.subject()).collect();
        let (put_aside, general): (Vec<_>, Vec<_>) =
            set.limits().partition(|limit| own.contains(&limit.demand.subject()));
        limits.extend(general);
        Self { set, from: makers.from.clone(), limits, put_aside }
    }

    /// The source of a limit in words; a maker's figure says where it was found.
    #[must_use]
    pub fn source(&self, limit: &Limit) -> String {
        match limit.source {
            Source::MakersFigure if !self.from.is_empty() => {
                format!("{}, from {}", limit.source, self.from)
            }
            _ => limit.source.to_string(),
        }
    }
}

impl From<RuleSet> for LimitsInForce {
    fn from(set: RuleSet) -> Self {
        Self::new(set, &MakersFigures::default())
    }
}
