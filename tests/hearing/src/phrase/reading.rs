//! Cranking pressures and leak-downs.

use rand::RngExt;
use rand_chacha::ChaCha8Rng;

use super::number::{self, Style};
use super::{Phrase, chance, cylinder_named, fill, pick};
use crate::situation::{Quantity, Situation};
use crate::truth::{Entry, Kind};

/// A value, as it is entered and as it is said, without its unit.
pub(super) struct Amount {
    pub(super) value: f64,
    pub(super) said: String,
}

/// A cranking pressure that some engine might show, in the unit.
pub(super) fn pressure(unit: &str, random: &mut ChaCha8Rng) -> Amount {
    // Most cylinders are sound; a fifth are not; a few are dead or carboned up.
    let psi: u32 = match random.random_range(0..20) {
        0 => random.random_range(0..60),
        1..5 => random.random_range(60..120),
        5..18 => random.random_range(120..185),
        _ => random.random_range(185..240),
    };
    match unit {
        "kPa" => {
            let kilopascals = (psi * 69 / 10 + 2) / 5 * 5;
            let said = number::whole(kilopascals, Style::any(random));
            Amount { value: f64::from(kilopascals), said }
        }
        "bar" => {
            let tenths = psi * 69 / 100;
            Amount { value: f64::from(tenths) / 10.0, said: number::tenths(tenths, random) }
        }
        _ => Amount { value: f64::from(psi), said: number::whole(psi, Style::any(random)) },
    }
}

/// A leak that some cylinder might show, in percent.
pub(super) fn leak(random: &mut ChaCha8Rng) -> Amount {
    let percent: u32 = match random.random_range(0..10) {
        0..6 => random.random_range(2..20),
        6..9 => random.random_range(20..60),
        _ => random.random_range(60..100),
    };
    if percent < 30 && chance(random, 0.1) {
        let tenths = percent * 10 + 5;
        return Amount { value: f64::from(tenths) / 10.0, said: number::tenths(tenths, random) };
    }
    Amount { value: f64::from(percent), said: number::whole(percent, Style::Pairs) }
}

/// The unit's name, or nothing where the unit is the one in hand.
pub(super) fn unit_said(unit: &str, in_hand: &str, random: &mut ChaCha8Rng) -> &'static str {
    if unit == in_hand && chance(random, 0.4) {
        return "";
    }
    match unit {
        "kPa" => " kPa",
        "bar" => " bar",
        "percent" => " percent",
        _ => pick(random, &[" psi", " psi", " psi", " pounds"]),
    }
}

fn any_unit(in_hand: &str, random: &mut ChaCha8Rng) -> String {
    match random.random_range(0..20) {
        0 => "kPa".to_owned(),
        1 => "bar".to_owned(),
        _ => in_hand.to_owned(),
    }
}

pub(super) fn cranking_entry(cylinder: u32, value: f64, unit: &str, wet: bool) -> Entry {
    Entry {
        cylinder: Some(cylinder),
        value: Some(value),
        unit: Some(unit.to_owned()),
        wet,
        ..Entry::of(Kind::Cranking)
    }
}

pub(super) fn leak_entry(cylinder: u32, value: f64) -> Entry {
    Entry {
        cylinder: Some(cylinder),
        value: Some(value),
        unit: Some("percent".to_owned()),
        ..Entry::of(Kind::LeakDown)
    }
}

/// Adds a hedge or makes a range of it, sometimes.
fn loosen(amount: &Amount, entry: &mut Entry, random: &mut ChaCha8Rng) -> String {
    match random.random_range(0..12) {
        0 => {
            entry.about = true;
            format!("{} {}", pick(random, &["about", "around", "roughly"]), amount.said)
        }
        1 if amount.value.fract() == 0.0 && amount.value > 2.0 && amount.value < 300.0 => {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "whole and below 300"
            )]
            let least = amount.value as u32;
            let step = if least < 100 { 1 } else { 5 };
            let low = number::whole(least, Style::Pairs);
            let high = number::whole(least + step, Style::Pairs);
            entry.up_to = Some(f64::from(least + step));
            match random.random_range(0..3) {
                0 => format!("{low}, {high}"),
                1 => format!("between {low} and {high}"),
                _ => format!("{low} to {high}"),
            }
        }
        _ => amount.said.clone(),
    }
}

