//! The engine on the stand: how many cylinders, in what order they fire, where they sit.

mod cylinder;
mod firing_order;
mod layout;

use serde::{Deserialize, Serialize};
use thiserror::Error;

pub use cylinder::{Cylinder, NoSuchCylinder};
pub use firing_order::{FiringOrder, FiringOrderError};
pub use layout::{Layout, LayoutError};

use crate::quantity::{CompressionRatio, CrankAngle, Length};

/// What the engine burns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fuel {
    /// Petrol (gasoline), spark ignited.
    Petrol,
    /// Diesel: no plugs to read, far higher cranking pressure.
    Diesel,
    /// Liquefied petroleum gas, spark ignited.
    Lpg,
}

/// Dimensions and timing. All of it is optional: a mechanic at the roadside knows the cylinders
/// and the firing order; the rest sharpens the judgement when it is known.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Dimensions {
    /// Cylinder bore.
    pub bore: Option<Length>,
    /// Piston stroke.
    pub stroke: Option<Length>,
    /// Connecting rod, centre to centre.
    pub rod_length: Option<Length>,
    /// Static compression ratio.
    pub compression_ratio: Option<CompressionRatio>,
    /// When the intake valve closes, after bottom dead centre.
    pub intake_closes: Option<CrankAngle>,
}

/// An engine. Made by [`Engine::new`], which checks that the parts agree on the cylinders.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "RawEngine")]
pub struct Engine {
    firing_order: FiringOrder,
    layout: Option<Layout>,
    /// What it burns, where known.
    pub fuel: Option<Fuel>,
    /// Dimensions and timing, where known.
    pub dimensions: Dimensions,
}

#[derive(Deserialize)]
struct RawEngine {
    firing_order: FiringOrder,
    #[serde(default)]
    layout: Option<Layout>,
    #[serde(default)]
    fuel: Option<Fuel>,
    #[serde(default)]
    dimensions: Dimensions,
}

impl TryFrom<RawEngine> for Engine {
    type Error = EngineError;
    fn try_from(raw: RawEngine) -> Result<Self, EngineError> {
        let engine = Self::new(raw.firing_order, raw.layout)?;
        Ok(Self { fuel: raw.fuel, dimensions: raw.dimensions, ..engine })
    }
}

/// Why an engine could not be described.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum EngineError {
    /// The layout places other cylinders than the firing order fires.
    #[error("engine layout: places {placed} cylinders, the firing order has {fired}")]
    LayoutMismatch {
        /// How many the layout places.
        placed: usize,
        /// How many the firing order has.
        fired: usize,
    },
}

impl Engine {
    /// An engine with this firing order and, where known, this layout.
    ///
    /// # Errors
    /// [`EngineError::LayoutMismatch`] when the layout does not place exactly the cylinders that
    /// the order fires.
    pub fn new(firing_order: FiringOrder, layout: Option<Layout>) -> Result<Self, EngineError> {
        if let Some(layout) = &layout {
            let (placed, fired) = (layout.cylinder_count(), firing_order.cylinder_count());
            if placed != fired {
                return Err(EngineError::LayoutMismatch { placed, fired });
            }
        }
        Ok(Self { firing_order, layout, fuel: None, dimensions: Dimensions::default() })
    }

    /// The order the cylinders fire in.
    #[must_use]
    pub const fn firing_order(&self) -> &FiringOrder {
        &self.firing_order
    }

    /// Where the cylinders sit, when it was given.
    #[must_use]
    pub const fn layout(&self) -> Option<&Layout> {
        self.layout.as_ref()
    }

    /// How many cylinders.
    #[must_use]
    pub fn cylinder_count(&self) -> usize {
        self.firing_order.cylinder_count()
    }

    /// Every cylinder by number, from 1.
    #[must_use]
    pub fn cylinders(&self) -> impl DoubleEndedIterator<Item = Cylinder> + use<> {
        Cylinder::first(self.cylinder_count())
    }

    /// The cylinder with this number.
    ///
    /// # Errors
    /// [`NoSuchCylinder`] when the engine has no such cylinder.
    pub fn cylinder(&self, number: u32) -> Result<Cylinder, NoSuchCylinder> {
        Cylinder::of(number, self.cylinder_count())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_layout_for_another_engine_is_refused() {
        let four = FiringOrder::new([1, 3, 4, 2]).unwrap();
        let six = Layout::in_line(6);
        assert!(Engine::new(four, Some(six)).is_err());
    }

    #[test]
    fn cylinder_seven_of_six_is_refused_by_name() {
        let six = Engine::new(FiringOrder::new([1, 5, 3, 6, 2, 4]).unwrap(), None).unwrap();
        let refusal = six.cylinder(7).unwrap_err().to_string();
        assert_eq!(refusal, "cylinder: given 7, this engine has 1 to 6");
    }
}
