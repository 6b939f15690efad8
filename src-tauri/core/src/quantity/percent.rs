//! Leak-down as a percentage.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::bounds::{Bounds, OutOfRange, Short};

/// The share of the supply pressure that the tester's restrictor drops, 0 to 100 %. It means
/// nothing without the tester it was read on.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct LeakPercent(f64);

impl LeakPercent {
    const BOUNDS: Bounds = Bounds { quantity: "leak-down", unit: "percent", min: 0.0, max: 100.0 };

    /// A leak-down reading in percent.
    ///
    /// # Errors
    /// [`OutOfRange`] outside 0 to 100 percent.
    pub fn new(percent: f64) -> Result<Self, OutOfRange> {
        Self::BOUNDS.check(percent).map(Self)
    }

    /// In percent.
    #[must_use]
    pub const fn percent(self) -> f64 {
        self.0
    }
}

impl TryFrom<f64> for LeakPercent {
    type Error = OutOfRange;
    fn try_from(percent: f64) -> Result<Self, OutOfRange> {
        Self::new(percent)
    }
}

impl From<LeakPercent> for f64 {
    fn from(leak: LeakPercent) -> f64 {
        leak.0
    }
}

impl fmt::Display for LeakPercent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} %", Short(self.0))
    }
}
