//! `table`

use borespoke_bench::table;
use borespoke_bench::wire::TableRow;

use crate::arguments::JobOf;
use crate::failure::Failure;
use crate::output::{self, Output};

pub fn run(of: &JobOf, output: &mut Output) -> Result<(), Failure> {
    let known = table::table(&of.file, of.job.as_deref())?;
    if output.is_json() {
        for row in &known.rows {
            output.line(row)?;
        }
        return Ok(());
    }
    output.text(&format!("{}\n{}", known.job.vehicle, known.job.customer))?;
    output.text(&format!("Firing order {}", known.job.engine.firing_order()))?;
    let mut lines = output::table(&["Cyl", "Dry", "Wet", "Leak", "After tap", "Air heard", "Plug"]);
    for row in &known.rows {
        lines.add_row(cells(row));
    }
    output.text(&lines.to_string())?;
    if let Some(cranking) = &known.evaluation.cranking {
        let unit = cranking.unit;
        output.text(&format!(
            "Dry: highest {:.0} {unit}, lowest {:.0} {unit}, spread {:.0} {unit}{}.",
            cranking.highest.in_unit(unit),
            cranking.lowest.in_unit(unit),
            cranking.spread.in_unit(unit),
            cranking.lowest_of_highest.map_or_else(String::new, |ratio| format!(
                ", lowest is {:.0} % of highest",
                ratio * 100.0
            )),
        ))?;
    }
    output.text(&format!("Held against: {}.", known.evaluation.rule_set_name))?;
    for row in &known.rows {
        for outside in &row.outside {
            output.text(&format!("  Cylinder {}: {outside}", row.cylinder))?;
        }
    }
    Ok(())
}

fn cells(row: &TableRow) -> [String; 7] {
    let pressure = |value: Option<f64>| match (value, row.unit) {
        (Some(value), Some(unit)) => format!("{value} {unit}"),
        _ => "-".to_owned(),
    };
    let percent = |value: Option<f64>| value.map_or_else(|| "-".to_owned(), |v| format!("{v} %"));
    let mut plug: Vec<String> = row.plug.iter().map(|sign| sign.name().to_owned()).collect();
    if let (Some(gap), Some(unit)) = (row.gap, row.gap_unit) {
        plug.push(format!("gap {gap} {unit}"));
    }
    [
        row.cylinder.to_string(),
        pressure(row.dry),
        pressure(row.wet),
        percent(row.leak_percent),
        percent(row.leak_tapped_percent),
        row.air.join(", "),
        plug.join(", "),
    ]
}
