//! The flow of an ideal gas through a restrictor, after de Saint-Venant and Wantzel (1839).
//!
//! The form used here is the one in common engineering references (for example the Encyclopaedia
//! Britannica, 11th edition, "Hydraulics").

use super::air::{Air, GAMMA, GAS_CONSTANT};
use crate::quantity::{AbsolutePressure, Area, MassFlow};

/// The pressure ratio, downstream over upstream, at and below which air leaves at the speed of
/// sound: (2/(g+1))^(g/(g-1)) for g = 1.4.
pub const CRITICAL_PRESSURE_RATIO: f64 = 0.528_281_787_717_174;

/// Mass flow per area, upstream pressure and root of (gas constant x temperature): a pure number
/// that depends on the pressures alone, from 0 for no flow to 0.684 for choked flow.
///
/// `drop` is upstream less downstream. It is asked for by itself because near no flow the two
/// pressures are almost the same and their difference would lose its digits.
pub(super) fn flow_function(upstream: f64, drop: f64) -> f64 {
    if drop <= 0.0 {
        return 0.0;
    }
    // Below the critical ratio the flow is the one at the critical ratio.
    let drop_share = (drop / upstream).min(1.0 - CRITICAL_PRESSURE_RATIO);
    let log_ratio = (-drop_share).ln_1p();
    // r^(2/g) - r^((g+1)/g), written so that nothing cancels as r nears 1.
    let head = (2.0 / GAMMA * log_ratio).exp() * -((GAMMA - 1.0) / GAMMA * log_ratio).exp_m1();
    (2.0 * GAMMA / (GAMMA - 1.0) * head).sqrt()
}

/// Mass flow through an opening of this area without losses (discharge coefficient 1), from air at
/// `upstream` and the temperature of `air` to `downstream`. None flows against the pressure.
#[must_use]
pub fn mass_flow(
    opening: Area,
    upstream: AbsolutePressure,
    downstream: AbsolutePressure,
    air: Air,
) -> MassFlow {
    let (up, down) = (upstream.pascals(), downstream.pascals());
    let speed = (GAS_CONSTANT * air.temperature().kelvin()).sqrt();
    let flow = opening.square_metres() * up * flow_function(up, up - down) / speed;
    MassFlow::from_kilograms_per_second(flow)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_critical_ratio_is_that_of_its_formula() {
        let formula = (2.0 / (GAMMA + 1.0)).powf(GAMMA / (GAMMA - 1.0));
        assert!((CRITICAL_PRESSURE_RATIO / formula - 1.0).abs() < 1e-15);
    }

    #[test]
    fn choked_flow_is_that_of_its_own_formula() {
        let g: f64 = GAMMA;
        let formula = g.sqrt() * (2.0 / (g + 1.0)).powf((g + 1.0) / (2.0 * (g - 1.0)));
        assert!((flow_function(2.0, 1.5) / formula - 1.0).abs() < 1e-15);
    }

    #[test]
    fn none_flows_without_or_against_a_drop() {
        assert!(flow_function(1e5, 0.0) <= 0.0);
        assert!(flow_function(1e5, -1e4) <= 0.0);
    }
}
