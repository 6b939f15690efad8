//! `case.json`: who, what and how.

use std::fs;
use std::path::Path;

use borespoke_core::engine::Engine;
use borespoke_core::job::{Conditions, Job};
use borespoke_core::quantity::PressureUnit;
use borespoke_core::rules::MakersFigures;
use borespoke_core::tester::Tester;
use jiff::Timestamp;
use serde::Deserialize;
use serde_json::{Map, Value};

use super::error::CaseError;
use super::{conditions, engine, makers_figures, testers, words};

/// A case description. Only the engine is needed; what else is there is taken in however it was
/// written, and what has no field of its own is kept in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Description {
    /// For whom.
    pub customer: String,
    /// Which vehicle or machine.
    pub vehicle: String,
    /// What the customer wants to know.
    pub question: String,
    /// The engine.
    pub engine: Engine,
    /// The testers.
    pub testers: Vec<Tester>,
    /// The conditions.
    pub conditions: Conditions,
    /// The rule set picked, if one was.
    pub rule_set: Option<String>,
    /// The maker's own figures.
    pub makers_figures: MakersFigures,
    /// The unit the cranking gauge is marked in.
    pub unit: PressureUnit,
    /// When the work was begun, if that was written down.
    pub begun: Option<Timestamp>,
    /// Whether this is an invented example.
    pub invented: bool,
}

#[derive(Deserialize)]
struct Raw {
    #[serde(default)]
    customer: Value,
    #[serde(default)]
    vehicle: Value,
    #[serde(default)]
    question: Value,
    engine: Map<String, Value>,
    #[serde(default)]
    testers: Value,
    #[serde(default)]
    conditions: Value,
    #[serde(default)]
    rule_set: Option<String>,
    #[serde(default)]
    makers_figures: Value,
    #[serde(default)]
    unit: Option<String>,
    #[serde(default)]
    begun: Option<Timestamp>,
    #[serde(default)]
    invented: bool,
}

impl Description {
    /// Reads the file.
    ///
    /// # Errors
    /// [`CaseError`] when it is missing, not JSON, or says something that cannot be.
    pub fn read(path: &Path) -> Result<Self, CaseError> {
        let text = fs::read_to_string(path).map_err(|source| {
            let path = path.to_path_buf();
            match source.kind() {
                std::io::ErrorKind::NotFound => CaseError::Missing { path },
                _ => CaseError::Unreadable { path, source },
            }
        })?;
        let raw: Raw = serde_json::from_str(&text)
            .map_err(|source| CaseError::NotADescription { path: path.to_path_buf(), source })?;
        Self::from_raw(&raw)
    }

    fn from_raw(raw: &Raw) -> Result<Self, CaseError> {
        let unit = match &raw.unit {
            Some(said) => words::pressure_unit("unit", said)?,
            None => gauge_unit(&raw.testers)?.unwrap_or(PressureUnit::Psi),
        };
        Ok(Self {
            customer: words::line(&raw.customer),
            vehicle: words::line(&raw.vehicle),
            question: words::line(&raw.question),
            engine: engine::read(&raw.engine)?,
            testers: testers::read(&raw.testers, unit)?,
            conditions: conditions::read(&raw.conditions)?,
            rule_set: raw.rule_set.clone(),
            makers_figures: makers_figures::read(&raw.makers_figures, unit)?,
            unit,
            begun: raw.begun,
            invented: raw.invented,
        })
    }

    /// The job this describes, begun at `now` unless the description says when.
    #[must_use]
    pub fn to_job(&self, now: Timestamp, default_rule_set: &str) -> Job {
        Job {
            begun: self.begun.unwrap_or(now),
            customer: self.customer.clone(),
            vehicle: self.vehicle.clone(),
            question: self.question.clone(),
            engine: self.engine.clone(),
            testers: self.testers.clone(),
            conditions: self.conditions.clone(),
            rule_set: self.rule_set.clone().unwrap_or_else(|| default_rule_set.to_owned()),
            makers_figures: self.makers_figures.clone(),
            invented: self.invented,
        }
    }
}

/// The unit a tester says its gauge is marked in.
fn gauge_unit(testers: &Value) -> Result<Option<PressureUnit>, CaseError> {
    let items: Vec<&Value> = match testers {
        Value::Array(items) => items.iter().collect(),
        Value::Object(by_name) => by_name.values().collect(),
        _ => Vec::new(),
    };
    items
        .iter()
        .filter_map(|item| item.get("unit").and_then(Value::as_str))
        .filter(|said| !said.contains("percent") && !said.contains('%'))
        .map(|said| words::pressure_unit("testers.unit", said))
        .next()
        .transpose()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Description, CaseError> {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("case.json");
        fs::write(&path, text).unwrap();
        Description::read(&path)
    }

    #[test]
    fn the_engine_alone_is_enough() {
        let read = read(r#"{"engine": {"firing_order": "1-3-4-2"}}"#).unwrap();
        assert_eq!(read.engine.cylinder_count(), 4);
        assert_eq!(read.unit, PressureUnit::Psi);
    }

    #[test]
    fn a_customer_may_be_a_name_or_a_record() {
        for customer in [r#""A. Buyer""#, r#"{"name": "A. Buyer"}"#] {
            let text =
                format!(r#"{{"customer": {customer}, "engine": {{"firing_order": [1, 2, 3]}}}}"#);
            assert_eq!(read(&text).unwrap().customer, "A. Buyer");
        }
    }

    #[test]
    fn a_firing_order_with_a_repeat_is_refused_by_name() {
        let refusal = read(r#"{"engine": {"cylinders": 4, "firing_order": [1, 3, 3, 2]}}"#);
        let message = refusal.unwrap_err().to_string();
        assert!(message.contains("cylinder 3 is there twice"), "{message}");
    }

    #[test]
    fn cylinders_and_firing_order_must_agree() {
        let refusal = read(r#"{"engine": {"cylinders": 6, "firing_order": [1, 3, 4, 2]}}"#);
        let message = refusal.unwrap_err().to_string();
        assert!(message.contains('6') && message.contains('4'), "{message}");
    }

    #[test]
    fn a_missing_description_is_said_to_be_missing() {
        let refusal = Description::read(Path::new("no-such-folder/case.json")).unwrap_err();
        assert!(matches!(refusal, CaseError::Missing { .. }));
    }

    #[test]
    fn the_gauge_says_the_unit() {
        let read = read(
            r#"{"engine": {"firing_order": [1, 2]}, "testers": [{"name": "g", "unit": "bar"}]}"#,
        );
        assert_eq!(read.unwrap().unit, PressureUnit::Bar);
    }
}
