//! A table with one entry a row (CSV, RFC 4180). Every number stands in a column that names its
//! unit; what was stated stands beside it in the unit it was stated in.

use borespoke_core::job::{Job, JobId};
use borespoke_core::quantity::{GaugePressure, LengthUnit, PressureUnit, StatedPressure};
use borespoke_core::record::{
    Act, Bore, Entry, LeakReading, Log, Observation, Origin, Stated, Stroke, Valves,
};
use thiserror::Error;

/// A job to be told, with its log.
#[derive(Debug, Clone, Copy)]
pub struct JobTold<'a> {
    /// Which.
    pub id: JobId,
    /// What it is about.
    pub job: &'a Job,
    /// Its entries.
    pub log: &'a Log,
}

/// Why the table could not be written.
#[derive(Debug, Error)]
#[error("the table could not be written: {0}")]
pub struct SpreadsheetError(String);

const COLUMNS: [&str; 35] = [
    "job",
    "begun",
    "customer",
    "vehicle",
    "invented",
    "entry",
    "at",
    "by",
    "sureness",
    "heard",
    "act",
    "points_at",
    "in_force",
    "kind",
    "cylinder",
    "stated",
    "stated_up_to",
    "unit",
    "about",
    "pressure_kpa",
    "pressure_up_to_kpa",
    "leak_percent",
    "leak_up_to_percent",
    "supply_kpa",
    "cylinder_side_kpa",
    "gap_mm",
    "bore",
    "stroke",
    "valves",
    "air_at",
    "signs",
    "remark",
    "tester",
    "clip_sha256",
    "picture_sha256",
];

