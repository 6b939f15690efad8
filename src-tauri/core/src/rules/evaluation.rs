//! What holding the readings against the limits gives: plain data.

use serde::Serialize;

use super::limit::Limit;
use crate::engine::Cylinder;
use crate::quantity::{GaugePressure, PressureUnit, StatedPressure};
use crate::record::{EntryId, LeakReading, Stated};

/// How a cylinder stands against one limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Inside it.
    Inside,
    /// Outside it.
    Outside,
    /// The reading was given as a range, and the limit lies within the range.
    OnTheLine,
    /// Cannot be said; the result says why.
    NotTested,
}

/// Why a limit could not be tested.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WhyNot {
    /// The cylinder has no such reading.
    NoReading,
    /// Only one cylinder was read; there is nothing to compare with.
    OnlyOneRead,
    /// No cylinder showed any pressure; a share of nothing means nothing.
    AllZero,
    /// The pressures cannot be: no supply, or more behind the restrictor than before it.
    ImpossiblePressures,
    /// The limit is for a stated supply pressure, and the supply is not known.
    SupplyUnknown,
    /// The limit is for another supply pressure.
    OtherSupply,
    /// The limit is for another restrictor.
    OtherRestrictor,
    /// The cylinders were read on different leak-down sets or at different supplies.
    DifferentTesters,
    /// The limit is on a part of the leak, and nobody heard where the air leaves.
    ExitNotHeard,
    /// The limit is on a part of the leak, and air leaves in more than one way.
    SharesUnknown,
    /// The master orifice was not read.
    MasterNotRead,
}

impl WhyNot {
    /// In plain words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::NoReading => "not read",
            Self::OnlyOneRead => "only one cylinder was read, there is nothing to compare with",
            Self::AllZero => "no cylinder showed any pressure",
            Self::ImpossiblePressures => {
                "the two pressures cannot be: the supply is zero or lower than the cylinder side"
            }
            Self::SupplyUnknown => {
                "the limit is for a stated supply pressure; this supply is not known"
            }
            Self::OtherSupply => "the limit is for another supply pressure",
            Self::OtherRestrictor => {
                "the limit is for another restrictor; the same leak reads otherwise through this one"
            }
            Self::DifferentTesters => {
                "the cylinders were read on different leak-down sets or at different supplies"
            }
            Self::ExitNotHeard => {
                "the limit is on a part of the leak; where the air leaves is not known"
            }
            Self::SharesUnknown => {
                "the limit is on a part of the leak; air leaves in more than one way"
            }
            Self::MasterNotRead => "the master orifice was not read",
        }
    }
}

/// How a cylinder stands against one limit, with the reason and the source.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitResult {
    /// The limit's stable name.
    pub limit: &'static str,
    /// How the cylinder stands.
    pub verdict: Verdict,
    /// Value and limit in plain words, in the unit that was read; or why not tested.
    pub says: String,
    /// The band of a graded table the value lies in. `None` too when a range spans two.
    pub band: Option<&'static str>,
    /// What the source asks for in that band.
    pub asks: Option<&'static str>,
    /// Why not tested.
    pub why_not: Option<WhyNot>,
    /// Where the limit comes from.
    pub source: String,
    /// What else the source says; empty when nothing.
    pub note: &'static str,
}

/// A cranking pressure as it was read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PressureFigure {
    /// The entry in force it comes from.
    pub entry: EntryId,
    /// As it was stated.
    pub stated: Stated<StatedPressure>,
    /// The pressure computed with: the stated one, or the middle of a range.
    pub pressure: GaugePressure,
    /// The tester, when it was named.
    pub tester: Option<String>,
}

/// A dry cranking pressure against those of the other cylinders.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CylinderPressure {
    /// The reading.
    #[serde(flatten)]
    pub figure: PressureFigure,
    /// Above (positive) or below the mean of all cylinders read.
    pub from_mean: GaugePressure,
    /// Below the highest: zero or negative.
    pub from_highest: GaugePressure,
    /// As a fraction of the mean; `None` when the mean is zero.
    pub of_mean: Option<f64>,
    /// As a fraction of the highest; `None` when the highest is zero.
    pub of_highest: Option<f64>,
}

