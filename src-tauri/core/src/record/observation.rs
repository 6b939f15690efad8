//! What can be observed about an engine.

use std::fmt;
use std::num::NonZeroU8;

use serde::{Deserialize, Serialize};

use super::borescope::Borescope;
use super::digest::Digest;
use super::plug::{PlugFigures, PlugSign};
use crate::engine::Cylinder;
use crate::quantity::{LeakPercent, StatedLength, StatedPressure};

/// A value as it was stated: alone, as a range ("twenty-three, twenty-four"), or hedged ("about").
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Stated<Q> {
    /// The value, or the lower end of a range.
    pub value: Q,
    /// The upper end, when a range was given.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub up_to: Option<Q>,
    /// Whether it was called approximate.
    #[serde(default)]
    pub about: bool,
}

// serde's `default` would ask for `Q: Default`.
const fn none<Q>() -> Option<Q> {
    None
}

impl<Q> Stated<Q> {
    /// A plain value.
    pub const fn exactly(value: Q) -> Self {
        Self { value, up_to: None, about: false }
    }
}

/// Whether oil was put in before cranking.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Bore {
    /// As found.
    Dry,
    /// With a spoonful of oil in the cylinder.
    Wet,
}

/// Which compression stroke a cranking pressure was read after.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stroke {
    /// Where the needle came to rest.
    Final,
    /// After this many strokes.
    After(NonZeroU8),
}

/// A cranking pressure.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Cranking {
    /// On which cylinder.
    pub cylinder: Cylinder,
    /// What the gauge showed.
    pub pressure: Stated<StatedPressure>,
    /// Dry or wet.
    pub bore: Bore,
    /// Final, or after so many strokes.
    pub stroke: Stroke,
    /// The name of the tester it was read on, as in the job.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tester: Option<String>,
}

/// How a leak-down was read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "as", rename_all = "kebab-case")]
pub enum LeakReading {
    /// Percent lost.
    Percent {
        /// The percentage.
        leak: Stated<LeakPercent>,
    },
    /// The two pressures of a two-gauge tester.
    Pressures {
        /// Before the restrictor.
        supply: StatedPressure,
        /// Behind it, at the cylinder.
        cylinder_side: StatedPressure,
    },
}

/// Whether the valves were tapped before a leak-down was read again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Valves {
    /// As found.
    AsFound,
    /// After a tap on the valve stems or rockers.
    Tapped,
}

/// A leak-down reading at top dead centre.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LeakDown {
    /// On which cylinder.
    pub cylinder: Cylinder,
    /// What the tester showed.
    pub reading: LeakReading,
    /// As found, or after a tap on the valves.
    pub valves: Valves,
    /// The name of the tester it was read on, as in the job.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tester: Option<String>,
}

/// Where the air of a leak-down was heard, felt or seen to come out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum AirExit {
    /// Intake or throttle.
    Intake,
    /// Exhaust or tailpipe.
    Exhaust,
    /// Oil filler, breather or dipstick.
    #[serde(rename = "oil filler")]
    OilFiller,
    /// Bubbles in the coolant.
    Coolant,
    /// The plug hole of a neighbour.
    #[serde(rename = "next plug hole")]
    NextPlugHole,
    /// The tester's own fitting in the plug hole.
    Fitting,
    /// Listened, and nothing heard.
    Nowhere,
}

impl AirExit {
    /// Every exit, in the order they are listened to.
    pub const ALL: [Self; 7] = [
        Self::Intake,
        Self::Exhaust,
        Self::OilFiller,
        Self::Coolant,
        Self::NextPlugHole,
        Self::Fitting,
        Self::Nowhere,
    ];

    /// The name, as written in files and on screens.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Intake => "intake",
            Self::Exhaust => "exhaust",
            Self::OilFiller => "oil filler",
            Self::Coolant => "coolant",
            Self::NextPlugHole => "next plug hole",
            Self::Fitting => "fitting",
            Self::Nowhere => "nowhere",
        }
    }
}

impl fmt::Display for AirExit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Where air was heard while a cylinder was under pressure.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Listening {
    /// Which cylinder was under pressure.
    pub cylinder: Cylinder,
    /// Where the air came out.
    pub at: AirExit,
}

/// A plug looked at: in words, in a picture, or both.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Look {
    /// From which cylinder.
    pub cylinder: Cylinder,
    /// What was said about it.
    #[serde(default)]
    pub signs: Vec<PlugSign>,
    /// The picture, as it was taken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub picture: Option<Digest>,
    /// Colour figures of the picture.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub figures: Option<PlugFigures>,
}

/// A plug gap.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Gap {
    /// From which cylinder.
    pub cylinder: Cylinder,
    /// The gap.
    pub gap: Stated<StatedLength>,
}

/// Anything else that was said. The clip is the truth; the text is what the recogniser made of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Remark {
    /// The cylinder it was about, when that was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cylinder: Option<Cylinder>,
    /// The words.
    pub text: String,
}

/// One observation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Observation {
    /// A cranking pressure.
    Cranking(Cranking),
    /// A leak-down.
    LeakDown(LeakDown),
    /// Where air was heard.
    Listening(Listening),
    /// A plug looked at.
    Look(Look),
    /// A look into the cylinder.
    Borescope(Borescope),
    /// A plug gap.
    Gap(Gap),
    /// Anything else.
    Remark(Remark),
}

impl Observation {
    /// The cylinder it is about, where it is about one.
    #[must_use]
    pub const fn cylinder(&self) -> Option<Cylinder> {
        match self {
            Self::Cranking(c) => Some(c.cylinder),
            Self::LeakDown(l) => Some(l.cylinder),
            Self::Listening(l) => Some(l.cylinder),
            Self::Look(l) => Some(l.cylinder),
            Self::Borescope(b) => Some(b.cylinder),
            Self::Gap(g) => Some(g.cylinder),
            Self::Remark(r) => r.cylinder,
        }
    }

    /// Whether both are of the same cylinder and the same quantity, whatever its value: two dry
    /// final pressures, two leak-downs with the valves as found.
    #[must_use]
    pub fn is_like(&self, other: &Self) -> bool {
        self.cylinder() == other.cylinder()
            && match (self, other) {
                (Self::Cranking(a), Self::Cranking(b)) => a.bore == b.bore && a.stroke == b.stroke,
                (Self::LeakDown(a), Self::LeakDown(b)) => a.valves == b.valves,
                (Self::Listening(_), Self::Listening(_))
                | (Self::Look(_), Self::Look(_))
                | (Self::Borescope(_), Self::Borescope(_))
                | (Self::Gap(_), Self::Gap(_))
                | (Self::Remark(_), Self::Remark(_)) => true,
                _ => false,
            }
    }
}
