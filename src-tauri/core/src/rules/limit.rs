//! One limit: what it asks of a cylinder, and where it comes from.

use serde::Serialize;

use crate::quantity::{GaugePressure, Length, Share};
use crate::source::Source;

/// Whether a value exactly at a limit is inside it. Sources differ, so each limit says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum AtLimit {
    /// A value exactly at the limit is inside.
    Inside,
    /// A value exactly at the limit is outside.
    Outside,
}

/// Which leak a limit is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LeakPart {
    /// All that leaks.
    Total,
    /// What leaves at the valves and the head gasket.
    ValvesAndGasket,
    /// What leaves past the piston and rings.
    Rings,
}

/// One band of a graded table.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Band<Q> {
    /// The band ends here. `None`: no end.
    pub up_to: Option<Q>,
    /// Whether the end itself still belongs to it.
    pub at_end: AtLimit,
    /// What the source calls it.
    pub name: &'static str,
    /// What the source asks for.
    pub asks: &'static str,
    /// Whether the source calls a value in it acceptable.
    pub acceptable: bool,
}

/// What a limit asks of a dry cranking pressure.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "demand", rename_all = "kebab-case")]
pub enum CrankingDemand {
    /// At least this share of the highest cylinder's.
    OfHighest {
        /// The share.
        at_least: Share,
    },
    /// At least this share of the mean of all cylinders read.
    OfMean {
        /// The share.
        at_least: Share,
    },
    /// No further below the highest than this.
    BelowHighest {
        /// The largest spread.
        at_most: GaugePressure,
    },
    /// At least this.
    AtLeast {
        /// The pressure.
        pressure: GaugePressure,
    },
    /// At most this.
    AtMost {
        /// The pressure.
        pressure: GaugePressure,
    },
}

/// What a limit asks of a leak-down.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "demand", rename_all = "kebab-case")]
pub enum LeakDemand {
    /// At most this much of the supply pressure lost.
    LossAtMost {
        /// The loss.
        at_most: Share,
        /// Which leak.
        part: LeakPart,
    },
    /// Graded bands of the loss, rising.
    LossBands {
        /// The bands, the smallest loss first.
        bands: &'static [Band<Share>],
    },
    /// Pressure held behind the restrictor at a given supply, in graded bands of the pressure
    /// *lost* (supply less held), rising.
    HeldBands {
        /// The supply the table is for.
        supply: GaugePressure,
        /// The bands of the pressure lost, the smallest first.
        bands: &'static [Band<GaugePressure>],
    },
    /// How far the pressure held lies below the best cylinder's, in graded bands, rising.
    HeldSpreadBands {
        /// The supply the table is for.
        supply: GaugePressure,
        /// The bands of the distance, the smallest first.
        bands: &'static [Band<GaugePressure>],
    },
    /// Pressure held at least what the tester shows through the maker's master orifice.
    HeldAtLeastMaster {
        /// The supply the orifice is read at.
        supply: GaugePressure,
        /// What the tester showed through the orifice; `None` until it was read.
        master: Option<GaugePressure>,
    },
}

/// What a limit is about. A maker's figure sets aside the general limits about the same thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Subject {
    /// How high the cranking pressure is.
    CrankingLevel,
    /// How far the cylinders differ in cranking pressure.
    CrankingBalance,
    /// How much a cylinder leaks.
    Leak,
    /// How far the cylinders differ in leak.
    LeakBalance,
}

/// What a limit asks.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "of", rename_all = "kebab-case")]
pub enum Demand {
    /// Of the dry cranking pressure.
    Cranking(CrankingDemand),
    /// Of the leak-down.
    LeakDown(LeakDemand),
}

impl Demand {
    /// What the demand is about.
    #[must_use]
    pub const fn subject(&self) -> Subject {
        match self {
            Self::Cranking(CrankingDemand::AtLeast { .. } | CrankingDemand::AtMost { .. }) => {
                Subject::CrankingLevel
            }
            Self::Cranking(_) => Subject::CrankingBalance,
            Self::LeakDown(LeakDemand::HeldSpreadBands { .. }) => Subject::LeakBalance,
            Self::LeakDown(_) => Subject::Leak,
        }
    }
}

/// The restrictor that a limit's figures were read through. A reading through another one is another
/// reading: 60 psi held of 80 through 0.040 in is 75 through 0.060 in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "through", rename_all = "kebab-case")]
pub enum Through {
    /// The source names none.
    Any,
    /// This one.
    Orifice {
        /// Its diameter.
        diameter: Length,
    },
    /// One of two, by the cylinder's bore.
    ByBore {
        /// From this bore on the larger one.
        large_from: Length,
        /// The smaller.
        small: Length,
        /// The larger.
        large: Length,
    },
}

impl Through {
    /// The diameter for an engine of this bore; `None` when any will do or the bore decides and is
    /// not known.
    #[must_use]
    pub fn diameter(self, bore: Option<Length>) -> Option<Length> {
        match self {
            Self::Any => None,
            Self::Orifice { diameter } => Some(diameter),
            Self::ByBore { large_from, small, large } => {
                // A bore typed in millimetres must not fall short of the inch by its last digit.
                let at_least = |bore: Length| bore.metres() >= large_from.metres() * (1.0 - 1e-4);
                bore.map(|bore| if at_least(bore) { large } else { small })
            }
        }
    }
}

/// One limit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Limit {
    /// Stable name, unique among all limits.
    pub id: &'static str,
    /// What it asks.
    pub demand: Demand,
    /// Whether a value exactly at it is inside. Bands carry their own ends and ignore this.
    pub at_limit: AtLimit,
    /// The restrictor its figures were read through.
    pub through: Through,
    /// Where it comes from.
    pub source: Source,
    /// What else the source says, or where it contradicts itself; empty when nothing.
    pub note: &'static str,
}
