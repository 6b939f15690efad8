//! The conditions of a case description.

use borespoke_core::job::{Conditions, Warmth};
use borespoke_core::quantity::{AbsolutePressure, Bounds, GaugePressure, Length, PressureUnit};
use serde_json::Value;

use super::error::CaseError;
use super::words;

/// Reads `conditions`. What has no field of its own is kept in words.
pub fn read(value: &Value) -> Result<Conditions, CaseError> {
    let mut conditions = Conditions::default();
    let Value::Object(fields) = value else {
        conditions.notes = Some(words::line(value)).filter(|s| !s.is_empty()).into_iter().collect();
        return Ok(conditions);
    };
    for (key, value) in fields {
        let field = format!("conditions.{key}");
        match key.as_str() {
            "engine" | "warmth" | "temperature" if warmth(value).is_some() => {
                conditions.warmth = warmth(value);
            }
            "throttle" | "throttle_open" => {
                conditions.throttle_open = match value.as_str() {
                    Some("open" | "wide open") => Some(true),
                    Some("closed") => Some(false),
                    _ => Some(words::yes_or_no(&field, value)?),
                };
            }
            "all_plugs_out" => conditions.all_plugs_out = Some(words::yes_or_no(&field, value)?),
            "made_safe" => conditions.made_safe = Some(words::yes_or_no(&field, value)?),
            "battery_charged" => {
                conditions.battery_charged = Some(words::yes_or_no(&field, value)?);
            }
            "altitude" | "altitude_m" => conditions.altitude = Some(altitude(&field, value, 1.0)?),
            "altitude_ft" => conditions.altitude = Some(altitude(&field, value, 0.3048)?),
            "barometer" | "barometer_hpa" | "barometer_kpa" => {
                conditions.barometer = Some(barometer(&field, key, value)?);
            }
            "notes" if value.is_array() => {
                conditions.notes.extend(value.as_array().into_iter().flatten().map(words::line));
            }
            "notes" => conditions.notes.push(words::line(value)),
            other => {
                conditions.notes.push(format!(
                    "{}: {}",
                    other.replace('_', " "),
                    words::line(value)
                ));
            }
        }
    }
    Ok(conditions)
}

fn warmth(value: &Value) -> Option<Warmth> {
    match value.as_str()? {
        "cold" => Some(Warmth::Cold),
        "warm" => Some(Warmth::Warm),
        "hot" => Some(Warmth::Hot),
        _ => None,
    }
}

fn altitude(field: &str, value: &Value, metres_per_unit: f64) -> Result<Length, CaseError> {
    // The span of the troposphere in the standard atmosphere, less what no road reaches.
    const ALTITUDE: Bounds = Bounds { quantity: "altitude", unit: "m", min: -500.0, max: 6000.0 };
    let altitude = words::length(field, value, metres_per_unit)?;
    ALTITUDE
        .check(altitude.metres())
        .map(Length::from_metres)
        .map_err(|source| words::out_of_range(field, source))
}

fn barometer(field: &str, key: &str, value: &Value) -> Result<AbsolutePressure, CaseError> {
    const BAROMETER: Bounds =
        Bounds { quantity: "barometer", unit: "hPa", min: 400.0, max: 1100.0 };
    let text = value.as_str().unwrap_or_default().to_lowercase();
    let number = text.trim_end_matches("hpa").trim();
    let hectopascals = match (value.as_f64(), number.parse::<f64>()) {
        (Some(number), _) if key.ends_with("kpa") => number * 10.0,
        (Some(number), _) | (None, Ok(number)) => number,
        // "29.9 inHg" has no type here; "100 kPa" and "1 bar" are pressures like any other.
        _ => {
            let stated = words::pressure(field, value, PressureUnit::Kilopascal)?;
            GaugePressure::pascals(stated.gauge()) / 100.0
        }
    };
    BAROMETER
        .check(hectopascals)
        .map(|hectopascals| AbsolutePressure::from_pascals(hectopascals * 100.0))
        .map_err(|source| words::out_of_range(field, source))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn what_has_no_field_is_kept_in_words() {
        let read = read(&json!({"engine": "hot", "wind_in_the_yard": "strong"})).unwrap();
        assert_eq!(read.warmth, Some(Warmth::Hot));
        assert_eq!(read.notes, ["wind in the yard: strong"]);
    }

    #[test]
    fn a_barometer_reads_in_hectopascals_and_kilopascals() {
        for (given, pascals) in [
            (json!({"barometer": 1013}), 101_300.0),
            (json!({"barometer_kpa": 98.5}), 98_500.0),
            (json!({"barometer": "1000 hPa"}), 100_000.0),
            (json!({"barometer": "99 kPa"}), 99_000.0),
        ] {
            let read = read(&given).unwrap().barometer.unwrap().pascals();
            assert!((read - pascals).abs() < 1e-6, "{given}: {read}");
        }
        assert!(super::read(&json!({"barometer": 30})).is_err());
    }
}