/// A leak-down as it was read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeakFigure {
    /// The entry in force it comes from.
    pub entry: EntryId,
    /// As it was stated.
    pub reading: LeakReading,
    /// The loss as a fraction of the supply pressure, at the middle of a range; `None` when the
    /// two pressures cannot be.
    pub loss: Option<f64>,
    /// The pressure held behind the restrictor, when it was read or the supply is known.
    pub held: Option<GaugePressure>,
    /// The supply, when it was read or the tester's is known.
    pub supply: Option<StatedPressure>,
    /// Whether the valves were tapped before.
    pub after_tap: bool,
    /// The tester, when it was named or there is only one.
    pub tester: Option<String>,
}

/// One cylinder.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CylinderEvaluation {
    /// Which.
    pub cylinder: Cylinder,
    /// Final cranking pressure, dry, against the other cylinders.
    pub dry: Option<CylinderPressure>,
    /// Final cranking pressure, wet.
    pub wet: Option<PressureFigure>,
    /// How far the wet reading lies above the dry, as a fraction of the dry.
    pub wet_rise: Option<f64>,
    /// The leak-down that counts: after the valves were tapped, where that was tried.
    pub leak: Option<LeakFigure>,
    /// The leak-down as found, when the one that counts is another.
    pub leak_before_tap: Option<LeakFigure>,
    /// One result for each limit in force, in their order.
    pub results: Vec<LimitResult>,
}

/// The dry cranking pressures of the engine taken together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CrankingSummary {
    /// The unit of the first cylinder read, to show the figures in.
    pub unit: PressureUnit,
    /// The highest.
    pub highest: GaugePressure,
    /// The cylinders that have it.
    pub highest_on: Vec<Cylinder>,
    /// The lowest.
    pub lowest: GaugePressure,
    /// The cylinders that have it.
    pub lowest_on: Vec<Cylinder>,
    /// The mean.
    pub mean: GaugePressure,
    /// Highest less lowest.
    pub spread: GaugePressure,
    /// Lowest as a fraction of highest; `None` when the highest is zero.
    pub lowest_of_highest: Option<f64>,
    /// Cylinders without a dry reading.
    pub not_read: Vec<Cylinder>,
    /// The testers named; more than one means the cylinders were read on different gauges.
    pub testers: Vec<String>,
}

/// The leak-downs of the engine taken together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeakSummary {
    /// The smallest loss, as a fraction of the supply.
    pub least: f64,
    /// The largest loss, as a fraction of the supply.
    pub most: f64,
    /// The cylinders that have it.
    pub most_on: Vec<Cylinder>,
    /// Cylinders without a leak-down that can be.
    pub not_read: Vec<Cylinder>,
    /// The testers named; more than one means the percentages cannot be compared as they stand.
    pub testers: Vec<String>,
}

/// A limit of the picked set that the maker's own figure replaced.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PutAside {
    /// The limit.
    pub limit: Limit,
    /// Where it comes from, in words.
    pub source: String,
}

/// The readings in force against the limits in force.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Evaluation {
    /// The picked rule set's stable name.
    pub rule_set: String,
    /// Its short plain name.
    pub rule_set_name: String,
    /// Each cylinder, by number.
    pub cylinders: Vec<CylinderEvaluation>,
    /// The dry cranking pressures together; `None` when none was read.
    pub cranking: Option<CrankingSummary>,
    /// The leak-downs together; `None` when none was read.
    pub leak_down: Option<LeakSummary>,
    /// Limits of the picked set that the maker's own figures replaced.
    pub put_aside: Vec<PutAside>,
}

impl Evaluation {
    /// The results with this verdict, each with its cylinder.
    pub fn with(&self, verdict: Verdict) -> impl Iterator<Item = (Cylinder, &LimitResult)> {
        self.cylinders.iter().flat_map(move |row| {
            let found = row.results.iter().filter(move |result| result.verdict == verdict);
            found.map(|result| (row.cylinder, result))
        })
    }
}
