//! The limits in words and as lines across the charts, and which cylinders are outside them.
//! Whether a reading is inside is `core`'s answer; nothing is compared here.

use borespoke_core::engine::Cylinder;
use borespoke_core::quantity::{GaugePressure, PressureUnit};
use borespoke_core::rules::{
    Band, CrankingDemand, Demand, LeakDemand, LeakPart, Limit, LimitResult, Verdict,
};
use serde::Serialize;

use super::number;
use crate::data::HandoverData;

/// A limit as it is listed beside the charts.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Listed {
    /// The letter its line carries in the chart.
    pub letter: String,
    /// Whether it has a line in a chart.
    pub drawn: bool,
    /// What it asks.
    pub asks: String,
    /// Where it is from.
    pub source: String,
}

/// A limit as a line: its letter, its place on the chart's scale, its number.
pub struct LineAt {
    /// The letter it is listed under.
    pub letter: String,
    /// Where, in the unit of the scale.
    pub at: f64,
    /// Its number.
    pub label: String,
}

/// Every limit in force, with pressures in `unit`.
pub fn listed(data: &HandoverData, unit: PressureUnit) -> Vec<Listed> {
    let one = |(i, limit): (usize, &Limit)| {
        let (asks, drawn) = match &limit.demand {
            Demand::Cranking(demand) => {
                (cranking_words(demand, unit), cranking_line(data, limit, unit).is_some())
            }
            Demand::LeakDown(demand) => (leak_words(demand, unit), leak_line(limit).is_some()),
        };
        let source = data.limits.source(limit);
        Listed { letter: letter(i), drawn, asks, source }
    };
    data.limits.limits.iter().enumerate().map(one).collect()
}

/// The lines of a chart: the limits that `place` gives a place on its scale and a number.
pub fn lines(data: &HandoverData, place: impl Fn(&Limit) -> Option<(f64, String)>) -> Vec<LineAt> {
    let limits = data.limits.limits.iter().enumerate();
    limits
        .filter_map(|(i, limit)| {
            place(limit).map(|(at, label)| LineAt { letter: letter(i), at, label })
        })
        .collect()
}

/// Where a limit lies on a scale of cranking pressure in `unit`. `None` for limits on leak, and
/// while no pressure was read that the limit is a part of.
pub fn cranking_line(
    data: &HandoverData,
    limit: &Limit,
    unit: PressureUnit,
) -> Option<(f64, String)> {
    let Demand::Cranking(demand) = &limit.demand else { return None };
    let read = || data.evaluation.cranking.as_ref();
    let at = match *demand {
        CrankingDemand::OfHighest { at_least } => read()?.highest.pascals() * at_least.fraction(),
        CrankingDemand::OfMean { at_least } => read()?.mean.pascals() * at_least.fraction(),
        CrankingDemand::BelowHighest { at_most } => {
            (read()?.highest.pascals() - at_most.pascals()).max(0.0)
        }
        CrankingDemand::AtLeast { pressure } | CrankingDemand::AtMost { pressure } => {
            pressure.pascals()
        }
    };
    let at = GaugePressure::from_pascals(at);
    Some((at.in_unit(unit), number::gauge_number(at, unit)))
}

/// Where a limit lies on a scale of percent lost: of a graded table, where it stops calling the
/// loss acceptable. `None` for limits on cranking pressure, on a part of the leak, and on the
/// difference between cylinders.
pub fn leak_line(limit: &Limit) -> Option<(f64, String)> {
    let Demand::LeakDown(demand) = &limit.demand else { return None };
    let of = |supply: GaugePressure, lost: f64| {
        (supply.pascals() > 0.0).then(|| 100.0 * lost / supply.pascals())
    };
    let at = match demand {
        LeakDemand::LossAtMost { at_most, part: LeakPart::Total } => at_most.percent(),
        LeakDemand::LossBands { bands } => last_acceptable(bands)?.percent(),
        LeakDemand::HeldBands { supply, bands } => of(*supply, last_acceptable(bands)?.pascals())?,
        LeakDemand::HeldAtLeastMaster { supply, master: Some(master) } => {
            of(*supply, supply.pascals() - master.pascals())?
        }
        LeakDemand::LossAtMost { .. }
        | LeakDemand::HeldSpreadBands { .. }
        | LeakDemand::HeldAtLeastMaster { master: None, .. } => return None,
    };
    Some((at, number::percent_number(at)))
}

/// The end of the last band that is called acceptable.
fn last_acceptable<Q: Copy>(bands: &[Band<Q>]) -> Option<Q> {
    bands.iter().take_while(|band| band.acceptable).filter_map(|band| band.up_to).last()
}

fn cranking_words(demand: &CrankingDemand, unit: PressureUnit) -> String {
    let gauge =
        |p: GaugePressure| format!("{} {}", number::gauge_number(p, unit), number::unit_sign(unit));
    match *demand {
        CrankingDemand::OfHighest { at_least } => {
            format!("Cranking pressure at least {at_least} of the highest cylinder's")
        }
        CrankingDemand::OfMean { at_least } => {
            format!("Cranking pressure at least {at_least} of the mean of all")
        }
        CrankingDemand::BelowHighest { at_most } => {
            format!("Cranking pressure at most {} below the highest", gauge(at_most))
        }
        CrankingDemand::AtLeast { pressure } => {
            format!("Cranking pressure at least {}", gauge(pressure))
        }
        CrankingDemand::AtMost { pressure } => {
            format!("Cranking pressure at most {}", gauge(pressure))
        }
    }
}

