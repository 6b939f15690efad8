//! The engine of a case description.

use borespoke_core::engine::{Dimensions, Engine, FiringOrder, Fuel, Layout};
use borespoke_core::quantity::{Bounds, CompressionRatio, CrankAngle, Length};
use serde_json::{Map, Value};

use super::error::CaseError;
use super::words;

const MILLIMETRE: f64 = 1e-3;

/// Reads `engine`. Needed is `firing_order`; `cylinders` must agree with it when it is given.
pub fn read(fields: &Map<String, Value>) -> Result<Engine, CaseError> {
    let firing_order = firing_order(fields)?;
    if let Some(said) = fields.get("cylinders") {
        let bounds = Bounds { quantity: "cylinders", unit: "", min: 1.0, max: 18.0 };
        let said = words::number("engine.cylinders", said, bounds)?;
        let fired = firing_order.cylinder_count();
        // Bounded just above, so the cast is exact for whole numbers and a fraction differs.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 18")]
        let whole = said as usize;
        if whole != fired || said.fract() != 0.0 {
            return Err(CaseError::CylinderCount { said: whole, fired });
        }
    }
    let layout = fields.get("layout").map(|value| layout(value, &firing_order)).transpose()?;
    let mut engine = Engine::new(firing_order, layout)?;
    engine.fuel = fields.get("fuel").map(fuel).transpose()?;
    engine.dimensions = dimensions(fields)?;
    Ok(engine)
}

fn firing_order(fields: &Map<String, Value>) -> Result<FiringOrder, CaseError> {
    const ALLOWED: &str = "a list such as [1, 5, 3, 6, 2, 4] or a text such as \"1-5-3-6-2-4\"";
    match fields.get("firing_order") {
        Some(Value::String(text)) => Ok(text.parse()?),
        Some(value @ Value::Array(numbers)) => {
            let numbers: Option<Vec<u32>> =
                numbers.iter().map(|n| n.as_u64().and_then(|n| u32::try_from(n).ok())).collect();
            let numbers = numbers
                .ok_or_else(|| words::not_understood("engine.firing_order", value, ALLOWED))?;
            Ok(FiringOrder::new(numbers)?)
        }
        Some(other) => Err(words::not_understood("engine.firing_order", other, ALLOWED)),
        None => Err(CaseError::NoFiringOrder),
    }
}

fn layout(value: &Value, order: &FiringOrder) -> Result<Layout, CaseError> {
    const ALLOWED: &str = "\"in-line\", or a list of banks such as [[1, 3, 5], [2, 4, 6]]";
    let in_line = ["in-line", "inline", "straight"];
    match value {
        Value::String(text) if in_line.contains(&text.as_str()) => {
            Ok(Layout::in_line(order.cylinder_count()))
        }
        Value::Array(_) => {
            let banks: Vec<Vec<u32>> = serde_json::from_value(value.clone())
                .map_err(|_| words::not_understood("engine.layout", value, ALLOWED))?;
            Ok(Layout::new(banks)?)
        }
        other => Err(words::not_understood("engine.layout", other, ALLOWED)),
    }
}

fn fuel(value: &Value) -> Result<Fuel, CaseError> {
    match value.as_str() {
        Some("petrol" | "gasoline") => Ok(Fuel::Petrol),
        Some("diesel") => Ok(Fuel::Diesel),
        Some("lpg" | "LPG") => Ok(Fuel::Lpg),
        _ => Err(words::not_understood("engine.fuel", value, "petrol, gasoline, diesel, lpg")),
    }
}

fn dimensions(fields: &Map<String, Value>) -> Result<Dimensions, CaseError> {
    let length = |plain: &str, in_millimetres: &str| -> Result<Option<Length>, CaseError> {
        fields
            .get(plain)
            .or_else(|| fields.get(in_millimetres))
            .map(|value| words::length(&format!("engine.{plain}"), value, MILLIMETRE))
            .transpose()
    };
    let compression_ratio = fields
        .get("compression_ratio")
        .map(|value| {
            let field = "engine.compression_ratio";
            let to_one = value
                .as_f64()
                .ok_or_else(|| words::not_understood(field, value, "a number such as 9.5"))?;
            CompressionRatio::new(to_one).map_err(|source| words::out_of_range(field, source))
        })
        .transpose()?;
    let intake_closes = fields
        .get("intake_closes_deg_abdc")
        .map(|value| {
            let bounds = Bounds { quantity: "intake closing", unit: "°", min: 0.0, max: 120.0 };
            words::number("engine.intake_closes_deg_abdc", value, bounds)
                .map(CrankAngle::from_degrees)
        })
        .transpose()?;
    Ok(Dimensions {
        bore: length("bore", "bore_mm")?,
        stroke: length("stroke", "stroke_mm")?,
        rod_length: length("rod_length", "rod_length_mm")?,
        compression_ratio,
        intake_closes,
    })
}
