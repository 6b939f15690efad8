//! The document as strings and positions, ready for the template. Everything that is printed is
//! put into words here; the template only places it.

mod buyer;
mod chart;
mod entries;
mod glance;
mod limits;
mod number;
mod plugs;
mod reasons;
mod setting;
mod sureness;
mod table;

use serde::Serialize;

use crate::data::{HandoverData, Paper};
use crate::proof::Code;
use crate::text::shortened;

pub use plugs::Shown;

/// A vehicle or customer longer than this is cut in print.
const MOST_NAME: usize = 140;
/// A question longer than this is cut in print.
const MOST_QUESTION: usize = 400;

/// The document.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct View {
    /// The name of the paper in the typesetter.
    paper: &'static str,
    /// The document's title.
    title: String,
    job_id: String,
    /// The code of the sealed entries.
    code: Option<String>,
    invented: bool,
    /// The day of the job.
    date: String,
    /// The same, with the clock time and its distance from UTC.
    begun: String,
    vehicle: String,
    customer: String,
    question: String,
    engine: String,
    strip: Vec<glance::Cell>,
    legend: Vec<glance::LegendLine>,
    told: buyer::Told,
    tested: Vec<buyer::Tested>,
    not_tested: Vec<String>,
    to_do: Vec<buyer::ToDo>,
    steps: Vec<buyer::Step>,
    settled: Option<String>,
    table: table::Table,
    charts: Vec<chart::Chart>,
    rule_set: String,
    limits: Vec<limits::Listed>,
    plugs: Vec<plugs::Plug>,
    reasons: Vec<reasons::Reasoned>,
    also_considered: Vec<String>,
    contradictions: Vec<String>,
    assumed: Vec<String>,
    changes: Vec<entries::Change>,
    asides: Vec<entries::Aside>,
    more_asides: usize,
    unsettled: Option<String>,
    entries_of: Option<String>,
    conditions: Vec<setting::Fact>,
    testers: Vec<setting::TesterUsed>,
    cautions: Vec<String>,
    deference: &'static str,
}

impl View {
    /// The document of this data. `shown` says for each row of the table where its picture stands.
    pub fn new(data: &HandoverData, paper: Paper, shown: &Shown, code: Option<&Code>) -> Self {
        let job = &data.job;
        let unit = table::pressure_unit(data);
        let citations = entries::Citations::new(data);
        let asides = citations.asides();
        let strip = glance::strip(data);
        let vehicle = named(&job.vehicle, "Vehicle not named");
        let date = entries::date(job.begun, data.utc_offset);
        let clock = data.utc_offset.to_datetime(job.begun).strftime("%H:%M").to_string();
        Self {
            paper: match paper {
                Paper::A4 => "a4",
                Paper::Letter => "us-letter",
            },
            title: format!("Engine check: {vehicle}, {date}"),
            job_id: data.job_id.clone(),
            code: code.map(Code::to_string),
            invented: job.invented,
            begun: format!("{date}, {clock} (UTC{})", data.utc_offset),
            date,
            vehicle,
            customer: named(&job.customer, "not named"),
            question: shortened(job.question.trim(), MOST_QUESTION),
            engine: setting::engine(data),
            legend: glance::legend(&strip),
            strip,
            told: buyer::told(data),
            tested: buyer::tested(data),
            not_tested: buyer::not_tested(data),
            to_do: buyer::to_do(data),
            steps: buyer::steps(data),
            settled: data.judgement.settled.clone(),
            table: table::table(data, unit),
            charts: [chart::cranking(data, unit), chart::leak_down(data)]
                .into_iter()
                .flatten()
                .collect(),
            rule_set: data.evaluation.rule_set_name.clone(),
            limits: limits::listed(data, unit),
            plugs: plugs::plugs(data, shown),
            reasons: reasons::reasons(data, &citations),
            also_considered: reasons::also_considered(data),
            contradictions: data
                .judgement
                .conflicts
                .iter()
                .map(|conflict| format!("Cylinder {}: {}", conflict.cylinder, conflict.says))
                .collect(),
            assumed: data.judgement.not_tested.clone(),
            changes: citations.changes(),
            asides: asides.said,
            more_asides: asides.more,
            unsettled: asides.unsettled,
            entries_of: citations.day().map(str::to_owned),
            conditions: setting::conditions(data),
            testers: setting::testers(data),
            cautions: setting::cautions(data),
            deference: setting::DEFERENCE,
        }
    }
}

fn named(name: &str, otherwise: &str) -> String {
    let name = name.trim();
    if name.is_empty() { otherwise.to_owned() } else { shortened(name, MOST_NAME) }
}