fn leak_words(demand: &LeakDemand, unit: PressureUnit) -> String {
    let gauge =
        |p: GaugePressure| format!("{} {}", number::gauge_number(p, unit), number::unit_sign(unit));
    match demand {
        LeakDemand::LossAtMost { at_most, part } => {
            let part = match part {
                LeakPart::Total => "Leak-down",
                LeakPart::ValvesAndGasket => "Leak-down at valves and head gasket",
                LeakPart::Rings => "Leak-down past piston and rings",
            };
            format!("{part} at most {at_most}")
        }
        LeakDemand::LossBands { bands } => {
            let end = |q: borespoke_core::quantity::Share| q.to_string();
            format!("Leak-down in bands: {}", bands_in_words(bands, end))
        }
        LeakDemand::HeldBands { supply, bands } => format!(
            "Pressure lost of {} in bands: {}",
            gauge(*supply),
            bands_in_words(bands, gauge)
        ),
        LeakDemand::HeldSpreadBands { supply, bands } => format!(
            "Pressure held below the best cylinder's, of {}, in bands: {}",
            gauge(*supply),
            bands_in_words(bands, gauge)
        ),
        LeakDemand::HeldAtLeastMaster { supply, master } => {
            let master = master.map_or_else(|| "which was not read".to_owned(), gauge);
            format!(
                "Pressure held of {} at least what the maker's master orifice holds, {master}",
                gauge(*supply)
            )
        }
    }
}

fn bands_in_words<Q: Copy>(bands: &[Band<Q>], end: impl Fn(Q) -> String) -> String {
    let words: Vec<String> = bands
        .iter()
        .map(|band| match band.up_to {
            Some(up_to) => format!("{} to {}", band.name, end(up_to)),
            None => format!("{} above", band.name),
        })
        .collect();
    words.join(", ")
}

/// Letters of the limits: A, B, C and so on.
fn letter(index: usize) -> String {
    u8::try_from(index)
        .ok()
        .and_then(|i| b'A'.checked_add(i))
        .filter(u8::is_ascii_uppercase)
        .map_or_else(|| (index + 1).to_string(), |c| char::from(c).to_string())
}

/// Whether the dry cranking pressure of a cylinder is, or may be, outside a limit.
pub fn cranking_outside(data: &HandoverData, cylinder: Cylinder) -> bool {
    outside(data, cylinder, |demand| matches!(demand, Demand::Cranking(_)))
}

/// Whether the leak-down of a cylinder is, or may be, outside a limit.
pub fn leak_outside(data: &HandoverData, cylinder: Cylinder) -> bool {
    outside(data, cylinder, |demand| matches!(demand, Demand::LeakDown(_)))
}

fn outside(data: &HandoverData, cylinder: Cylinder, of: impl Fn(&Demand) -> bool) -> bool {
    let is_of = |result: &LimitResult| {
        let limit = data.limits.limits.iter().find(|limit| limit.id == result.limit);
        limit.is_some_and(|limit| of(&limit.demand))
    };
    data.evaluation.cylinders.iter().filter(|row| row.cylinder == cylinder).any(|row| {
        row.results.iter().any(|result| {
            matches!(result.verdict, Verdict::Outside | Verdict::OnTheLine) && is_of(result)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use borespoke_core::rules::RuleSet;

    fn lines_of(set: &str) -> Vec<String> {
        let set = RuleSet::by_id(set).unwrap();
        set.leak_down.iter().filter_map(leak_line).map(|(_, label)| label).collect()
    }

    /// Outside check. Sources: FAA AC 43.13-1B, 8-14 (i): a loss above 25 % is cause to suspect.
    /// Lycoming IO-390-D manual 72-30, table 2: 60 psi of 80 psi and less is worn, a loss of
    /// 20 psi or 25 %.
    #[test]
    fn the_two_aircraft_tables_draw_the_line_at_a_quarter_lost() {
        assert_eq!(lines_of("aircraft-60-of-80"), ["25"]);
        assert_eq!(lines_of("aircraft-bands-of-80"), ["25"]);
    }

    #[test]
    fn a_limit_on_part_of_the_leak_has_no_line() {
        assert_eq!(lines_of("leak-split"), ["25"]);
    }

    #[test]
    fn every_limit_of_every_set_has_words() {
        for set in RuleSet::ALL {
            for limit in set.limits() {
                let words = match &limit.demand {
                    Demand::Cranking(demand) => cranking_words(demand, PressureUnit::Psi),
                    Demand::LeakDown(demand) => leak_words(demand, PressureUnit::Psi),
                };
                assert!(words.len() > 20, "{}: {words}", limit.id);
            }
        }
    }
}
