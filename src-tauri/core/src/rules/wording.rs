//! Numbers in words, in the unit the mechanic read.

use crate::quantity::{GaugePressure, PressureUnit};

/// A pressure with one digit more than a gauge in this unit is read to, and no idle zeros.
pub(super) fn pressure(value: GaugePressure, unit: PressureUnit) -> String {
    format!("{} {unit}", trimmed(value.in_unit(unit), unit.decimals() + 1))
}

/// A fraction as percent, to a tenth.
pub(super) fn percent(fraction: f64) -> String {
    format!("{} %", trimmed(fraction * 100.0, 1))
}

fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        text.as_str()
    };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_idle_zeros_and_no_lost_half() {
        let psi = |v| pressure(GaugePressure::new(v, PressureUnit::Psi), PressureUnit::Psi);
        assert_eq!(psi(112.5), "112.5 psi");
        assert_eq!(psi(110.0), "110 psi");
        assert_eq!(psi(-0.01), "0 psi");
        assert_eq!(
            pressure(GaugePressure::new(8.96, PressureUnit::Bar), PressureUnit::Bar),
            "8.96 bar"
        );
        assert_eq!(percent(0.1), "10 %");
        assert_eq!(percent(0.1249), "12.5 %");
    }
}
