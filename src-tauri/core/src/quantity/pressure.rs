//! Pressure. Base unit: pascal.
//!
//! Gauge and absolute pressure are separate types: a gauge on a plug hole reads the difference to
//! the air around it, and only the absolute pressure goes into a flow or a gas law. Factors: NIST
//! SP 811 (2008), appendix B; psi from the exact pound, standard gravity and inch.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::bounds::{Bounds, OutOfRange, Short};

/// A unit a pressure gauge is marked in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub enum PressureUnit {
    /// Pound-force per square inch.
    #[serde(rename = "psi")]
    Psi,
    /// Kilopascal.
    #[serde(rename = "kPa")]
    Kilopascal,
    /// Bar.
    #[serde(rename = "bar")]
    Bar,
    /// Kilogram-force per square centimetre (technical atmosphere).
    #[serde(rename = "kgf/cm2")]
    KgfPerCm2,
}

impl PressureUnit {
    /// Every unit, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Psi, Self::Kilopascal, Self::Bar, Self::KgfPerCm2];

    /// One of this unit in pascals. Bar, kPa and kgf/cm2 are exact by definition; psi is
    /// 0.453 592 37 kg x 9.806 65 m/s2 / (0.0254 m)2.
    #[must_use]
    pub const fn pascals(self) -> f64 {
        match self {
            Self::Psi => 0.453_592_37 * 9.806_65 / (0.0254 * 0.0254),
            Self::Kilopascal => 1e3,
            Self::Bar => 1e5,
            Self::KgfPerCm2 => 98_066.5,
        }
    }

    /// The symbol, as printed after a number and as written in files.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Psi => "psi",
            Self::Kilopascal => "kPa",
            Self::Bar => "bar",
            Self::KgfPerCm2 => "kgf/cm2",
        }
    }

    /// How many digits behind the point a gauge in this unit can honestly be read to.
    #[must_use]
    pub const fn decimals(self) -> usize {
        match self {
            Self::Psi | Self::Kilopascal => 0,
            Self::Bar | Self::KgfPerCm2 => 1,
        }
    }
}

impl fmt::Display for PressureUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

/// Pressure above the surrounding air.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct GaugePressure {
    pascals: f64,
}

impl GaugePressure {
    /// A gauge pressure in pascals.
    #[must_use]
    pub const fn from_pascals(pascals: f64) -> Self {
        Self { pascals }
    }

    /// `value` on a gauge marked in `unit`.
    #[must_use]
    pub const fn new(value: f64, unit: PressureUnit) -> Self {
        Self { pascals: value * unit.pascals() }
    }

    /// In pascals.
    #[must_use]
    pub const fn pascals(self) -> f64 {
        self.pascals
    }

    /// What a gauge marked in `unit` shows.
    #[must_use]
    pub const fn in_unit(self, unit: PressureUnit) -> f64 {
        self.pascals / unit.pascals()
    }

    /// The absolute pressure, when the air around has `ambient`.
    #[must_use]
    pub const fn above(self, ambient: AbsolutePressure) -> AbsolutePressure {
        AbsolutePressure { pascals: self.pascals + ambient.pascals }
    }
}

/// Pressure above vacuum.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct AbsolutePressure {
    pascals: f64,
}

impl AbsolutePressure {
    /// The standard atmosphere, 101 325 Pa exactly (ISO 2533, ICAO Doc 7488).
    pub const STANDARD_ATMOSPHERE: Self = Self { pascals: 101_325.0 };

    /// An absolute pressure in pascals.
    #[must_use]
    pub const fn from_pascals(pascals: f64) -> Self {
        Self { pascals }
    }

    /// In pascals.
    #[must_use]
    pub const fn pascals(self) -> f64 {
        self.pascals
    }

    /// What a gauge shows when the air around has `ambient`.
    #[must_use]
    pub const fn gauge(self, ambient: Self) -> GaugePressure {
        GaugePressure { pascals: self.pascals - ambient.pascals }
    }
}

/// A pressure as it was said or typed: the number and the unit, within what a hand gauge can show.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "RawStatedPressure")]
pub struct StatedPressure {
    value: f64,
    unit: PressureUnit,
}

#[derive(Deserialize)]
struct RawStatedPressure {
    value: f64,
    unit: PressureUnit,
}

impl TryFrom<RawStatedPressure> for StatedPressure {
    type Error = OutOfRange;
    fn try_from(raw: RawStatedPressure) -> Result<Self, OutOfRange> {
        Self::new(raw.value, raw.unit)
    }
}

impl StatedPressure {
    /// No hand gauge for this work reads higher: diesels crank to about 500 psi, and 1,000 psi is
    /// the largest dial in trade use (common practice, no source).
    const MOST: GaugePressure = GaugePressure::new(1000.0, PressureUnit::Psi);

    /// A gauge reading.
    ///
    /// # Errors
    /// [`OutOfRange`] below 0 or above 1,000 psi or its equal.
    pub fn new(value: f64, unit: PressureUnit) -> Result<Self, OutOfRange> {
        let most = Self::MOST.in_unit(unit);
        let bounds = Bounds { quantity: "pressure", unit: unit.symbol(), min: 0.0, max: most };
        // An equal pressure typed in another unit must not fail by the last bit.
        let value = if (value - most).abs() < 1e-9 * most { most } else { value };
        Ok(Self { value: bounds.check(value)?, unit })
    }

    /// The number, in [`Self::unit`].
    #[must_use]
    pub const fn value(self) -> f64 {
        self.value
    }

    /// The unit it was said in.
    #[must_use]
    pub const fn unit(self) -> PressureUnit {
        self.unit
    }

    /// The quantity itself.
    #[must_use]
    pub const fn gauge(self) -> GaugePressure {
        GaugePressure::new(self.value, self.unit)
    }
}

impl fmt::Display for StatedPressure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", Short(self.value), self.unit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Outside check. Source: pint 0.25.3 and the exact rationals of the SI definitions: 1 psi is
    /// 6 894.757 293 168 361 Pa, 1 kgf/cm2 is 14.223 343 307 119 562 psi, 1 bar is
    /// 14.503 773 773 020 922 psi. NIST SP 811 prints 6.894 757 E+03 for psi.
    #[test]
    fn factors_agree_with_the_si_definitions() {
        let close = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-14, "{a} {b}");
        close(PressureUnit::Psi.pascals(), 6_894.757_293_168_361);
        let one = |unit| GaugePressure::new(1.0, unit).in_unit(PressureUnit::Psi);
        close(one(PressureUnit::KgfPerCm2), 14.223_343_307_119_562);
        close(one(PressureUnit::Bar), 14.503_773_773_020_922);
    }

    #[test]
    fn a_negative_reading_is_refused_by_name() {
        let refusal = StatedPressure::new(-5.0, PressureUnit::Psi).unwrap_err().to_string();
        assert_eq!(refusal, "pressure: given -5 psi, allowed 0 to 1000 psi");
    }

    #[test]
    fn the_limit_is_the_same_in_every_unit() {
        for unit in PressureUnit::ALL {
            let most = StatedPressure::MOST.in_unit(unit);
            assert!(StatedPressure::new(most, unit).is_ok(), "{unit}");
            assert!(StatedPressure::new(most * 1.001, unit).is_err(), "{unit}");
        }
    }

    #[test]
    fn a_stored_value_outside_the_bounds_does_not_come_back() {
        assert!(serde_json::from_str::<StatedPressure>(r#"{"value":-1,"unit":"psi"}"#).is_err());
    }
}
