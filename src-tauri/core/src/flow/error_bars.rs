//! How far a reading may be off, and what that makes of the leak.

use serde::{Deserialize, Serialize};

use super::air::Air;
use super::leak::{EffectiveLeak, FlowError};
use super::set::LeakDownSet;
use crate::quantity::{Area, GaugePressure, LeakPercent, PressureUnit, Share};

/// How far a pressure gauge may be off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct GaugeError {
    /// The distance between two marks that can be told apart; a reading may be off by half of it.
    pub resolution: GaugePressure,
    /// What the gauge may show when it should show nothing.
    pub zero: GaugePressure,
}

impl GaugeError {
    /// Where nothing is known of the gauge: marks 1 psi apart, zero good (assumed, no source).
    pub const ASSUMED: Self = Self {
        resolution: GaugePressure::new(1.0, PressureUnit::Psi),
        zero: GaugePressure::from_pascals(0.0),
    };

    /// The furthest the reading may be from the truth, in pascals.
    pub(crate) const fn half_width(self) -> f64 {
        self.resolution.pascals().abs() / 2.0 + self.zero.pascals().abs()
    }
}

/// How far a dial in percent may be off, in percent of the supply.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PercentError {
    /// The distance between two marks that can be told apart; a reading may be off by half of it.
    pub resolution: Share,
    /// What the dial may show when it should show nothing.
    pub zero: Share,
}

impl PercentError {
    /// Where nothing is known of the dial: marks 1 % apart, zero good (assumed, no source).
    pub const ASSUMED: Self =
        Self { resolution: Share::whole_percent(1), zero: Share::whole_percent(0) };

    /// The furthest the reading may be from the truth, in percent.
    pub(crate) const fn half_width(self) -> f64 {
        self.resolution.percent() / 2.0 + self.zero.percent()
    }
}

/// A leak with its error bars: the true one lies between `least` and `most` if the errors stated
/// are the only ones.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LeakBars {
    /// The leak of the reading as it stands; `None` when nothing was held.
    pub as_read: Option<EffectiveLeak>,
    /// The smallest area it may be.
    pub least: Area,
    /// The largest area it may be; `None` when the reading sets no upper end.
    pub most: Option<Area>,
}

impl LeakDownSet {
    /// The leak behind a percentage that was read between `low` and `high`, on a dial this far off.
    ///
    /// # Errors
    /// [`FlowError::NothingHeld`] when all is lost even within the errors.
    pub fn bars_at_loss(
        &self,
        low: LeakPercent,
        high: LeakPercent,
        error: PercentError,
        air: Air,
    ) -> Result<LeakBars, FlowError> {
        let (low, high) = (low.percent().min(high.percent()), low.percent().max(high.percent()));
        let at = |percent: f64| {
            let loss = LeakPercent::new(percent.clamp(0.0, 100.0))?;
            measured(self.leak_at_loss(loss, air))
        };
        let off = error.half_width();
        bars(at(f64::midpoint(low, high))?, at(low - off)?, at(high + off)?)
    }

    /// The leak behind a supply and a pressure held, each on a gauge this far off. This set's own
    /// supply counts as the one read.
    ///
    /// # Errors
    /// [`FlowError::HeldAboveSupply`] when more is held than supplied, even within the errors;
    /// [`FlowError::NothingHeld`] when nothing is held, even within the errors;
    /// [`FlowError::OutOfRange`] when the error takes the supply out of range.
    pub fn bars_at_held(
        &self,
        held: GaugePressure,
        supply_error: GaugeError,
        held_error: GaugeError,
        air: Air,
    ) -> Result<LeakBars, FlowError> {
        let shifted = |supply_by: f64, held_by: f64| {
            let supply = GaugePressure::from_pascals(self.supply().pascals() + supply_by);
            let held = GaugePressure::from_pascals((held.pascals() + held_by).max(0.0));
            (self.at_supply(supply), held)
        };
        let leak = |supply_by: f64, held_by: f64| {
            let (set, held) = shifted(supply_by, held_by);
            measured(set?.leak_at_held(held, air))
        };
        let (off_supply, off_held) = (supply_error.half_width(), held_error.half_width());
        // The leak grows with the supply and shrinks with the pressure held.
        let most = leak(off_supply, -off_held)?;
        let (tight_set, tight_held) = shifted(-off_supply, off_held);
        let tight_set = tight_set?;
        let tight_held =
            if tight_held > tight_set.supply() { tight_set.supply() } else { tight_held };
        let least = measured(tight_set.leak_at_held(tight_held, air))?;
        // A cylinder gauge that reads a hair above the supply is a tight cylinder, within the errors.
        let middle_held = if held > self.supply() { self.supply() } else { held };
        bars(measured(self.leak_at_held(middle_held, air))?, least, most)
    }
}

/// `None` where the leak is larger than can be measured.
fn measured(leak: Result<EffectiveLeak, FlowError>) -> Result<Option<EffectiveLeak>, FlowError> {
    match leak {
        Ok(leak) => Ok(Some(leak)),
        Err(FlowError::NothingHeld) => Ok(None),
        Err(other) => Err(other),
    }
}

fn bars(
    as_read: Option<EffectiveLeak>,
    least: Option<EffectiveLeak>,
    most: Option<EffectiveLeak>,
) -> Result<LeakBars, FlowError> {
    let least = least.ok_or(FlowError::NothingHeld)?.area;
    Ok(LeakBars { as_read, least, most: most.map(|leak| leak.area) })
}