/// The entries of these jobs as CSV in UTF-8, with a head.
///
/// # Errors
/// [`SpreadsheetError`], which memory alone could cause.
pub fn spreadsheet(jobs: &[JobTold<'_>]) -> Result<Vec<u8>, SpreadsheetError> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let fault = |fault: csv::Error| SpreadsheetError(fault.to_string());
    writer.write_record(COLUMNS).map_err(fault)?;
    for told in jobs {
        let standing: Vec<_> = told.log.in_force().iter().map(|(entry, _)| entry.id).collect();
        for entry in told.log.entries() {
            let row = row(told, entry, standing.contains(&entry.id));
            writer.write_record(COLUMNS.map(|column| row.get(column))).map_err(fault)?;
        }
    }
    writer.into_inner().map_err(|fault| SpreadsheetError(fault.to_string()))
}

/// A row being filled, by the names of its columns.
#[derive(Default)]
struct Row(Vec<(&'static str, String)>);

impl Row {
    fn get(&self, column: &str) -> &str {
        self.0.iter().find(|(name, _)| *name == column).map_or("", |(_, cell)| cell)
    }

    fn put(&mut self, column: &'static str, cell: impl ToString) {
        debug_assert!(COLUMNS.contains(&column), "{column}");
        self.0.push((column, cell.to_string()));
    }

    /// Text that somebody said or typed. A spreadsheet takes a cell that begins with one of these
    /// signs for a formula and runs it; an apostrophe before it keeps it text.
    fn put_words(&mut self, column: &'static str, words: &str) {
        let formula = words.starts_with(['=', '+', '-', '@', '\t', '\r', '\'']);
        self.put(column, if formula { format!("'{words}") } else { words.to_owned() });
    }
}

fn row(told: &JobTold<'_>, entry: &Entry, in_force: bool) -> Row {
    let mut row = Row::default();
    row.put("job", told.id);
    row.put("begun", told.job.begun);
    row.put_words("customer", &told.job.customer);
    row.put_words("vehicle", &told.job.vehicle);
    row.put("invented", told.job.invented);
    row.put("entry", entry.id);
    row.put("at", entry.at);
    match &entry.origin {
        Origin::Spoken { clip, sureness, text } => {
            row.put("by", "spoken");
            row.put("sureness", sureness.value());
            row.put_words("heard", text);
            row.put("clip_sha256", clip);
        }
        Origin::Typed => row.put("by", "typed"),
        Origin::Pictured { picture } => {
            row.put("by", "pictured");
            row.put("picture_sha256", picture);
        }
    }
    row.put(
        "act",
        match entry.act {
            Act::Observe { .. } => "observe",
            Act::Correct { .. } => "correct",
            Act::Withdraw { .. } => "withdraw",
        },
    );
    if let Some(target) = entry.act.target() {
        row.put("points_at", target);
    }
    row.put("in_force", in_force);
    if let Some(observation) = entry.act.observation() {
        observed(&mut row, observation);
    }
    row
}

fn observed(row: &mut Row, observation: &Observation) {
    if let Some(cylinder) = observation.cylinder() {
        row.put("cylinder", cylinder);
    }
    let tester = match observation {
        Observation::Cranking(read) => {
            row.put("kind", "cranking");
            pressure(row, &read.pressure);
            row.put("bore", if read.bore == Bore::Dry { "dry" } else { "wet" });
            row.put(
                "stroke",
                match read.stroke {
                    Stroke::Final => "final".to_owned(),
                    Stroke::After(strokes) => strokes.to_string(),
                },
            );
            &read.tester
        }
        Observation::LeakDown(read) => {
            row.put("kind", "leak-down");
            match &read.reading {
                LeakReading::Percent { leak } => {
                    row.put("stated", leak.value.percent());
                    row.put("unit", "percent");
                    row.put("about", leak.about);
                    row.put("leak_percent", leak.value.percent());
                    if let Some(up_to) = leak.up_to {
                        row.put("stated_up_to", up_to.percent());
                        row.put("leak_up_to_percent", up_to.percent());
                    }
                }
                LeakReading::Pressures { supply, cylinder_side } => {
                    row.put("unit", supply.unit());
                    row.put("supply_kpa", kilopascals(supply.gauge()));
                    row.put("cylinder_side_kpa", kilopascals(cylinder_side.gauge()));
                }
            }
            row.put("valves", if read.valves == Valves::AsFound { "as found" } else { "tapped" });
            &read.tester
        }
        Observation::Listening(heard) => {
            row.put("kind", "listening");
            row.put("air_at", heard.at);
            &None
        }
        Observation::Look(look) => {
            row.put("kind", "look");
            let signs: Vec<_> = look.signs.iter().map(|sign| sign.name()).collect();
            row.put("signs", signs.join("; "));
            if let Some(picture) = look.picture
                && row.get("picture_sha256").is_empty()
            {
                row.put("picture_sha256", picture);
            }
            &None
        }
        Observation::Borescope(look) => {
            row.put("kind", "borescope");
            let seen: Vec<_> = look.seen.iter().map(|sight| sight.name()).collect();
            row.put("signs", seen.join("; "));
            &None
        }
        Observation::Gap(gap) => {
            row.put("kind", "gap");
            row.put("stated", gap.gap.value.value());
            row.put("unit", gap.gap.value.unit().symbol());
            row.put("about", gap.gap.about);
            row.put("gap_mm", rounded(gap.gap.value.length().in_unit(LengthUnit::Millimetre)));
            if let Some(up_to) = gap.gap.up_to {
                row.put("stated_up_to", up_to.value());
            }
            &None
        }
        Observation::Remark(remark) => {
            row.put("kind", "remark");
            row.put_words("remark", &remark.text);
            &None
        }
    };
    if let Some(tester) = tester {
        row.put_words("tester", tester);
    }
}

fn pressure(row: &mut Row, stated: &Stated<StatedPressure>) {
    row.put("stated", stated.value.value());
    row.put("unit", stated.value.unit());
    row.put("about", stated.about);
    row.put("pressure_kpa", kilopascals(stated.value.gauge()));
    if let Some(up_to) = stated.up_to {
        row.put("stated_up_to", up_to.value());
        row.put("pressure_up_to_kpa", kilopascals(up_to.gauge()));
    }
}

fn kilopascals(pressure: GaugePressure) -> f64 {
    rounded(pressure.in_unit(PressureUnit::Kilopascal))
}

/// To a thousandth: finer than any gauge, and without the tail a conversion leaves.
fn rounded(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}
