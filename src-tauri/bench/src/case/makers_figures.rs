//! The maker's own figures in a case description.

use borespoke_core::quantity::{Bounds, LeakPercent, PressureUnit, Share};
use borespoke_core::rules::MakersFigures;
use serde_json::Value;

use super::error::CaseError;
use super::words;

/// Reads `makers_figures`. A field that is not known is refused: a limit with a slip in its name
/// must not be passed over in silence.
pub fn read(value: &Value, unit: PressureUnit) -> Result<MakersFigures, CaseError> {
    let fields = match value {
        Value::Null => return Ok(MakersFigures::default()),
        Value::Object(fields) => fields,
        other => return Err(words::not_understood("makers_figures", other, ALLOWED)),
    };
    let mut figures = MakersFigures::default();
    for (key, value) in fields {
        let field = format!("makers_figures.{key}");
        let pressure = || words::pressure(&field, value, unit).map(Some);
        match key.as_str() {
            "from" => figures.from = words::line(value),
            "lowest" => figures.lowest = pressure()?,
            "highest" => figures.highest = pressure()?,
            "spread" => figures.spread = pressure()?,
            "master_orifice" => figures.master_orifice = pressure()?,
            "lowest_of_highest" => {
                let share = Share::from_percent(percent(&field, value)?)
                    .map_err(|source| words::out_of_range(&field, source))?;
                figures.lowest_of_highest = Some(share);
            }
            "leak" => {
                let leak = LeakPercent::new(percent(&field, value)?)
                    .map_err(|source| words::out_of_range(&field, source))?;
                figures.leak = Some(leak);
            }
            _ => return Err(words::not_understood(&field, value, ALLOWED)),
        }
    }
    Ok(figures)
}

const ALLOWED: &str = "from, lowest, highest, spread, master_orifice (pressures), \
                       lowest_of_highest, leak (percent)";

/// A percentage: "75 %", "75 percent", 75.
fn percent(field: &str, value: &Value) -> Result<f64, CaseError> {
    const PERCENT: Bounds =
        Bounds { quantity: "percentage", unit: "percent", min: 0.0, max: 100.0 };
    let bare = value.as_str().map(|text| text.trim_end_matches("percent").trim_end_matches('%'));
    match bare.map(|text| text.trim().parse::<f64>()) {
        Some(Ok(number)) => words::number(field, &Value::from(number), PERCENT),
        Some(Err(_)) => Err(words::not_understood(field, value, "a percentage such as \"75 %\"")),
        None => words::number(field, value, PERCENT),
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    fn read(value: Value) -> Result<MakersFigures, CaseError> {
        super::read(&value, PressureUnit::Psi)
    }

    #[test]
    fn figures_keep_the_unit_they_are_printed_in() {
        let figures = read(json!({
            "from": "the manual of this engine", "lowest": "9.5 bar", "spread": 20,
            "lowest_of_highest": "75 %", "leak": 15
        }));
        let figures = figures.unwrap();
        let lowest = figures.lowest.unwrap();
        assert_eq!((lowest.value(), lowest.unit()), (9.5, PressureUnit::Bar));
        let spread = figures.spread.unwrap();
        assert_eq!((spread.value(), spread.unit()), (20.0, PressureUnit::Psi));
        assert_eq!(figures.lowest_of_highest, Share::from_percent(75.0).ok());
        assert_eq!(figures.leak.map(LeakPercent::percent), Some(15.0));
    }

    #[test]
    fn a_limit_with_a_slip_in_its_name_is_refused() {
        let refusal = read(json!({"lowset": 120})).unwrap_err().to_string();
        assert!(
            refusal.contains("makers_figures.lowset") && refusal.contains("lowest"),
            "{refusal}"
        );
        assert!(read(json!({"leak": 120})).is_err());
        assert!(read(json!(120)).is_err());
    }
}
