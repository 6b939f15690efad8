//! Numbers as they are printed, always with what they are.

use borespoke_core::quantity::{
    GaugePressure, LeakPercent, Length, LengthUnit, PressureUnit, Probability, StatedLength,
    StatedPressure,
};
use borespoke_core::record::{LeakReading, Stated};

/// The unit as printed; files write the square without a raised figure.
pub const fn unit_sign(unit: PressureUnit) -> &'static str {
    match unit {
        PressureUnit::KgfPerCm2 => "kgf/cm²",
        other => other.symbol(),
    }
}

/// What a gauge marked in `unit` shows: psi and kPa whole, bar and kgf/cm² to one place.
pub fn gauge_number(pressure: GaugePressure, unit: PressureUnit) -> String {
    fixed(pressure.in_unit(unit), unit.decimals())
}

/// A pressure with the unit it was said in.
pub fn pressure(stated: StatedPressure) -> String {
    format!("{} {}", gauge_number(stated.gauge(), stated.unit()), unit_sign(stated.unit()))
}

/// A stated pressure as a number on a scale marked in `unit`: "about 90", "120–125".
pub fn stated_gauge_number(stated: &Stated<StatedPressure>, unit: PressureUnit) -> String {
    in_words(stated, |p| gauge_number(p.gauge(), unit))
}

/// A stated pressure with the unit it was said in.
pub fn stated_pressure(stated: &Stated<StatedPressure>) -> String {
    let unit = stated.value.unit();
    format!("{} {}", stated_gauge_number(stated, unit), unit_sign(unit))
}

/// A leak-down number: whole where it was said whole, else to one place.
pub fn percent_number(percent: f64) -> String {
    let tenths = (percent * 10.0).round() / 10.0;
    fixed(tenths, usize::from(tenths.fract() != 0.0))
}

/// Percent lost, of either way of reading, for charts and comparison. `None` when the supply is
/// nothing.
pub fn leak_percent(reading: &LeakReading) -> Option<f64> {
    match reading {
        LeakReading::Percent { leak } => Some(middle(leak, LeakPercent::percent)),
        LeakReading::Pressures { supply, cylinder_side } => {
            let (supply, held) = (supply.gauge().pascals(), cylinder_side.gauge().pascals());
            (supply > 0.0).then(|| (100.0 * (supply - held) / supply).clamp(0.0, 100.0))
        }
    }
}

/// A leak-down in words: "about 12 %", "25 % (60 of 80 psi)".
pub fn leak(reading: &LeakReading) -> String {
    match reading {
        LeakReading::Percent { leak } => {
            format!("{} %", in_words(leak, |p| percent_number(p.percent())))
        }
        LeakReading::Pressures { supply, cylinder_side } => {
            let unit = supply.unit();
            let pair = format!(
                "{} of {} {}",
                gauge_number(cylinder_side.gauge(), unit),
                gauge_number(supply.gauge(), unit),
                unit_sign(unit)
            );
            match leak_percent(reading) {
                Some(percent) => format!("{} % ({pair})", fixed(percent, 0)),
                None => pair,
            }
        }
    }
}

/// A plug gap with its unit.
pub fn gap(stated: &Stated<StatedLength>) -> String {
    let unit = stated.value.unit();
    let number = in_words(stated, |length| match unit {
        LengthUnit::Thou => percent_number(length.value()),
        LengthUnit::Millimetre => fixed(length.value(), 2),
    });
    format!("{number} {}", unit.symbol())
}

/// A small length in millimetres, to two places.
pub fn millimetres(length: Length) -> String {
    format!("{} mm", fixed(length.in_unit(LengthUnit::Millimetre), 2))
}

/// A probability in percent; never 0 or 100, which would claim more than a model can.
pub fn probability(p: Probability) -> String {
    match p.value() * 100.0 {
        low if low < 1.0 => "under 1 %".to_owned(),
        high if high >= 99.0 => "over 99 %".to_owned(),
        percent => format!("{percent:.0} %"),
    }
}

/// A duration in minutes, as a mechanic plans it.
pub fn minutes(minutes: f64) -> String {
    let whole = minutes.round().max(1.0);
    if whole > 1.0 { format!("about {whole} minutes") } else { "about a minute".to_owned() }
}

/// The value, or the middle of a range.
pub fn middle<Q: Copy>(stated: &Stated<Q>, number: impl Fn(Q) -> f64) -> f64 {
    let low = number(stated.value);
    stated.up_to.map_or(low, |up_to| f64::midpoint(low, number(up_to)))
}

/// The ends of a range; twice the value where there is none.
pub fn ends<Q: Copy>(stated: &Stated<Q>, number: impl Fn(Q) -> f64) -> (f64, f64) {
    let one = number(stated.value);
    let other = stated.up_to.map_or(one, &number);
    (one.min(other), one.max(other))
}

fn in_words<Q: Copy>(stated: &Stated<Q>, number: impl Fn(Q) -> String) -> String {
    let about = if stated.about { "about " } else { "" };
    match stated.up_to {
        Some(up_to) => format!("{about}{}–{}", number(stated.value), number(up_to)),
        None => format!("{about}{}", number(stated.value)),
    }
}

/// With so many digits behind the point, and no minus before a zero.
pub fn fixed(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| matches!(c, '0' | '.')) => rest.to_owned(),
        _ => text,
    }
}

/// "1", "1 and 2", "1, 2 and 3".
pub fn listed<T: ToString>(items: &[T]) -> String {
    match items {
        [] => String::new(),
        [only] => only.to_string(),
        [first @ .., last] => {
            let first: Vec<String> = first.iter().map(ToString::to_string).collect();
            format!("{} and {}", first.join(", "), last.to_string())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn psi(value: f64) -> StatedPressure {
        StatedPressure::new(value, PressureUnit::Psi).unwrap()
    }

    #[test]
    fn psi_is_whole_and_bar_has_one_place() {
        assert_eq!(pressure(psi(112.6)), "113 psi");
        assert_eq!(pressure(StatedPressure::new(7.84, PressureUnit::Bar).unwrap()), "7.8 bar");
        assert_eq!(gauge_number(psi(145.0).gauge(), PressureUnit::Bar), "10.0");
    }

    #[test]
    fn a_range_and_a_hedge_are_said() {
        let range = Stated { value: psi(120.0), up_to: Some(psi(125.0)), about: true };
        assert_eq!(stated_pressure(&range), "about 120–125 psi");
        assert!((middle(&range, StatedPressure::value) - 122.5).abs() < 1e-12);
    }

    /// Outside check. Source: FAA AC 43.13-1B, paragraph 8-14: 60 of 80 psi is a loss of 25 %.
    #[test]
    fn sixty_of_eighty_is_a_quarter_lost() {
        let reading = LeakReading::Pressures { supply: psi(80.0), cylinder_side: psi(60.0) };
        assert_eq!(leak(&reading), "25 % (60 of 80 psi)");
    }

    #[test]
    fn no_supply_is_no_percentage() {
        let reading = LeakReading::Pressures { supply: psi(0.0), cylinder_side: psi(0.0) };
        assert_eq!(leak_percent(&reading), None);
    }

    #[test]
    fn a_probability_never_claims_all() {
        assert_eq!(probability(Probability::ONE), "over 99 %");
        assert_eq!(probability(Probability::ZERO), "under 1 %");
        assert_eq!(probability(Probability::new(0.664).unwrap()), "66 %");
    }

    #[test]
    fn a_list_reads_as_a_sentence() {
        assert_eq!(listed(&[1, 2, 3]), "1, 2 and 3");
        assert_eq!(listed(&["one"]), "one");
    }
}
