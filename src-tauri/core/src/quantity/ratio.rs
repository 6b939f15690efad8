//! Compression ratio.

use serde::{Deserialize, Serialize};

use super::bounds::{Bounds, OutOfRange};

/// Largest over smallest cylinder volume.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct CompressionRatio(f64);

impl CompressionRatio {
    const BOUNDS: Bounds =
        Bounds { quantity: "compression ratio", unit: "to 1", min: 2.0, max: 30.0 };

    /// A compression ratio, to one.
    ///
    /// # Errors
    /// [`OutOfRange`] outside 2 to 30.
    pub fn new(to_one: f64) -> Result<Self, OutOfRange> {
        Self::BOUNDS.check(to_one).map(Self)
    }

    /// To one: 9.5 for "nine and a half to one".
    #[must_use]
    pub const fn to_one(self) -> f64 {
        self.0
    }
}

impl TryFrom<f64> for CompressionRatio {
    type Error = OutOfRange;
    fn try_from(to_one: f64) -> Result<Self, OutOfRange> {
        Self::new(to_one)
    }
}

impl From<CompressionRatio> for f64 {
    fn from(ratio: CompressionRatio) -> f64 {
        ratio.0
    }
}
