//! The compression ratio that is left when the intake valve closes late.

use serde::Serialize;

use super::band::ExpectationError;
use crate::quantity::{Bounds, CompressionRatio, CrankAngle, Length};

/// The closing angle after bottom dead centre. At top dead centre nothing is left to compress.
const CLOSES: Bounds = Bounds {
    quantity: "intake closing after bottom dead centre",
    unit: "degrees",
    min: 0.0,
    max: 120.0,
};

/// What the piston still sweeps after the intake has closed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DynamicRatio {
    /// The share of the stroke still to go, 0 to 1.
    pub stroke_left: f64,
    /// Volume at the closing of the intake over volume at top dead centre.
    pub ratio: f64,
}

/// The dynamic ratio of a slider crank: the piston's travel from the closing of the intake to top
/// dead centre, with the rod's obliquity.
///
/// # Errors
/// [`ExpectationError::RodTooShort`] when the rod is not longer than half the stroke;
/// [`ExpectationError::OutOfRange`] for an intake that closes outside 0 to 120 degrees after bottom
/// dead centre.
pub fn dynamic_ratio(
    compression_ratio: CompressionRatio,
    stroke: Length,
    rod: Length,
    intake_closes: CrankAngle,
) -> Result<DynamicRatio, ExpectationError> {
    let closes = CrankAngle::from_degrees(CLOSES.check(intake_closes.degrees())?);
    let (throw, rod) = (stroke.metres() / 2.0, rod.metres());
    if !(throw > 0.0 && rod > throw) {
        return Err(ExpectationError::RodTooShort {
            rod: rod * 1e3,
            least: (throw * 1e3).max(0.0),
        });
    }
    // Crank angle from top dead centre; the cosine turns its sign in the half turn.
    let (sin, cos) = (closes.radians().sin(), -closes.radians().cos());
    let to_top = throw + rod - (throw * cos + (rod * rod - (throw * sin).powi(2)).sqrt());
    let stroke_left = to_top / (2.0 * throw);
    Ok(DynamicRatio { stroke_left, ratio: 1.0 + (compression_ratio.to_one() - 1.0) * stroke_left })
}
