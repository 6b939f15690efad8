//! Bars per cylinder, with their scale and the limits across them. Positions are shares of the
//! chart's height, from 0 at the foot to 1 at the top.

use borespoke_core::quantity::{LeakPercent, PressureUnit, StatedPressure};
use borespoke_core::record::{LeakReading, Stated};
use serde::Serialize;

use super::limits::{self, LineAt};
use super::number;
use crate::data::HandoverData;

/// A chart.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Chart {
    /// What it shows.
    pub title: &'static str,
    /// The unit of its scale.
    pub unit: &'static str,
    /// What the full bars are.
    pub first: &'static str,
    /// What the hatched bars are, where there are any.
    pub second: Option<&'static str>,
    /// The scale, from the foot up.
    pub ticks: Vec<Tick>,
    /// A group per cylinder, by number.
    pub groups: Vec<Group>,
    /// The limits.
    pub limits: Vec<Line>,
    /// The chart in words, for those who do not see it.
    pub alt: String,
}

/// A mark of the scale.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Tick {
    /// Where.
    pub at: f64,
    /// Its number.
    pub label: String,
}

/// The bars of one cylinder.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Group {
    /// The maker's number.
    pub cylinder: u8,
    /// The full bar.
    pub first: Option<Bar>,
    /// The hatched bar.
    pub second: Option<Bar>,
    /// Whether the full bar is outside a limit.
    pub outside: bool,
}

/// A bar.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Bar {
    /// Its height: the value, or the middle of a range.
    pub at: f64,
    /// The ends of a range, where one was said.
    pub range: Option<[f64; 2]>,
    /// The number at its head.
    pub label: String,
}

/// A limit across the bars.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Line {
    /// Where.
    pub at: f64,
    /// The letter it is listed under.
    pub letter: String,
    /// Its number.
    pub label: String,
}

/// A value with the ends of its range, on the chart's scale, and its number in words.
struct Value {
    middle: f64,
    low: f64,
    high: f64,
    label: String,
}

impl Value {
    fn pressure(stated: &Stated<StatedPressure>, unit: PressureUnit) -> Self {
        let scale = |p: StatedPressure| p.gauge().in_unit(unit);
        let (low, high) = number::ends(stated, scale);
        let middle = number::middle(stated, scale);
        Self { middle, low, high, label: number::fixed(middle, unit.decimals()) }
    }

    fn leak(reading: &LeakReading) -> Option<Self> {
        let middle = number::leak_percent(reading)?;
        let (low, high) = match reading {
            LeakReading::Percent { leak } => number::ends(leak, LeakPercent::percent),
            LeakReading::Pressures { .. } => (middle, middle),
        };
        Some(Self { middle, low, high, label: number::percent_number(middle) })
    }

    fn bar(self, top: f64) -> Bar {
        let range = (self.high > self.low).then(|| [self.low / top, self.high / top]);
        Bar { at: self.middle / top, range, label: self.label }
    }
}

struct Bars {
    cylinder: u8,
    first: Option<Value>,
    second: Option<Value>,
    outside: bool,
}

/// Cranking pressure, dry and with oil. `None` when none was read.
pub fn cranking(data: &HandoverData, unit: PressureUnit) -> Option<Chart> {
    let bars = data.table.rows.iter().map(|row| Bars {
        cylinder: row.cylinder.number(),
        first: row.dry.as_ref().map(|stated| Value::pressure(stated, unit)),
        second: row.wet.as_ref().map(|stated| Value::pressure(stated, unit)),
        outside: limits::cranking_outside(data, row.cylinder),
    });
    let lines = limits::lines(data, |limit| limits::cranking_line(data, limit, unit));
    let sign = number::unit_sign(unit);
    chart("Cranking pressure", sign, ["dry", "with oil (wet)"], bars.collect(), lines)
}

