//! Temperature. Base unit: kelvin.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::bounds::{Bounds, OutOfRange, Short};

/// The temperature of the air around.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Temperature {
    kelvin: f64,
}

impl Temperature {
    /// Colder and hotter air than anybody works in is a slip of the unit.
    const BOUNDS: Bounds =
        Bounds { quantity: "air temperature", unit: "°C", min: -60.0, max: 80.0 };

    const ZERO_CELSIUS: f64 = 273.15;

    /// 20 °C, the reference of pneumatics and of the checks here.
    pub const TWENTY_CELSIUS: Self = Self { kelvin: Self::ZERO_CELSIUS + 20.0 };

    /// A temperature in degrees Celsius.
    ///
    /// # Errors
    /// [`OutOfRange`] outside -60 to 80 °C.
    pub fn from_celsius(celsius: f64) -> Result<Self, OutOfRange> {
        let celsius = Self::BOUNDS.check(celsius)?;
        Ok(Self { kelvin: celsius + Self::ZERO_CELSIUS })
    }

    /// In kelvin.
    #[must_use]
    pub const fn kelvin(self) -> f64 {
        self.kelvin
    }

    /// In degrees Celsius.
    #[must_use]
    pub const fn celsius(self) -> f64 {
        self.kelvin - Self::ZERO_CELSIUS
    }
}

impl TryFrom<f64> for Temperature {
    type Error = OutOfRange;
    /// From kelvin, as written in files.
    fn try_from(kelvin: f64) -> Result<Self, OutOfRange> {
        Self::from_celsius(kelvin - Self::ZERO_CELSIUS)
    }
}

impl From<Temperature> for f64 {
    fn from(temperature: Temperature) -> f64 {
        temperature.kelvin
    }
}

impl fmt::Display for Temperature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} °C", Short(self.celsius()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kelvin_given_as_celsius_is_refused() {
        let refusal = Temperature::from_celsius(293.15).unwrap_err().to_string();
        assert_eq!(refusal, "air temperature: given 293.15 °C, allowed -60 to 80 °C");
        assert!((Temperature::from_celsius(20.0).unwrap().kelvin() - 293.15).abs() < 1e-12);
    }
}
