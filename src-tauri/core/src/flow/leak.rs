//! From a leak-down reading to the leak, and back.

use serde::Serialize;
use thiserror::Error;

use super::air::Air;
use super::nozzle::{CRITICAL_PRESSURE_RATIO, flow_function, mass_flow};
use super::set::LeakDownSet;
use crate::quantity::{
    Area, GaugePressure, LeakPercent, Length, MassFlow, OutOfRange, PressureUnit,
};

/// Why a reading says nothing about the leak.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FlowError {
    /// A number outside what its quantity allows.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// More behind the restrictor than before it.
    #[error(
        "leak-down: {held:.1} psi held of {supply:.1} psi supply; allowed is no more than the supply"
    )]
    HeldAboveSupply {
        /// The pressure held, psi.
        held: f64,
        /// The supply, psi.
        supply: f64,
    },
    /// Nothing held: the leak passes all the restrictor lets through, however large it is.
    #[error(
        "leak-down: no pressure held; the leak is larger than this tester can measure, only that is \
         known"
    )]
    NothingHeld,
    /// An area that is none.
    #[error("leak area: given {0} m2, allowed is 0 or more")]
    NotAnArea(f64),
    /// The restrictor's diameter is not known.
    #[error("tester {0}: its restrictor is not known, so its percent is not a size")]
    RestrictorUnknown(String),
    /// The supply is not known.
    #[error("tester {0}: its supply pressure is not known")]
    SupplyUnknown(String),
    /// A gauge, not a leak-down set.
    #[error("tester {0}: is a cranking gauge, not a leak-down set")]
    NotALeakDownSet(String),
}

/// A leak, as large as the reading makes it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct EffectiveLeak {
    /// Leak area over restrictor area, both with the same discharge coefficient.
    pub ratio: f64,
    /// The area of the leak, as if it had the restrictor's discharge coefficient.
    pub area: Area,
    /// The diameter of a round hole of that area.
    pub diameter: Length,
    /// The air through it without losses; the true flow is less by the discharge coefficient.
    pub flow: MassFlow,
    /// Whether air leaves the leak at the speed of sound.
    pub leak_choked: bool,
    /// Whether air passes the restrictor at the speed of sound: more leak changes the flow no more.
    pub restrictor_choked: bool,
}

/// What a set shows.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct HeldPressure {
    /// The pressure behind the restrictor.
    pub held: GaugePressure,
    /// The share of the supply lost.
    pub loss: LeakPercent,
}

/// The share of the supply lost, `x`, kept together with `1 - x` so that neither loses its digits
/// near its end.
#[derive(Clone, Copy)]
struct Loss {
    lost: f64,
    held: f64,
}

impl Loss {
    /// From the logarithm of lost over held.
    fn from_log_odds(t: f64) -> Self {
        Self { lost: 1.0 / (1.0 + (-t).exp()), held: 1.0 / (1.0 + t.exp()) }
    }
}

impl LeakDownSet {
    /// The leak behind a percentage.
    ///
    /// # Errors
    /// [`FlowError::NothingHeld`] at 100 percent.
    pub fn leak_at_loss(&self, loss: LeakPercent, air: Air) -> Result<EffectiveLeak, FlowError> {
        let lost = loss.percent() / 100.0;
        self.leak(Loss { lost, held: 1.0 - lost }, air)
    }

    /// The leak behind a pressure held at this set's supply.
    ///
    /// # Errors
    /// [`FlowError::NothingHeld`] when none is held, [`FlowError::HeldAboveSupply`] when more is
    /// held than supplied.
    pub fn leak_at_held(&self, held: GaugePressure, air: Air) -> Result<EffectiveLeak, FlowError> {
        let supply = self.supply().pascals();
        let lost = (supply - held.pascals()) / supply;
        if lost < 0.0 || lost.is_nan() {
            return Err(FlowError::HeldAboveSupply {
                held: held.in_unit(PressureUnit::Psi),
                supply: self.supply().in_unit(PressureUnit::Psi),
            });
        }
        self.leak(Loss { lost, held: held.pascals() / supply }, air)
    }

    fn leak(&self, loss: Loss, air: Air) -> Result<EffectiveLeak, FlowError> {
        if loss.held <= 0.0 {
            return Err(FlowError::NothingHeld);
        }
        let supply = self.supply().above(air.ambient());
        let held = GaugePressure::from_pascals(loss.held * self.supply().pascals());
        let between = held.above(air.ambient());
        let ratio = self.area_ratio(loss, air);
        let area = Area::from_square_metres(ratio * self.area().square_metres());
        let choked = |up: f64, down: f64| down / up <= CRITICAL_PRESSURE_RATIO;
        Ok(EffectiveLeak {
            ratio,
            area,
            diameter: area.circle_diameter(),
            flow: mass_flow(self.area(), supply, between, air),
            leak_choked: choked(between.pascals(), air.ambient().pascals()),
            restrictor_choked: choked(supply.pascals(), between.pascals()),
        })
    }

    /// Leak area over restrictor area: the flow per area through the restrictor over that through
    /// the leak. The temperature cancels.
    fn area_ratio(&self, loss: Loss, air: Air) -> f64 {
        let gauge = self.supply().pascals();
        let ambient = air.ambient().pascals();
        let (supply, between) = (ambient + gauge, ambient + loss.held * gauge);
        supply * flow_function(supply, loss.lost * gauge)
            / (between * flow_function(between, loss.held * gauge))
    }

    /// What this set shows of a leak of this area.
    ///
    /// # Errors
    /// [`FlowError::NotAnArea`] for a negative area or one that is not a number.
    pub fn reading(&self, leak: Area, air: Air) -> Result<HeldPressure, FlowError> {
        let ratio = leak.square_metres() / self.area().square_metres();
        if !(ratio.is_finite() && ratio >= 0.0) {
            return Err(FlowError::NotAnArea(leak.square_metres()));
        }
        let loss =
            if ratio > 0.0 { self.loss_at(ratio, air) } else { Loss { lost: 0.0, held: 1.0 } };
        Ok(HeldPressure {
            held: GaugePressure::from_pascals(loss.held * self.supply().pascals()),
            loss: LeakPercent::new((loss.lost * 100.0).min(100.0))?,
        })
    }

    /// What this set would show of the leak that `other` shows as `loss`.
    ///
    /// # Errors
    /// [`FlowError`] as for [`Self::leak_at_loss`].
    pub fn equivalent_of(
        &self,
        other: &Self,
        loss: LeakPercent,
        air: Air,
    ) -> Result<HeldPressure, FlowError> {
        self.reading(other.leak_at_loss(loss, air)?.area, air)
    }

    /// The loss at which the area ratio is `ratio`. The ratio rises with the loss, so halving finds
    /// it; in the logarithm of lost over held, so that very tight and very leaky are met with the
    /// same relative precision.
    fn loss_at(&self, ratio: f64, air: Air) -> Loss {
        // e^40 is 2e17: beyond both ends a loss is 0 or 1 to the last digit.
        let (mut tight, mut leaky) = (-40.0_f64, 40.0_f64);
        for _ in 0..64 {
            let middle = f64::midpoint(tight, leaky);
            if self.area_ratio(Loss::from_log_odds(middle), air) < ratio {
                tight = middle;
            } else {
                leaky = middle;
            }
        }
        Loss::from_log_odds(f64::midpoint(tight, leaky))
    }
}
