//! A probability.

use serde::{Deserialize, Serialize};

use super::bounds::{Bounds, OutOfRange};

/// How sure, from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Probability(f64);

impl Probability {
    const BOUNDS: Bounds = Bounds { quantity: "probability", unit: "", min: 0.0, max: 1.0 };
    /// Impossible.
    pub const ZERO: Self = Self(0.0);
    /// Certain.
    pub const ONE: Self = Self(1.0);

    /// A probability.
    ///
    /// # Errors
    /// [`OutOfRange`] outside 0 to 1.
    pub fn new(value: f64) -> Result<Self, OutOfRange> {
        Self::BOUNDS.check(value).map(Self)
    }

    /// The nearest probability to a number that rounding may have pushed just outside 0 to 1. Not
    /// a number becomes 0: nothing is claimed.
    #[must_use]
    pub fn clamped(value: f64) -> Self {
        if value.is_nan() { Self::ZERO } else { Self(value.clamp(0.0, 1.0)) }
    }

    /// From 0 to 1.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.0
    }
}

impl TryFrom<f64> for Probability {
    type Error = OutOfRange;
    fn try_from(value: f64) -> Result<Self, OutOfRange> {
        Self::new(value)
    }
}

impl From<Probability> for f64 {
    fn from(p: Probability) -> f64 {
        p.0
    }
}
