//! The buyer's page: what was tested, what it means, what to do, what was not tested.

use borespoke_core::engine::Cylinder;
use borespoke_core::judgement::{Advice, Finding, NextStep};
use borespoke_core::record::CylinderRow;
use serde::Serialize;

use super::number;
use super::reasons;
use super::sureness::Sureness;
use crate::data::HandoverData;

/// More than this do not help a buyer.
const MOST_STEPS: usize = 2;

/// A finding in plain words.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Plain {
    /// "Cylinder 3".
    pub cylinders: String,
    /// What it means.
    pub means: String,
    /// How sure.
    pub sureness: Sureness,
}

/// What to do about some cylinders.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToDo {
    /// "Cylinder 3".
    pub cylinders: String,
    /// What to do, and how urgent it is.
    pub says: String,
    /// Why.
    pub because: String,
}

/// The findings worth telling, and how many more there are.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Told {
    /// Most probable first.
    pub findings: Vec<Plain>,
    /// How many more are with the evidence.
    pub more: usize,
}

/// A test that was made.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Tested {
    /// Its name.
    pub test: &'static str,
    /// What it is, in one line.
    pub explained: &'static str,
    /// On how many cylinders.
    pub extent: String,
}

/// A test that could still be made.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// What to do, with the cylinder.
    pub instruction: String,
    /// How long it takes.
    pub minutes: String,
    /// What it would settle.
    pub settles: String,
}

/// The findings for the buyer.
pub fn told(data: &HandoverData) -> Told {
    let (told, rest) = reasons::told_and_rest(data);
    Told { findings: told.iter().map(|finding| plain(finding, data)).collect(), more: rest.len() }
}

fn plain(finding: &Finding, data: &HandoverData) -> Plain {
    Plain {
        cylinders: reasons::cylinders(&finding.cylinders, data),
        means: finding.plain.clone(),
        sureness: Sureness::of(finding.probability),
    }
}

/// What to do, most urgent first.
pub fn to_do(data: &HandoverData) -> Vec<ToDo> {
    let one = |advice: &Advice| ToDo {
        cylinders: reasons::cylinders(&advice.cylinders, data),
        says: advice.says.clone(),
        because: advice.because.clone(),
    };
    data.judgement.advice.iter().map(one).collect()
}

/// The tests that would tell most.
pub fn steps(data: &HandoverData) -> Vec<Step> {
    let step = |next: &NextStep| Step {
        instruction: match next.cylinder.map(|cylinder| format!("cylinder {cylinder}")) {
            // The model's own wording may name the cylinder already.
            Some(cylinder) if !next.next_step.contains(&cylinder) => {
                format!("{}, {cylinder}", next.next_step.trim_end_matches('.'))
            }
            _ => next.next_step.trim_end_matches('.').to_owned(),
        },
        minutes: number::minutes(next.minutes),
        settles: next.settles.clone(),
    };
    data.judgement.next_steps.iter().take(MOST_STEPS).map(step).collect()
}

/// One kind of test: its name, what it is, and whether a cylinder had it.
struct Kind {
    test: &'static str,
    explained: &'static str,
    done: fn(&CylinderRow) -> bool,
    /// Whether leaving it out is worth telling. Some tests are made only where another calls for
    /// them.
    always: bool,
}

const KINDS: [Kind; 6] = [
    Kind {
        test: "Cranking pressure",
        explained: "How hard it squeezes. High and even is good.",
        done: |row| row.dry.is_some(),
        always: true,
    },
    Kind {
        test: "Cranking pressure with oil",
        explained: "If oil raises it, air was passing the piston.",
        done: |row| row.wet.is_some(),
        always: false,
    },
    Kind {
        test: "Leak-down",
        explained: "How much air escapes it when shut. Low is good.",
        done: |row| row.leak.is_some() || row.leak_tapped.is_some(),
        always: true,
    },
    Kind {
        test: "Listening for the leak",
        explained: "Where the air comes out tells which part leaks.",
        done: |row| !row.air.is_empty(),
        always: false,
    },
    Kind {
        test: "Spark plugs",
        explained: "Colour and deposits show how it has been burning.",
        done: |row| !row.signs.is_empty() || row.figures.is_some(),
        always: true,
    },
    Kind {
        test: "Borescope",
        explained: "A small camera through the plug hole shows the cylinder wall, the piston and \
                    the valves.",
        done: |row| row.borescope.is_some(),
        always: false,
    },
];

/// The tests that were made, with their extent.
pub fn tested(data: &HandoverData) -> Vec<Tested> {
    KINDS
        .iter()
        .filter_map(|kind| {
            let done = having(data, kind.done);
            (!done.is_empty()).then(|| Tested {
                test: kind.test,
                explained: kind.explained,
                extent: extent(&done, data.table.rows.len()),
            })
        })
        .collect()
}

/// What was left out, for any reason.
pub fn not_tested(data: &HandoverData) -> Vec<String> {
    let mut lines = Vec::new();
    for kind in KINDS.iter().filter(|kind| kind.always) {
        let missing = having(data, |row| !(kind.done)(row));
        if missing.len() == data.table.rows.len() {
            lines.push(format!("{}: not done.", kind.test));
        } else if !missing.is_empty() {
            lines.push(format!("{}: not done on {}.", kind.test, cylinders(&missing)));
        }
    }
    lines.push(
        "Everything else. This check looks into the cylinders only: not at the engine running or \
         under load, oil pressure, cooling, fuel, ignition, gearbox, body or papers."
            .to_owned(),
    );
    lines
}

fn having(data: &HandoverData, has: impl Fn(&CylinderRow) -> bool) -> Vec<Cylinder> {
    data.table.rows.iter().filter(|row| has(row)).map(|row| row.cylinder).collect()
}

fn extent(done: &[Cylinder], of: usize) -> String {
    match done.len() {
        1 if of == 1 => "the one cylinder".to_owned(),
        all if all == of => format!("all {of} cylinders"),
        _ => cylinders(done),
    }
}

fn cylinders(some: &[Cylinder]) -> String {
    match some {
        [one] => format!("cylinder {one}"),
        several => format!("cylinders {}", number::listed(several)),
    }
}