/// One cranking pressure.
pub fn cranking(random: &mut ChaCha8Rng) -> Phrase {
    let situation = Situation::any(Quantity::Cranking, random);
    let unit = any_unit(&situation.unit, random);
    let amount = pressure(&unit, random);
    let bore = match random.random_range(0..10) {
        0..3 => Some(false),
        3..5 => Some(true),
        _ => None,
    };
    let bore_said = match bore {
        Some(true) => " wet",
        Some(false) => " dry",
        None => "",
    };
    let unit_said = unit_said(&unit, &situation.unit, random);
    let named = chance(random, 0.8);
    let cylinder = if named { situation.some_cylinder(random) } else { situation.next };
    let mut entry = cranking_entry(cylinder, amount.value, &unit, bore.unwrap_or(situation.wet));
    let said = loosen(&amount, &mut entry, random);
    let pattern = if named {
        pick(
            random,
            &[
                "{cylinder}, {n}{unit}{bore}",
                "{cylinder}, {n}{unit}{bore}",
                "{cylinder} is {n}{unit}{bore}",
                "{cylinder} reads {n}{unit}{bore}",
                "{cylinder},{bore}, {n}{unit}",
                "{cylinder} comes up at {n}{unit}{bore}",
                "{n}{unit}{bore} on {cylinder}",
                "I've got {n}{unit}{bore} on {cylinder}",
                "{cylinder} is low, {n}{unit}{bore}",
                "okay, {cylinder}, {n}{unit}{bore}",
            ],
        )
    } else {
        pick(
            random,
            &[
                "{n}{unit}{bore}",
                "{n}{unit}{bore}",
                "that's {n}{unit}{bore}",
                "reading {n}{unit}{bore}",
            ],
        )
    };
    let cylinder = cylinder_named(cylinder, random);
    let parts =
        [("cylinder", cylinder.as_str()), ("n", &said), ("unit", unit_said), ("bore", bore_said)];
    let words = fill(pattern, &parts).replace(",,", ",");
    Phrase { words, situation, heard: vec![entry] }
}

/// Both pressures of a cylinder in one breath.
pub fn dry_and_wet(random: &mut ChaCha8Rng) -> Phrase {
    let mut situation = Situation::any(Quantity::Cranking, random);
    "psi".clone_into(&mut situation.unit);
    let cylinder = situation.some_cylinder(random);
    let dry = random.random_range(50..140);
    let wet = dry + random.random_range(0..50);
    let style = Style::any(random);
    let parts = [
        ("cylinder", cylinder_named(cylinder, random)),
        ("dry", number::whole(dry, style)),
        ("wet", number::whole(wet, style)),
    ];
    let pattern = pick(
        random,
        &[
            "{cylinder}, {dry} dry, {wet} wet",
            "{cylinder}, {dry} dry and {wet} wet",
            "{cylinder}, dry {dry}, wet {wet}",
            "{cylinder}, {dry} psi dry, {wet} psi wet",
        ],
    );
    let parts: Vec<(&str, &str)> =
        parts.iter().map(|(name, said)| (*name, said.as_str())).collect();
    let words = fill(pattern, &parts);
    let heard = vec![
        cranking_entry(cylinder, f64::from(dry), "psi", false),
        cranking_entry(cylinder, f64::from(wet), "psi", true),
    ];
    Phrase { words, situation, heard }
}

/// Two or three cylinders in one breath.
pub fn run(random: &mut ChaCha8Rng) -> Phrase {
    let leak_run = chance(random, 0.3);
    let expect = if leak_run { Quantity::LeakDown } else { Quantity::Cranking };
    let mut situation = Situation::any(expect, random);
    "psi".clone_into(&mut situation.unit);
    let count = random.random_range(2..4);
    let start = situation.firing_order.iter().position(|&c| c == situation.next).unwrap_or(0);
    let word = pick(random, &["", "cylinder ", "number "]);
    let mut said = Vec::new();
    let mut heard = Vec::new();
    for i in 0..count {
        let cylinder = situation.firing_order[(start + i) % situation.firing_order.len()];
        let name = number::whole(cylinder, Style::Plain);
        if leak_run {
            let amount = leak(random);
            said.push(format!("{word}{name}, {} percent", amount.said));
            heard.push(leak_entry(cylinder, amount.value));
        } else {
            let psi: u32 = random.random_range(110..180);
            said.push(format!("{word}{name}, {}", number::whole(psi, Style::Pairs)));
            heard.push(cranking_entry(cylinder, f64::from(psi), "psi", situation.wet));
        }
    }
    Phrase { words: said.join(". "), situation, heard }
}

/// One leak-down.
pub fn leak_down(random: &mut ChaCha8Rng) -> Phrase {
    let situation = Situation::any(Quantity::LeakDown, random);
    let named = chance(random, 0.8);
    let cylinder = if named { situation.some_cylinder(random) } else { situation.next };
    let amount = leak(random);
    let mut entry = leak_entry(cylinder, amount.value);
    let said = loosen(&amount, &mut entry, random);
    let unit = if chance(random, 0.85) { " percent" } else { "" };
    let pattern = if named {
        pick(
            random,
            &[
                "{cylinder}, {n}{unit}",
                "{cylinder}, {n}{unit}",
                "{cylinder} is {n}{unit}",
                "{cylinder} leaks {n}{unit}",
                "{cylinder} leak-down {n}{unit}",
                "leak-down on {cylinder}, {n}{unit}",
                "{n}{unit} on {cylinder}",
                "{cylinder} is losing {n}{unit}",
                "I've got {n}{unit} on {cylinder}",
            ],
        )
    } else {
        pick(random, &["{n}{unit}", "{n}{unit}", "that's {n}{unit}", "leaking {n}{unit}"])
    };
    let cylinder = cylinder_named(cylinder, random);
    let parts = [("cylinder", cylinder.as_str()), ("n", &said), ("unit", unit)];
    Phrase { words: fill(pattern, &parts), situation, heard: vec![entry] }
}
