//! The testers of a case description.

use borespoke_core::quantity::PressureUnit;
use borespoke_core::tester::{Tester, TesterKind, ZeroCheck};
use serde_json::{Map, Value};

use super::error::CaseError;
use super::words;

const MILLIMETRE: f64 = 1e-3;

/// Reads `testers`: a list of objects or names, or an object of them by name.
pub fn read(value: &Value, unit: PressureUnit) -> Result<Vec<Tester>, CaseError> {
    match value {
        Value::Null => Ok(Vec::new()),
        Value::Array(items) => items
            .iter()
            .enumerate()
            .map(|(i, item)| one(&format!("testers[{i}]"), None, item, unit))
            .collect(),
        Value::Object(by_name) => by_name
            .iter()
            .map(|(name, item)| one(&format!("testers.{name}"), Some(name), item, unit))
            .collect(),
        other => Err(words::not_understood("testers", other, "a list of testers")),
    }
}

fn one(
    field: &str,
    name: Option<&str>,
    value: &Value,
    unit: PressureUnit,
) -> Result<Tester, CaseError> {
    let nothing = Map::new();
    let fields = value.as_object().unwrap_or(&nothing);
    let text = |key: &str| fields.get(key).map(words::line);
    let name = text("name").or(name.map(str::to_owned)).unwrap_or_else(|| words::line(value));
    let said = text("measures").or_else(|| text("kind")).unwrap_or_else(|| name.clone());
    let kind = kind(field, &said, fields, unit)?;
    let zero = match fields.get("zero").or_else(|| fields.get("zero_check")) {
        None | Some(Value::Null | Value::Bool(false)) => ZeroCheck::NotDone,
        Some(Value::Bool(true)) => ZeroCheck::Good,
        Some(value) => match words::line(value).to_lowercase().as_str() {
            "good" | "ok" | "done" | "checked" | "0" => ZeroCheck::Good,
            "not done" | "not-done" | "no" => ZeroCheck::NotDone,
            note => ZeroCheck::Off { note: note.to_owned() },
        },
    };
    Ok(Tester { name, kind, zero })
}

fn kind(
    field: &str,
    said: &str,
    fields: &Map<String, Value>,
    unit: PressureUnit,
) -> Result<TesterKind, CaseError> {
    let pressure = |key: &str, in_psi: &str| {
        let bare = if fields.contains_key(key) { unit } else { PressureUnit::Psi };
        fields
            .get(key)
            .or_else(|| fields.get(in_psi))
            .map(|value| words::pressure(&format!("{field}.{key}"), value, bare))
            .transpose()
    };
    let leak_down = said.to_lowercase().contains("leak")
        || ["restrictor", "restrictor_mm", "supply", "supply_psi"]
            .iter()
            .any(|key| fields.contains_key(*key));
    if leak_down {
        let restrictor = fields
            .get("restrictor")
            .or_else(|| fields.get("restrictor_mm"))
            .map(|value| words::length(&format!("{field}.restrictor"), value, MILLIMETRE))
            .transpose()?;
        Ok(TesterKind::LeakDownSet { restrictor, supply: pressure("supply", "supply_psi")? })
    } else {
        Ok(TesterKind::CrankingGauge { resolution: pressure("resolution", "resolution_psi")? })
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn a_leak_down_set_is_told_by_what_it_has() {
        let testers = read(
            &json!([
                {"name": "gauge A", "zero": true},
                {"name": "set B", "restrictor": "0.040 in", "supply": "80 psi", "zero": "reads 2"}
            ]),
            PressureUnit::Psi,
        )
        .unwrap();
        assert!(matches!(testers[0].kind, TesterKind::CrankingGauge { .. }));
        assert_eq!(testers[0].zero, ZeroCheck::Good);
        assert!(matches!(testers[1].kind, TesterKind::LeakDownSet { restrictor: Some(_), .. }));
        assert_eq!(testers[1].zero, ZeroCheck::Off { note: "reads 2".to_owned() });
    }
}
