//! What the phone says back: short, in the words a mechanic uses.

use borespoke_core::quantity::{
    LeakPercent, LengthUnit, PressureUnit, StatedLength, StatedPressure,
};
use borespoke_core::record::{AirExit, Bore, Observation, Stated, Stroke, Valves};

use crate::language::{Decimal, Fact, Statement, say, say_cylinder};

/// An observation in words: "cylinder three, twenty-three percent".
#[must_use]
pub fn read_back(observation: &Observation) -> String {
    match (Statement::of(observation), observation) {
        (Some(statement), _) => spoken_statement(&statement),
        (None, Observation::Remark(remark)) => format!("remark: {}", remark.text),
        (None, Observation::Borescope(look)) => {
            format!("cylinder {}, borescope: {}", say_cylinder(look.cylinder), look.in_words())
        }
        (None, _) => String::new(),
    }
}

/// A statement in words.
#[must_use]
pub fn spoken_statement(statement: &Statement) -> String {
    format!("cylinder {}, {}", say_cylinder(statement.cylinder), fact(&statement.fact))
}

pub(super) fn fact(fact: &Fact) -> String {
    match fact {
        Fact::Cranking { pressure, bore, stroke } => {
            let unit = unit_words(pressure.value.unit());
            let value = stated(pressure, StatedPressure::value);
            let bore = if *bore == Bore::Wet { ", wet" } else { "" };
            let stroke = match stroke {
                Stroke::Final => String::new(),
                Stroke::After(n) => format!(", stroke {}", number(f64::from(n.get()))),
            };
            format!("{value} {unit}{bore}{stroke}")
        }
        Fact::LeakDown { leak, valves } => {
            format!("{} percent{}", stated(leak, LeakPercent::percent), tapped(*valves))
        }
        Fact::TwoGauge { supply, cylinder_side, valves } => format!(
            "{} over {}{}",
            number(cylinder_side.value()),
            number(supply.value()),
            tapped(*valves)
        ),
        Fact::Plug { signs } => {
            format!("plug {}", signs.iter().map(|sign| sign.name()).collect::<Vec<_>>().join(", "))
        }
        Fact::Gap { gap } => {
            let unit = match gap.value.unit() {
                LengthUnit::Thou => "thou",
                LengthUnit::Millimetre => "millimetres",
            };
            format!("gap {} {unit}", stated(gap, StatedLength::value))
        }
        Fact::Air { at } => match at {
            AirExit::Nowhere => "no air heard".to_owned(),
            exit => format!("air at the {exit}"),
        },
    }
}

/// A unit as it is said.
pub(super) const fn unit_words(unit: PressureUnit) -> &'static str {
    match unit {
        PressureUnit::Psi => "psi",
        PressureUnit::Kilopascal => "kilopascals",
        PressureUnit::Bar => "bar",
        PressureUnit::KgfPerCm2 => "kilos",
    }
}

fn tapped(valves: Valves) -> &'static str {
    match valves {
        Valves::AsFound => "",
        Valves::Tapped => ", after tapping",
    }
}

fn stated<Q: Copy>(stated: &Stated<Q>, value: impl Fn(Q) -> f64) -> String {
    let about = if stated.about { "about " } else { "" };
    let from = number(value(stated.value));
    match stated.up_to {
        Some(up_to) => format!("{about}{from} to {}", number(value(up_to))),
        None => format!("{about}{from}"),
    }
}

fn number(value: f64) -> String {
    say(Decimal::nearest(value))
}
