//! What the rules are made of.

use super::mark::Mark;
use crate::language::number::Decimal;

/// A number in the rules: of what, which says what the recogniser is held to. In the rules:
/// `#name`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Figure {
    /// A cylinder of the engine.
    Cylinder,
    /// How many strokes.
    Stroke,
    /// A pressure in the unit in hand.
    Pressure,
    /// A pressure in psi.
    Psi,
    /// A pressure in kPa.
    Kilopascal,
    /// A pressure in bar.
    Bar,
    /// A pressure in kgf/cm2.
    Kgf,
    /// One of the two pressures of a two-gauge tester.
    Gauge,
    /// A leak-down.
    Percent,
    /// A plug gap in thou.
    Thou,
    /// A plug gap in millimetres.
    Millimetre,
    /// Any number; for the parser only.
    Bare,
    /// A cylinder and a reading printed as one number ("2145"); for the parser only.
    Glued,
}

impl Figure {
    pub(super) fn named(name: &str) -> Option<Self> {
        Some(match name {
            "cylinder" => Self::Cylinder,
            "stroke" => Self::Stroke,
            "pressure" => Self::Pressure,
            "psi" => Self::Psi,
            "kpa" => Self::Kilopascal,
            "bar" => Self::Bar,
            "kgf" => Self::Kgf,
            "gauge" => Self::Gauge,
            "percent" => Self::Percent,
            "thou" => Self::Thou,
            "mm" => Self::Millimetre,
            "bare" => Self::Bare,
            "glued" => Self::Glued,
            _ => return None,
        })
    }
}

/// A state of the job in which the recogniser is held to something. In the rules: `@name`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum When {
    /// Pressures in psi may come up, with their unit.
    Psi,
    /// Pressures in kPa may come up.
    Kilopascal,
    /// Pressures in bar may come up.
    Bar,
    /// Pressures in kgf/cm2 may come up.
    Kgf,
    /// A bare number is a pressure.
    BarePressure,
    /// A percentage comes with its unit.
    UnitPercent,
    /// A bare number is a percentage.
    BarePercent,
    /// A two-gauge leak-down tester may be read.
    TwoGauge,
    /// Plugs may be described.
    Plugs,
    /// Plug gaps may be given.
    Gap,
    /// Air may be listened for.
    Air,
}

impl When {
    pub(super) fn named(name: &str) -> Option<Self> {
        Some(match name {
            "psi" => Self::Psi,
            "kpa" => Self::Kilopascal,
            "bar" => Self::Bar,
            "kgf" => Self::Kgf,
            "unit-percent" => Self::UnitPercent,
            "bare-pressure" => Self::BarePressure,
            "bare-percent" => Self::BarePercent,
            "two-gauge" => Self::TwoGauge,
            "plugs" => Self::Plugs,
            "gap" => Self::Gap,
            "air" => Self::Air,
            _ => return None,
        })
    }
}

/// One piece of a rule.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Node {
    /// Words: as printed, and as the parser sees them.
    Words {
        printed: String,
        tokens: Vec<String>,
        /// No space before it.
        joined: bool,
    },
    Figure(Figure),
    Mark(Mark),
    /// Punctuation may be printed here.
    Pause,
    /// Punctuation is printed here.
    HardPause,
    /// Likelier after a pause than without one.
    AfterPause,
    /// This way is less likely meant.
    Cost(f64),
    Sequence(Vec<Node>),
    Either(Vec<Node>),
    Optional(Box<Node>),
    Repeated {
        node: Box<Node>,
        at_least_once: bool,
    },
    Rule(usize),
    /// Understood, but the recogniser is not held to it.
    HeardOnly(Box<Node>),
    /// The recogniser is held to it only then.
    Only(When, Box<Node>),
}

impl Node {
    /// Whether it may be left out.
    pub(super) const fn may_be_empty(&self) -> bool {
        matches!(self, Self::Optional(_) | Self::Repeated { at_least_once: false, .. })
    }
}

/// What a way through the rules leaves behind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) enum Event {
    /// A mark.
    Mark(Mark),
    /// A cylinder was named.
    Cylinder(u32),
    /// A number of strokes.
    Stroke(u32),
    /// Any other number.
    Number(Decimal),
}
