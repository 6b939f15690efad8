//! A change between two visits, or why there is none to tell.

use jiff::Timestamp;
use serde::Serialize;

use crate::quantity::{Area, GaugePressure, LeakPercent};

/// Which way a quantity went.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// Up, by more than the gauges can be off.
    Rose,
    /// Down, by more than the gauges can be off.
    Fell,
    /// No change that the gauges could show.
    WithinError,
}

impl Direction {
    /// Of a change that lies between `least` and `most`, each of which may be open.
    pub(super) fn of(least: Option<f64>, most: Option<f64>) -> Self {
        if least.is_some_and(|least| least > 0.0) {
            Self::Rose
        } else if most.is_some_and(|most| most < 0.0) {
            Self::Fell
        } else {
            Self::WithinError
        }
    }
}

/// What changed, with the furthest it may be off: the gauges' marks and the ranges stated. How far
/// the same engine would differ from one hour to the next is not in it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "of", rename_all = "kebab-case")]
pub enum Change {
    /// The dry cranking pressure, on the same gauge.
    Cranking {
        /// Before, carried to the air pressure of the later visit where both are known.
        before: GaugePressure,
        /// After.
        after: GaugePressure,
        /// After less before.
        change: GaugePressure,
        /// The most the change may be off.
        off_by: GaugePressure,
    },
    /// The share of the supply lost, on the same tester at the same supply.
    Loss {
        /// Before.
        before: LeakPercent,
        /// After.
        after: LeakPercent,
        /// After less before, in percent of the supply.
        change: f64,
        /// The most the change may be off, in percent of the supply.
        off_by: f64,
    },
    /// The effective leak area, through the testers' restrictors.
    LeakArea {
        /// Before, as read.
        before: Option<Area>,
        /// After, as read.
        after: Option<Area>,
        /// The least the area grew, negative when it may have shrunk; `None` when the earlier
        /// reading sets no upper end.
        least: Option<Area>,
        /// The most it grew; `None` when the later reading sets no upper end.
        most: Option<Area>,
    },
}

/// Why two readings are not compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NotCompared {
    /// How warm the engine was is not known for one of the visits.
    WarmthUnknown,
    /// The engine was not as warm on both.
    WarmthDiffers,
    /// The throttle, the plugs or the battery were not the same on both.
    CrankedDifferently,
    /// Which tester was used is not known for one of the visits.
    TesterUnknown,
    /// A cranking gauge was another one.
    GaugeDiffers,
    /// Another leak-down set, and the restrictor or supply of one is not known.
    SetDiffers,
    /// The same leak-down set, but the supply differs and the restrictor is not known.
    SupplyDiffers,
    /// A gauge did not come back to zero.
    ZeroOff,
    /// One was read after tapping the valves, the other as found.
    TappedOnce,
    /// The two pressures of a reading cannot be.
    ImpossiblePressures,
    /// A reading shows a leak beyond what the tester can measure.
    BeyondMeasuring,
}

impl NotCompared {
    /// In plain words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::WarmthUnknown => {
                "not compared: how warm the engine was is not known for one visit"
            }
            Self::WarmthDiffers => "not compared: the engine was not as warm on both visits",
            Self::CrankedDifferently => {
                "not compared: throttle, plugs or battery were not the same on both visits"
            }
            Self::TesterUnknown => "not compared: which tester was used is not known for one visit",
            Self::GaugeDiffers => "not compared: another gauge was used",
            Self::SetDiffers => {
                "not compared: another leak-down set was used, and the restrictor or the supply of one \
                 is not known"
            }
            Self::SupplyDiffers => {
                "not compared: the supply was not the same, and the restrictor is not known"
            }
            Self::ZeroOff => "not compared: a gauge did not come back to zero",
            Self::TappedOnce => {
                "not compared: read once after tapping the valves and once as found"
            }
            Self::ImpossiblePressures => "not compared: the two pressures of a reading cannot be",
            Self::BeyondMeasuring => "not compared: the leak is larger than the tester can measure",
        }
    }
}

/// What came of comparing two readings.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "outcome", rename_all = "kebab-case")]
pub enum Outcome {
    /// They were compared.
    Compared {
        /// What changed.
        #[serde(flatten)]
        change: Change,
        /// Which way.
        direction: Direction,
    },
    /// They were not.
    NotCompared {
        /// Why not.
        why: NotCompared,
    },
}

/// One reading against an earlier one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Comparison {
    /// When the earlier visit began.
    pub from: Timestamp,
    /// When the later visit began.
    pub to: Timestamp,
    /// What came of it.
    #[serde(flatten)]
    pub outcome: Outcome,
}

impl From<Result<(Change, Direction), NotCompared>> for Outcome {
    fn from(compared: Result<(Change, Direction), NotCompared>) -> Self {
        match compared {
            Ok((change, direction)) => Self::Compared { change, direction },
            Err(why) => Self::NotCompared { why },
        }
    }
}
