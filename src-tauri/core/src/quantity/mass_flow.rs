//! Mass flow. Base unit: kilogram per second.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A flow of air by mass.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct MassFlow {
    kilograms_per_second: f64,
}

/// Air at 20 °C, 100 kPa, 65 % relative humidity, kg/m3: the reference atmosphere of pneumatics (ISO
/// 8778; the figure is from memory).
const FREE_AIR: f64 = 1.185;

impl MassFlow {
    /// A mass flow in kilograms per second.
    #[must_use]
    pub const fn from_kilograms_per_second(kilograms_per_second: f64) -> Self {
        Self { kilograms_per_second }
    }

    /// In kilograms per second.
    #[must_use]
    pub const fn kilograms_per_second(self) -> f64 {
        self.kilograms_per_second
    }

    /// As free air in litres per minute, as a compressor is rated.
    #[must_use]
    pub const fn free_air_litres_per_minute(self) -> f64 {
        self.kilograms_per_second / FREE_AIR * 60_000.0
    }
}

impl fmt::Display for MassFlow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.0} l/min of free air", self.free_air_litres_per_minute())
    }
}
