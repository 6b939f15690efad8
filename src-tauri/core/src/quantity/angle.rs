//! Crank angle.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::bounds::Short;

/// An angle of crankshaft rotation, in degrees.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct CrankAngle {
    degrees: f64,
}

impl CrankAngle {
    /// An angle in degrees of crankshaft rotation.
    #[must_use]
    pub const fn from_degrees(degrees: f64) -> Self {
        Self { degrees }
    }

    /// In degrees.
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.degrees
    }

    /// In radians.
    #[must_use]
    pub fn radians(self) -> f64 {
        self.degrees.to_radians()
    }
}

impl fmt::Display for CrankAngle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}°", Short(self.degrees))
    }
}
