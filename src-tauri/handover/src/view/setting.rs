//! Where and with what it was measured, and what to mind.

use borespoke_core::engine::Fuel;
use borespoke_core::job::Warmth;
use borespoke_core::quantity::{LengthUnit, PressureUnit};
use borespoke_core::tester::{Tester, TesterKind, ZeroCheck};
use serde::Serialize;

use super::number;
use crate::data::HandoverData;

/// Something said of the conditions or the engine.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Fact {
    /// What.
    pub what: &'static str,
    /// How it was.
    pub how: String,
}

/// A tester.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TesterUsed {
    /// Its name in the job.
    pub name: String,
    /// What it measures, with what is known of it.
    pub what: String,
    /// Its zero check.
    pub zero: String,
    /// Whether the zero check gives confidence.
    pub trusted: bool,
}

/// Said where something was not noted.
const NOT_NOTED: &str = "not noted";

/// The conditions.
pub fn conditions(data: &HandoverData) -> Vec<Fact> {
    let given = &data.job.conditions;
    let yes = |said: Option<bool>, yes: &str, no: &str| {
        said.map_or(NOT_NOTED, |said| if said { yes } else { no }).to_owned()
    };
    let warmth = match given.warmth {
        Some(Warmth::Cold) => "cold, not run that day",
        Some(Warmth::Warm) => "warm",
        Some(Warmth::Hot) => "at working temperature",
        None => NOT_NOTED,
    };
    let mut facts = vec![
        Fact { what: "Engine", how: warmth.to_owned() },
        Fact {
            what: "Throttle while cranking",
            how: yes(given.throttle_open, "wide open", "not wide open"),
        },
        Fact {
            what: "Plugs while cranking",
            how: yes(given.all_plugs_out, "all out", "not all out"),
        },
        Fact {
            what: "Battery",
            how: yes(given.battery_charged, "charged or supported", "not fully charged"),
        },
        Fact { what: "Ignition and fuel", how: yes(given.made_safe, "made safe", "not made safe") },
    ];
    if let Some(altitude) = given.altitude {
        let how = format!("{} m above sea level", number::fixed(altitude.metres(), 0));
        facts.push(Fact { what: "Height", how });
    }
    if let Some(air) = given.barometer {
        let kilopascals = air.pascals() / PressureUnit::Kilopascal.pascals();
        let how = format!("{} kPa", number::fixed(kilopascals, 1));
        facts.push(Fact { what: "Air pressure", how });
    }
    for note in &given.notes {
        facts.push(Fact { what: "Note", how: note.clone() });
    }
    facts
}

/// The engine in one line: "6 cylinders, petrol, firing order 1-5-3-6-2-4".
pub fn engine(data: &HandoverData) -> String {
    let engine = &data.job.engine;
    let mut parts = vec![match engine.cylinder_count() {
        1 => "1 cylinder".to_owned(),
        count => format!("{count} cylinders"),
    }];
    if let Some(fuel) = engine.fuel {
        parts.push(
            match fuel {
                Fuel::Petrol => "petrol",
                Fuel::Diesel => "diesel",
                Fuel::Lpg => "LPG",
            }
            .to_owned(),
        );
    }
    let dimensions = &engine.dimensions;
    let whole = |length: borespoke_core::quantity::Length| {
        number::percent_number(length.in_unit(LengthUnit::Millimetre))
    };
    if let (Some(bore), Some(stroke)) = (dimensions.bore, dimensions.stroke) {
        parts.push(format!("bore {} mm, stroke {} mm", whole(bore), whole(stroke)));
    }
    if let Some(ratio) = dimensions.compression_ratio {
        parts.push(format!("compression ratio {} to 1", number::percent_number(ratio.to_one())));
    }
    parts.push(format!("firing order {}", engine.firing_order()));
    parts.join(", ")
}

/// The testers.
pub fn testers(data: &HandoverData) -> Vec<TesterUsed> {
    data.job.testers.iter().map(tester).collect()
}

fn tester(tester: &Tester) -> TesterUsed {
    let (zero, trusted) = match &tester.zero {
        ZeroCheck::Good => ("back to zero before use".to_owned(), true),
        ZeroCheck::NotDone => ("not checked".to_owned(), false),
        ZeroCheck::Off { note } => (format!("off: {note}"), false),
    };
    TesterUsed { name: tester.name.clone(), what: measures(tester.kind), zero, trusted }
}

fn measures(kind: TesterKind) -> String {
    let mut parts = Vec::new();
    match kind {
        TesterKind::CrankingGauge { resolution } => {
            parts.push("cranking gauge".to_owned());
            if let Some(resolution) = resolution {
                parts.push(format!("marks every {resolution}"));
            }
        }
        TesterKind::LeakDownSet { restrictor, supply } => {
            parts.push("leak-down set".to_owned());
            parts.push(restrictor.map_or_else(
                || "restrictor not noted".to_owned(),
                |bore| format!("restrictor {}", number::millimetres(bore)),
            ));
            if let Some(supply) = supply {
                parts.push(format!("supply {}", number::pressure(supply)));
            }
        }
    }
    parts.join(", ")
}

/// What to mind when a test is made or repeated, and what a number does not say.
pub fn cautions(data: &HandoverData) -> Vec<String> {
    let mut cautions = vec![
        "Before cranking with plugs out: ignition and fuel off, leads away from the plug holes, \
         nobody near belts and fans."
            .to_owned(),
        "Air on a cylinder can turn the engine with force. Lock the crank, keep hands and tools \
         clear, wear eye protection, raise the pressure slowly."
            .to_owned(),
        "A hot engine burns. Ignition voltage can kill; touch nothing of it while it is live."
            .to_owned(),
        "A leak-down percentage compares only with readings on the same tester.".to_owned(),
    ];
    let unbalanced = |row: &borespoke_core::record::CylinderRow| {
        row.figures.is_some_and(|figures| !figures.balanced)
    };
    if data.table.rows.iter().any(unbalanced) {
        cautions.push(
            "Plug colours marked “not balanced” were taken without a grey or white reference in the \
             picture; they cannot be compared with others."
                .to_owned(),
        );
    }
    cautions
}

/// Who has the last word.
pub const DEFERENCE: &str = "The maker's manual, local rules and a licensed workshop come before \
                             this document. Limits differ between makers; the maker's own for this \
                             engine decide. Probabilities come from a written model and the entries \
                             listed, nothing else.";
