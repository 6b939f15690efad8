//! Readings held against the rule set's limits.

use borespoke_core::quantity::{LeakPercent, PressureUnit, StatedPressure};
use borespoke_core::record::CylinderRow;
use serde::Serialize;

use super::number;
use crate::data::{HandoverData, Limit, LimitValue};

/// A limit as it is listed beside the charts.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitLine {
    /// The letter its line carries in the chart.
    pub letter: String,
    /// "at least 113 psi".
    pub value: String,
    /// What it is.
    pub label: String,
    /// Where it is from.
    pub source: String,
}

/// Letters of the limits: A, B, C and so on.
pub fn letter(index: usize) -> String {
    u8::try_from(index)
        .ok()
        .and_then(|i| b'A'.checked_add(i))
        .filter(u8::is_ascii_uppercase)
        .map_or_else(|| (index + 1).to_string(), |c| char::from(c).to_string())
}

/// Every limit of the rule set, in `unit`.
pub fn listed(data: &HandoverData, unit: PressureUnit) -> Vec<LimitLine> {
    let line = |(i, limit): (usize, &Limit)| LimitLine {
        letter: letter(i),
        value: in_words(limit.value, unit),
        label: limit.label.clone(),
        source: limit.source.clone(),
    };
    data.rules.limits.iter().enumerate().map(line).collect()
}

fn in_words(value: LimitValue, unit: PressureUnit) -> String {
    let sign = number::unit_sign(unit);
    match value {
        LimitValue::CrankingAtLeast(p) => {
            format!("at least {} {sign}", number::gauge_number(p, unit))
        }
        LimitValue::CrankingAtMost(p) => format!("at most {} {sign}", number::gauge_number(p, unit)),
        LimitValue::LeakAtMost(p) => format!("at most {} %", number::percent_number(p.percent())),
    }
}

/// Whether the dry cranking pressure of a row is outside a limit. The middle of a range counts.
pub fn cranking_outside(data: &HandoverData, row: &CylinderRow) -> bool {
    let Some(dry) = &row.dry else { return false };
    let read = number::middle(dry, |p: StatedPressure| p.gauge().pascals());
    data.rules.limits.iter().any(|limit| match limit.value {
        LimitValue::CrankingAtLeast(least) => read < least.pascals(),
        LimitValue::CrankingAtMost(most) => read > most.pascals(),
        LimitValue::LeakAtMost(_) => false,
    })
}

/// Whether the leak-down of a row is outside a limit: the one after tapping the valves, where
/// there is one, for tapping only seats what dirt kept open.
pub fn leak_outside(data: &HandoverData, row: &CylinderRow) -> bool {
    let Some(read) = row.leak_tapped.or(row.leak).as_ref().and_then(number::leak_percent) else {
        return false;
    };
    let beyond = |most: LeakPercent| read > most.percent();
    data.rules
        .limits
        .iter()
        .any(|limit| matches!(limit.value, LimitValue::LeakAtMost(most) if beyond(most)))
}
