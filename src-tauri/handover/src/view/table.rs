//! The cylinder table. Columns nobody filled are left out.

use borespoke_core::quantity::{PressureUnit, StatedPressure};
use borespoke_core::record::{AirExit, CylinderRow, Sight, Stated};
use serde::Serialize;

use super::glance::{self, State};
use super::{limits, number};
use crate::data::HandoverData;

/// The table.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Table {
    /// The columns after the cylinder's number.
    pub columns: Vec<Column>,
    /// A row per cylinder, by number.
    pub rows: Vec<Row>,
}

/// A column.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Column {
    /// What it holds.
    pub head: &'static str,
    /// The unit of its numbers.
    pub unit: &'static str,
    /// Whether it holds numbers, which stand at its right edge.
    pub numbers: bool,
}

/// A row.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Row {
    /// The maker's number.
    pub cylinder: u8,
    /// The state at a glance.
    pub state: State,
    /// Its word.
    pub word: &'static str,
    /// A cell per column.
    pub cells: Vec<Cell>,
}

/// A cell.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cell {
    /// What stands in it; empty when nothing is known.
    pub text: String,
    /// Whether it is outside a limit.
    pub outside: bool,
}

impl Cell {
    fn plain(text: Option<String>) -> Self {
        Self { text: text.unwrap_or_default(), outside: false }
    }
}

/// The unit most dry and wet readings were said in; psi when there are none.
pub fn pressure_unit(data: &HandoverData) -> PressureUnit {
    let said = |unit: PressureUnit| {
        let rows = data.table.rows.iter();
        rows.flat_map(|row| [&row.dry, &row.wet])
            .flatten()
            .filter(|stated| stated.value.unit() == unit)
            .count()
    };
    // The first of equals, so that the order of the units settles a tie.
    PressureUnit::ALL.into_iter().rev().max_by_key(|unit| said(*unit)).unwrap_or(PressureUnit::Psi)
}

/// What a column says about a cylinder.
type Fill<'a> = Box<dyn Fn(&CylinderRow) -> Cell + 'a>;

/// The table, with pressures in `unit`.
pub fn table(data: &HandoverData, unit: PressureUnit) -> Table {
    let sign = number::unit_sign(unit);
    let best = data.table.rows.iter().filter_map(dry_pascals).fold(0.0, f64::max);
    let number_column = |head, unit| Column { head, unit, numbers: true };
    let word_column = |head| Column { head, unit: "", numbers: false };
    let all: Vec<(Column, Fill<'_>)> = vec![
        (
            number_column("Dry", sign),
            Box::new(move |row| Cell {
                outside: limits::cranking_outside(data, row.cylinder),
                ..Cell::plain(row.dry.as_ref().map(|dry| gauge(dry, unit)))
            }),
        ),
        (
            number_column("Of highest", "%"),
            Box::new(move |row| {
                let share = dry_pascals(row).filter(|_| best > 0.0).map(|read| 100.0 * read / best);
                Cell::plain(share.map(|percent| number::fixed(percent, 0)))
            }),
        ),
        (
            number_column("With oil", sign),
            Box::new(move |row| Cell::plain(row.wet.as_ref().map(|wet| gauge(wet, unit)))),
        ),
        (
            number_column("Leak-down", "%"),
            Box::new(move |row| Cell {
                outside: row.leak_tapped.is_none() && limits::leak_outside(data, row.cylinder),
                ..Cell::plain(row.leak.as_ref().map(leak))
            }),
        ),
        (
            number_column("After tap", "%"),
            Box::new(move |row| Cell {
                outside: row.leak_tapped.is_some() && limits::leak_outside(data, row.cylinder),
                ..Cell::plain(row.leak_tapped.as_ref().map(leak))
            }),
        ),
        (word_column("Air heard at"), Box::new(|row| Cell::plain(Some(air(&row.air))))),
        (word_column("Plug"), Box::new(|row| Cell::plain(Some(number::listed(&row.signs))))),
        (word_column("Borescope"), Box::new(|row| Cell::plain(row.borescope.as_deref().map(seen)))),
        (
            Column { head: "Plug gap", unit: "", numbers: true },
            Box::new(|row| Cell::plain(row.gap.as_ref().map(number::gap))),
        ),
    ];
    let used: Vec<_> = all
        .into_iter()
        .filter(|(_, fill)| data.table.rows.iter().any(|row| !fill(row).text.is_empty()))
        .collect();
    let row = |row: &CylinderRow| {
        let state = glance::state(data, row);
        Row {
            cylinder: row.cylinder.number(),
            state,
            word: state.word(),
            cells: used.iter().map(|(_, fill)| fill(row)).collect(),
        }
    };
    let rows = data.table.rows.iter().map(row).collect();
    Table { rows, columns: used.into_iter().map(|(column, _)| column).collect() }
}

fn seen(sights: &[Sight]) -> String {
    if sights.is_empty() { "nothing wrong".to_owned() } else { number::listed(sights) }
}

fn dry_pascals(row: &CylinderRow) -> Option<f64> {
    row.dry.as_ref().map(|dry| number::middle(dry, |p: StatedPressure| p.gauge().pascals()))
}

/// In the table's unit; what was said stands beside it where it was another.
fn gauge(stated: &Stated<StatedPressure>, unit: PressureUnit) -> String {
    let here = number::stated_gauge_number(stated, unit);
    if stated.value.unit() == unit {
        here
    } else {
        format!("{here} (said {})", number::stated_pressure(stated))
    }
}

/// Without the percent sign, which stands in the head.
fn leak(reading: &borespoke_core::record::LeakReading) -> String {
    number::leak(reading).replacen(" %", "", 1)
}

fn air(exits: &[AirExit]) -> String {
    let words: Vec<&str> = exits.iter().map(|exit| exit.name()).collect();
    number::listed(&words)
}
