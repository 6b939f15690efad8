//! A leak-down set as far as the physics needs it.

use super::leak::FlowError;
use crate::quantity::{Area, Bounds, GaugePressure, Length, LengthUnit, PressureUnit};
use crate::tester::{Tester, TesterKind};

/// A restrictor and the regulated supply before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeakDownSet {
    restrictor: Length,
    supply: GaugePressure,
}

impl LeakDownSet {
    /// Testers have restrictors around 1 to 3 mm; a tenth and ten are slips of the unit.
    const RESTRICTOR: Bounds =
        Bounds { quantity: "restrictor diameter", unit: "mm", min: 0.1, max: 10.0 };
    /// Workshop air.
    const SUPPLY: Bounds =
        Bounds { quantity: "supply pressure", unit: "psi", min: 1.0, max: 300.0 };

    /// A set with this restrictor at this supply.
    ///
    /// # Errors
    /// [`FlowError::OutOfRange`] for a restrictor outside 0.1 to 10 mm or a supply outside 1 to
    /// 300 psi.
    pub fn new(restrictor: Length, supply: GaugePressure) -> Result<Self, FlowError> {
        Self::RESTRICTOR.check(restrictor.in_unit(LengthUnit::Millimetre))?;
        Self::SUPPLY.check(supply.in_unit(PressureUnit::Psi))?;
        Ok(Self { restrictor, supply })
    }

    /// The set a tester of the job is. `supply` is the supply read with the reading, where it was;
    /// it counts before the tester's own.
    ///
    /// # Errors
    /// [`FlowError`] naming what is not known of the tester, or out of range.
    pub fn of(tester: &Tester, supply: Option<GaugePressure>) -> Result<Self, FlowError> {
        let name = || tester.name.clone();
        let TesterKind::LeakDownSet { restrictor, supply: own } = tester.kind else {
            return Err(FlowError::NotALeakDownSet(name()));
        };
        let restrictor = restrictor.ok_or_else(|| FlowError::RestrictorUnknown(name()))?;
        let own = own.map(crate::quantity::StatedPressure::gauge);
        let supply = supply.or(own).ok_or_else(|| FlowError::SupplyUnknown(name()))?;
        Self::new(restrictor, supply)
    }

    /// The restrictor's diameter.
    #[must_use]
    pub const fn restrictor(&self) -> Length {
        self.restrictor
    }

    /// The restrictor's area.
    #[must_use]
    pub const fn area(&self) -> Area {
        Area::of_circle(self.restrictor)
    }

    /// The regulated supply.
    #[must_use]
    pub const fn supply(&self) -> GaugePressure {
        self.supply
    }

    /// The same set at another supply.
    ///
    /// # Errors
    /// [`FlowError::OutOfRange`] as for [`Self::new`].
    pub fn at_supply(self, supply: GaugePressure) -> Result<Self, FlowError> {
        Self::new(self.restrictor, supply)
    }
}
