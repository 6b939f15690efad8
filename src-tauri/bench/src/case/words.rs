//! Reads values that people write in more than one way: "80 psi", 80, "0.040 in", yes, true.

use borespoke_core::quantity::{
    Bounds, Length, LengthUnit, OutOfRange, PressureUnit, StatedPressure,
};
use serde_json::Value;

use super::error::CaseError;

/// One line of text from a string, a number, or the values of an object or a list.
pub fn line(value: &Value) -> String {
    match value {
        Value::String(text) => text.trim().to_owned(),
        Value::Object(fields) => {
            fields.values().map(line).filter(|s| !s.is_empty()).collect::<Vec<_>>().join(", ")
        }
        Value::Array(items) => {
            items.iter().map(line).filter(|s| !s.is_empty()).collect::<Vec<_>>().join(", ")
        }
        Value::Null => String::new(),
        other => other.to_string(),
    }
}

/// Yes or no.
pub fn yes_or_no(field: &str, value: &Value) -> Result<bool, CaseError> {
    match value {
        Value::Bool(yes) => Ok(*yes),
        Value::String(text) if ["yes", "true", "done"].contains(&text.trim()) => Ok(true),
        Value::String(text) if ["no", "false", "not done"].contains(&text.trim()) => Ok(false),
        other => Err(not_understood(field, other, "true, false, \"yes\", \"no\"")),
    }
}

/// A gauge pressure: "80 psi", or a bare number in `unit`.
pub fn pressure(
    field: &str,
    value: &Value,
    unit: PressureUnit,
) -> Result<StatedPressure, CaseError> {
    let (number, said) = number_and_unit(value)
        .ok_or_else(|| not_understood(field, value, "a number, or a text such as \"80 psi\""))?;
    let unit = match said.as_deref() {
        None => unit,
        Some(said) => pressure_unit(field, said)?,
    };
    StatedPressure::new(number, unit).map_err(|source| out_of_range(field, source))
}

/// A pressure unit by one of its common spellings.
pub fn pressure_unit(field: &str, said: &str) -> Result<PressureUnit, CaseError> {
    match said.to_lowercase().as_str() {
        "psi" | "psig" => Ok(PressureUnit::Psi),
        "kpa" => Ok(PressureUnit::Kilopascal),
        "bar" => Ok(PressureUnit::Bar),
        "kgf/cm2" | "kgf/cm²" | "kg/cm2" | "kg/cm²" => Ok(PressureUnit::KgfPerCm2),
        _ => Err(not_understood(field, &Value::from(said), "psi, kPa, bar, kgf/cm2")),
    }
}

/// A length: "1.0 mm", "0.040 in", "40 thou", "250 m", or a bare number of `metres_per_unit`.
pub fn length(field: &str, value: &Value, metres_per_unit: f64) -> Result<Length, CaseError> {
    const ALLOWED: &str = "a number, or a text such as \"1.0 mm\", \"0.040 in\", \"250 m\"";
    let (number, said) =
        number_and_unit(value).ok_or_else(|| not_understood(field, value, ALLOWED))?;
    let metres = match said.as_deref() {
        None => metres_per_unit,
        Some("mm") => LengthUnit::Millimetre.metres(),
        Some("thou") => LengthUnit::Thou.metres(),
        Some("in" | "inch" | "inches") => 0.0254,
        Some("m" | "metres" | "meters") => 1.0,
        Some("ft" | "feet") => 0.3048,
        Some(_) => return Err(not_understood(field, value, ALLOWED)),
    };
    Ok(Length::from_metres(number * metres))
}

/// A number within bounds.
pub fn number(field: &str, value: &Value, bounds: Bounds) -> Result<f64, CaseError> {
    let number = value.as_f64().ok_or_else(|| not_understood(field, value, "a number"))?;
    bounds.check(number).map_err(|source| out_of_range(field, source))
}

pub fn out_of_range(field: &str, source: OutOfRange) -> CaseError {
    CaseError::OutOfRange { field: field.to_owned(), source }
}

pub fn not_understood(field: &str, given: &Value, allowed: &'static str) -> CaseError {
    CaseError::NotUnderstood { field: field.to_owned(), given: given.to_string(), allowed }
}

fn number_and_unit(value: &Value) -> Option<(f64, Option<String>)> {
    if let Some(number) = value.as_f64() {
        return Some((number, None));
    }
    let text = value.as_str()?.trim();
    let end = text
        .char_indices()
        .find(|(_, c)| !(c.is_ascii_digit() || ['.', '-', '+'].contains(c)))
        .map_or(text.len(), |(at, _)| at);
    let number = text[..end].parse().ok()?;
    let unit = text[end..].trim();
    Some((number, (!unit.is_empty()).then(|| unit.to_owned())))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn a_pressure_keeps_the_unit_it_was_written_in() {
        let read = pressure("supply", &json!("5.5 bar"), PressureUnit::Psi).unwrap();
        assert_eq!((read.value(), read.unit()), (5.5, PressureUnit::Bar));
        let bare = pressure("supply", &json!(80), PressureUnit::Psi).unwrap();
        assert_eq!((bare.value(), bare.unit()), (80.0, PressureUnit::Psi));
    }

    #[test]
    fn a_restrictor_in_inches_is_a_length() {
        let read = length("restrictor", &json!("0.040 in"), 1e-3).unwrap();
        assert!((read.metres() - 1.016e-3).abs() < 1e-12);
    }

    #[test]
    fn a_refusal_names_the_field() {
        let refusal = pressure("supply", &json!("80 parrots"), PressureUnit::Psi).unwrap_err();
        assert!(refusal.to_string().starts_with("supply: given \"parrots\""), "{refusal}");
    }
}
