//! The standard atmosphere of ISO 2533 (the same as ICAO Doc 7488) up to 11 km.
//!
//! Heights are geopotential, as in the pressure-altitude tables of aviation. A map's height differs
//! from it by less than 0.05 % below 3 km.

use serde::Serialize;

use crate::flow::GAS_CONSTANT;
use crate::quantity::{AbsolutePressure, Bounds, GaugePressure, Length, OutOfRange, Temperature};

const HEIGHT: Bounds =
    Bounds { quantity: "height above sea level", unit: "m", min: -500.0, max: 11_000.0 };

/// Temperature at sea level, K (ISO 2533).
const SEA_LEVEL_KELVIN: f64 = 288.15;
/// Kelvin per metre of height (ISO 2533).
const LAPSE: f64 = -0.0065;
/// Standard acceleration of free fall, m/s2 (ISO 2533).
const GRAVITY: f64 = 9.806_65;

/// What to say beside a figure carried from one height to another.
pub const ALTITUDE_NOTE: &str = "For a given engine the gauge pressure goes with the pressure of \
    the air around. Printed correction tables found follow its density instead: at 5,000 ft they \
    say 0.862 where the pressure ratio is 0.832. Where the maker prints a table, use the maker's.";

/// Standard air at a height.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct StandardAir {
    /// Its pressure.
    pub pressure: AbsolutePressure,
    /// Its temperature.
    pub temperature: Temperature,
    /// Its pressure over that at sea level ("delta").
    pub pressure_ratio: f64,
    /// Its density over that at sea level ("sigma"), which printed tables follow.
    pub density_ratio: f64,
    /// Its density, kg/m3.
    pub density: f64,
}

/// Standard air at a height above sea level.
///
/// # Errors
/// [`OutOfRange`] outside -500 to 11,000 m.
pub fn standard_air(height: Length) -> Result<StandardAir, OutOfRange> {
    let height = HEIGHT.check(height.metres())?;
    let kelvin = SEA_LEVEL_KELVIN + LAPSE * height;
    let warmth = kelvin / SEA_LEVEL_KELVIN;
    let pressure_ratio = warmth.powf(-GRAVITY / (GAS_CONSTANT * LAPSE));
    let sea_level = AbsolutePressure::STANDARD_ATMOSPHERE.pascals();
    let pressure = sea_level * pressure_ratio;
    Ok(StandardAir {
        pressure: AbsolutePressure::from_pascals(pressure),
        temperature: Temperature::try_from(kelvin)?,
        pressure_ratio,
        density_ratio: pressure_ratio / warmth,
        density: pressure / (GAS_CONSTANT * kelvin),
    })
}

/// The standard pressure at a height above sea level.
///
/// # Errors
/// [`OutOfRange`] outside -500 to 11,000 m.
pub fn pressure_at_altitude(height: Length) -> Result<AbsolutePressure, OutOfRange> {
    standard_air(height).map(|air| air.pressure)
}

/// What a cranking gauge would show of the same engine in air of another pressure: in proportion to
/// it ([`ALTITUDE_NOTE`]). `from` must not be zero.
#[must_use]
pub const fn at_other_ambient(
    reading: GaugePressure,
    from: AbsolutePressure,
    to: AbsolutePressure,
) -> GaugePressure {
    GaugePressure::from_pascals(reading.pascals() * (to.pascals() / from.pascals()))
}
