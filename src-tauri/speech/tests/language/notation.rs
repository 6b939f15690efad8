//! Meanings on one line, so that a table of utterances can be read.

use std::fmt::Display;

use borespoke_core::record::{Bore, Stated, Stroke, Valves};
use borespoke_speech::language::{Fact, Meaning, Problem, Statement, Understood, Which};

/// `[3]` is a cylinder that was named, `(3)` one that was filled in.
pub(crate) fn understood(understood: &Understood) -> String {
    let meanings = understood.meanings.iter().map(meaning);
    let problems = understood.problems.iter().map(problem);
    meanings.chain(problems).collect::<Vec<_>>().join("; ")
}

fn meaning(meaning: &Meaning) -> String {
    match meaning {
        Meaning::State(said) => statement(said),
        Meaning::Correct { which, statement: said } => {
            format!("correct {}: {}", self::which(*which), statement(said))
        }
        Meaning::Withdraw(which) => format!("withdraw {}", self::which(*which)),
        Meaning::Repeat { cylinder, like } => format!("again {cylinder} as {}", which(*like)),
        Meaning::Skip { to: Some(to) } => format!("skip to {to}"),
        Meaning::Skip { to: None } => "skip".to_owned(),
        Meaning::Unit(unit) => format!("unit {unit}"),
        Meaning::NextStep => "next step".to_owned(),
        Meaning::StopListening => "stop".to_owned(),
        Meaning::Remark { cylinder: Some(cylinder), .. } => format!("remark [{cylinder}]"),
        Meaning::Remark { .. } => "remark".to_owned(),
    }
}

fn which(which: Which) -> String {
    match which {
        Which::Last => "last".to_owned(),
        Which::Cylinder(cylinder) => format!("[{cylinder}]"),
    }
}

fn statement(said: &Statement) -> String {
    let n = said.cylinder;
    let at = if said.named { format!("[{n}]") } else { format!("({n})") };
    format!("{at} {}", fact(&said.fact))
}

fn fact(fact: &Fact) -> String {
    match fact {
        Fact::Cranking { pressure, bore, stroke } => {
            let bore = if *bore == Bore::Wet { " wet" } else { "" };
            let stroke = match stroke {
                Stroke::Final => String::new(),
                Stroke::After(n) => format!(" after {n}"),
            };
            format!("{}{bore}{stroke}", stated(pressure))
        }
        Fact::LeakDown { leak, valves } => format!("{}{}", stated(leak), tapped(*valves)),
        Fact::TwoGauge { supply, cylinder_side, valves } => {
            format!("{cylinder_side} of {supply}{}", tapped(*valves))
        }
        Fact::Plug { signs } => {
            signs.iter().map(ToString::to_string).collect::<Vec<_>>().join(" + ")
        }
        Fact::Gap { gap } => format!("gap {}", stated(gap)),
        Fact::Air { at } => format!("air {at}"),
    }
}

fn tapped(valves: Valves) -> &'static str {
    if valves == Valves::Tapped { " tapped" } else { "" }
}

fn stated<Q: Display>(stated: &Stated<Q>) -> String {
    let about = if stated.about { "~" } else { "" };
    match &stated.up_to {
        Some(up_to) => format!("{about}{} to {up_to}", stated.value),
        None => format!("{about}{}", stated.value),
    }
}

fn problem(problem: &Problem) -> String {
    match problem {
        Problem::NoSuchCylinder(_) => "!no such cylinder".to_owned(),
        Problem::OutOfRange(_) => "!out of range".to_owned(),
        Problem::Ambiguous(ways) => {
            let ways =
                ways.iter().map(|way| way.iter().map(meaning).collect::<Vec<_>>().join(", "));
            format!("!either {}", ways.collect::<Vec<_>>().join(" or "))
        }
        Problem::Unlikely(_) => "!unlikely".to_owned(),
        Problem::WhichCylinder => "!which cylinder".to_owned(),
        Problem::NothingEarlier => "!nothing earlier".to_owned(),
        Problem::CorrectionUnclear => "!correction unclear".to_owned(),
        Problem::PlugUnclear => "!plug unclear".to_owned(),
        Problem::TwoReadings(cylinder) => format!("!two readings of {cylinder}"),
        Problem::NotARange { .. } => "!not a range".to_owned(),
        other => format!("!{other}"),
    }
}
