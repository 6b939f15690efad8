//! The air around, and what air is.

use serde::{Deserialize, Serialize};

use crate::quantity::{AbsolutePressure, Bounds, OutOfRange, Temperature};

/// Ratio of specific heats of air (ISO 2533, table 1). Real air at 20 °C and one atmosphere has
/// 1.402 (`CoolProp` 8.0.0).
pub(crate) const GAMMA: f64 = 1.4;

/// Specific gas constant of dry air, J/(kg K) (ISO 2533, table 1).
pub(crate) const GAS_CONSTANT: f64 = 287.052_87;

/// The air around the engine and in the supply line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Air {
    ambient: AbsolutePressure,
    temperature: Temperature,
}

impl Air {
    /// Lower than on the highest pass and higher than in any weather is a slip of the unit.
    const AMBIENT: Bounds =
        Bounds { quantity: "pressure of the air around", unit: "kPa", min: 40.0, max: 120.0 };

    /// One standard atmosphere at 20 °C, used where nothing was said.
    pub const STANDARD: Self = Self {
        ambient: AbsolutePressure::STANDARD_ATMOSPHERE,
        temperature: Temperature::TWENTY_CELSIUS,
    };

    /// Air at this pressure and temperature.
    ///
    /// # Errors
    /// [`OutOfRange`] when the pressure is outside 40 to 120 kPa.
    pub fn new(ambient: AbsolutePressure, temperature: Temperature) -> Result<Self, OutOfRange> {
        Self::AMBIENT.check(ambient.pascals() / 1e3)?;
        Ok(Self { ambient, temperature })
    }

    /// The pressure of the air around.
    #[must_use]
    pub const fn ambient(self) -> AbsolutePressure {
        self.ambient
    }

    /// Its temperature.
    #[must_use]
    pub const fn temperature(self) -> Temperature {
        self.temperature
    }
}

impl Default for Air {
    fn default() -> Self {
        Self::STANDARD
    }
}
