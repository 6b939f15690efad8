//! Length. Base unit: metre. Used for plug gaps, bore, stroke, rod and restrictor diameters.
//!
//! The inch is 0.0254 m exactly (NIST SP 811, appendix B.8); a "thou" is a thousandth of it.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::bounds::{Bounds, OutOfRange, Short};

/// A unit a small length is said in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum LengthUnit {
    /// Thousandth of an inch.
    #[serde(rename = "thou")]
    Thou,
    /// Millimetre.
    #[serde(rename = "mm")]
    Millimetre,
}

impl LengthUnit {
    /// One of this unit in metres.
    #[must_use]
    pub const fn metres(self) -> f64 {
        match self {
            Self::Thou => 2.54e-5,
            Self::Millimetre => 1e-3,
        }
    }

    /// The symbol, as printed after a number and as written in files.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Thou => "thou",
            Self::Millimetre => "mm",
        }
    }
}

/// A length to compute with.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Length {
    metres: f64,
}

impl Length {
    /// `value` of `unit`.
    #[must_use]
    pub const fn new(value: f64, unit: LengthUnit) -> Self {
        Self { metres: value * unit.metres() }
    }

    /// A length in metres.
    #[must_use]
    pub const fn from_metres(metres: f64) -> Self {
        Self { metres }
    }

    /// In metres.
    #[must_use]
    pub const fn metres(self) -> f64 {
        self.metres
    }

    /// In `unit`.
    #[must_use]
    pub const fn in_unit(self, unit: LengthUnit) -> f64 {
        self.metres / unit.metres()
    }
}

/// A small length as it was said: the number and the unit. Used for plug gaps.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "RawStatedLength")]
pub struct StatedLength {
    value: f64,
    unit: LengthUnit,
}

#[derive(Deserialize)]
struct RawStatedLength {
    value: f64,
    unit: LengthUnit,
}

impl TryFrom<RawStatedLength> for StatedLength {
    type Error = OutOfRange;
    fn try_from(raw: RawStatedLength) -> Result<Self, OutOfRange> {
        Self::new(raw.value, raw.unit)
    }
}

impl StatedLength {
    /// A gap wider than this is not a plug gap (common practice, no source).
    const MOST: Length = Length::new(5.0, LengthUnit::Millimetre);

    /// A plug gap as said.
    ///
    /// # Errors
    /// [`OutOfRange`] below 0 or above 5 mm or its equal.
    pub fn new(value: f64, unit: LengthUnit) -> Result<Self, OutOfRange> {
        let max = Self::MOST.in_unit(unit);
        let bounds = Bounds { quantity: "plug gap", unit: unit.symbol(), min: 0.0, max };
        Ok(Self { value: bounds.check(value)?, unit })
    }

    /// The number, in [`Self::unit`].
    #[must_use]
    pub const fn value(self) -> f64 {
        self.value
    }

    /// The unit it was said in.
    #[must_use]
    pub const fn unit(self) -> LengthUnit {
        self.unit
    }

    /// The quantity itself.
    #[must_use]
    pub const fn length(self) -> Length {
        Length::new(self.value, self.unit)
    }
}

impl fmt::Display for StatedLength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", Short(self.value), self.unit.symbol())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forty_thou_is_1_016_mm() {
        let forty = Length::new(40.0, LengthUnit::Thou);
        assert!((forty.in_unit(LengthUnit::Millimetre) - 1.016).abs() < 1e-12);
    }

    #[test]
    fn a_gap_of_a_foot_is_refused() {
        assert!(StatedLength::new(12_000.0, LengthUnit::Thou).is_err());
    }
}