/// Leak-down, as found and after a tap on the valves. `None` when none was read.
pub fn leak_down(data: &HandoverData) -> Option<Chart> {
    let bars = data.table.rows.iter().map(|row| Bars {
        cylinder: row.cylinder.number(),
        first: row.leak.as_ref().and_then(Value::leak),
        second: row.leak_tapped.as_ref().and_then(Value::leak),
        outside: limits::leak_outside(data, row.cylinder),
    });
    let lines = limits::lines(data, limits::leak_line);
    chart("Leak-down", "%", ["as found", "after a tap on the valves"], bars.collect(), lines)
}

fn chart(
    title: &'static str,
    unit: &'static str,
    [first, second]: [&'static str; 2],
    bars: Vec<Bars>,
    limits: Vec<LineAt>,
) -> Option<Chart> {
    let values = || bars.iter().flat_map(|bars| [&bars.first, &bars.second]).flatten();
    values().next()?;
    let highest = values()
        .map(|value| value.high)
        .chain(limits.iter().map(|line| line.at))
        .fold(0.0, f64::max);
    let (step, top) = scale(highest);
    let alt = in_words(title, unit, [first, second], &bars);
    let second = bars.iter().any(|bars| bars.second.is_some()).then_some(second);
    let group = |bars: Bars| Group {
        cylinder: bars.cylinder,
        outside: bars.outside && bars.first.is_some(),
        first: bars.first.map(|value| value.bar(top)),
        second: bars.second.map(|value| value.bar(top)),
    };
    Some(Chart {
        title,
        unit,
        first,
        second,
        ticks: ticks(step, top),
        groups: bars.into_iter().map(group).collect(),
        limits: limits
            .into_iter()
            .map(|line| Line { at: line.at / top, letter: line.letter, label: line.label })
            .collect(),
        alt,
    })
}

fn in_words(title: &str, unit: &str, [first, second]: [&str; 2], bars: &[Bars]) -> String {
    let cylinders: Vec<String> = bars
        .iter()
        .filter_map(|bars| {
            let said = |name: &str, value: &Option<Value>| {
                value.as_ref().map(|value| format!("{name} {} {unit}", value.label))
            };
            let parts: Vec<String> = [said(first, &bars.first), said(second, &bars.second)]
                .into_iter()
                .flatten()
                .collect();
            let outside = if bars.outside { ", outside a limit" } else { "" };
            (!parts.is_empty())
                .then(|| format!("cylinder {} {}{outside}", bars.cylinder, parts.join(", ")))
        })
        .collect();
    format!("{title}: {}.", cylinders.join("; "))
}

/// A step of 1, 2 or 5 times a power of ten that gives at most five ticks above the foot, and the
/// first tick at or above `highest`. Room for a number above the tallest bar is part of the top.
fn scale(highest: f64) -> (f64, f64) {
    let highest = if highest > 0.0 { highest } else { 1.0 };
    let rough = highest / 5.0;
    let magnitude = 10_f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|factor| factor * magnitude)
        .find(|step| *step >= rough * (1.0 - 1e-9))
        .unwrap_or(10.0 * magnitude);
    let top = (highest / step - 1e-9).ceil() * step;
    (step, top.max(step))
}

fn ticks(step: f64, top: f64) -> Vec<Tick> {
    let decimals = usize::from(step < 1.0);
    let mut ticks = Vec::new();
    let mut at = 0.0;
    while at <= top * (1.0 + 1e-9) {
        ticks.push(Tick { at: at / top, label: number::fixed(at, decimals) });
        at += step;
    }
    ticks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_scale_holds_the_highest_and_has_few_ticks() {
        for highest in [0.0, 0.3, 1.0, 9.9, 10.0, 25.0, 100.0, 152.0, 1050.0] {
            let (step, top) = scale(highest);
            assert!(top >= highest, "{highest}");
            let count = ticks(step, top).len();
            assert!((2..=6).contains(&count), "{highest}: {count} ticks");
        }
        assert_eq!(scale(152.0), (50.0, 200.0));
        assert_eq!(scale(100.0), (20.0, 100.0));
    }
}
