//! One row of the cylinder table.

use borespoke_core::record::{CylinderRow, PlugFigures, PlugSign, Sight, Stated};
use borespoke_core::rules::{Evaluation, LeakFigure, Verdict};
use serde::Serialize;

/// One cylinder, flat. Numbers stand with their unit beside them; what was not read is `null`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TableRow {
    /// The cylinder's number.
    pub cylinder: u8,
    /// Final cranking pressure, dry; the middle of a range.
    pub dry: Option<f64>,
    /// Final cranking pressure, wet.
    pub wet: Option<f64>,
    /// Unit of `dry` and `wet`.
    pub unit: Option<&'static str>,
    /// Leak-down, percent.
    pub leak_percent: Option<f64>,
    /// Leak-down after a tap on the valves, percent.
    pub leak_tapped_percent: Option<f64>,
    /// Where air was heard.
    pub air: Vec<&'static str>,
    /// What the plug looks like.
    pub plug: Vec<PlugSign>,
    /// Colour figures of the plug.
    pub figures: Option<PlugFigures>,
    /// What a borescope showed; `null` when nobody looked, empty when nothing wrong was to be seen.
    pub borescope: Option<Vec<Sight>>,
    /// Plug gap.
    pub gap: Option<f64>,
    /// Unit of `gap`.
    pub gap_unit: Option<&'static str>,
    /// Dry pressure to the highest of the engine, 0 to 1.
    pub ratio_to_highest: Option<f64>,
    /// The limits that this cylinder is outside of, each with its source.
    pub outside: Vec<String>,
}

impl TableRow {
    /// The row, with what the rule set says of it.
    #[must_use]
    pub fn new(row: &CylinderRow, evaluation: &Evaluation) -> Self {
        let cranked = row.dry.or(row.wet);
        let evaluated = evaluation.cylinders.get(row.cylinder.index());
        let counted = evaluated.and_then(|cylinder| cylinder.leak.as_ref());
        let before_tap = evaluated.and_then(|cylinder| cylinder.leak_before_tap.as_ref());
        Self {
            cylinder: row.cylinder.number(),
            dry: row.dry.map(|read| middle(&read, |p| p.value())),
            wet: row.wet.map(|read| middle(&read, |p| p.value())),
            unit: cranked.map(|read| read.value.unit().symbol()),
            leak_percent: before_tap.or(counted.filter(|leak| !leak.after_tap)).and_then(percent),
            leak_tapped_percent: counted.filter(|leak| leak.after_tap).and_then(percent),
            air: row.air.iter().map(|at| at.name()).collect(),
            plug: row.signs.clone(),
            figures: row.figures,
            borescope: row.borescope.clone(),
            gap: row.gap.map(|read| middle(&read, |g| g.value())),
            gap_unit: row.gap.map(|read| read.value.unit().symbol()),
            ratio_to_highest: evaluated
                .and_then(|cylinder| cylinder.dry.as_ref())
                .and_then(|pressure| pressure.of_highest),
            outside: evaluated
                .into_iter()
                .flat_map(|cylinder| &cylinder.results)
                .filter(|result| result.verdict == Verdict::Outside)
                .map(|result| format!("{} ({})", result.says, result.source))
                .collect(),
        }
    }
}

fn middle<Q: Copy>(stated: &Stated<Q>, value: impl Fn(Q) -> f64) -> f64 {
    stated
        .up_to
        .map_or_else(|| value(stated.value), |to| f64::midpoint(value(stated.value), value(to)))
}

/// The share of the supply that is lost, also of a two-gauge reading.
fn percent(leak: &LeakFigure) -> Option<f64> {
    // Shown to a hundredth: no gauge is read closer, and it drops what rounding added.
    leak.loss.map(|loss| (loss * 1e4).round() / 1e2)
}
