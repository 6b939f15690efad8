//! Where the air is heard.

use rand::RngExt;
use rand_chacha::ChaCha8Rng;

use super::reading::leak_entry;
use super::{Phrase, chance, cylinder_named, fill, pick};
use crate::situation::{Quantity, Situation};
use crate::truth::{Entry, Kind};

/// Each exit as `AirExit` is written in files, with its names after "at" or "out of".
const EXITS: [(&str, &[&str]); 6] = [
    ("intake", &["the intake", "the throttle", "the throttle body"]),
    ("exhaust", &["the exhaust", "the tailpipe", "the exhaust pipe"]),
    ("oil filler", &["the oil filler", "the breather", "the dipstick tube", "the oil cap"]),
    ("coolant", &["the radiator", "the coolant tank", "the coolant"]),
    ("next plug hole", &["the next plug hole", "the neighbouring plug hole"]),
    ("fitting", &["the fitting", "the hose fitting"]),
];

/// Where air is heard.
pub fn listening(random: &mut ChaCha8Rng) -> Phrase {
    let mut situation = Situation::any(Quantity::LeakDown, random);
    // Listening follows a leak-down of the same cylinder.
    let measured = situation.previous();
    situation.last = Some(leak_entry(measured, f64::from(random.random_range(5..60_u32))));
    let named = chance(random, 0.6);
    let cylinder =
        if named && chance(random, 0.3) { situation.some_cylinder(random) } else { measured };
    let (exit, names) = EXITS[random.random_range(0..EXITS.len())];
    let pattern = if named {
        pick(
            random,
            &[
                "{cylinder}, air at {place}",
                "{cylinder}, I hear air at {place}",
                "air coming out of {place} on {cylinder}",
                "{cylinder} is hissing at {place}",
                "on {cylinder} the air comes out of {place}",
            ],
        )
    } else {
        pick(
            random,
            &[
                "I hear it at {place}",
                "air at {place}",
                "air coming out of {place}",
                "hissing at {place}",
                "it's blowing out of {place}",
            ],
        )
    };
    let parts =
        [("cylinder", cylinder_named(cylinder, random)), ("place", pick(random, names).to_owned())];
    let parts: Vec<(&str, &str)> =
        parts.iter().map(|(name, said)| (*name, said.as_str())).collect();
    let entry =
        Entry { cylinder: Some(cylinder), at: Some(exit.to_owned()), ..Entry::of(Kind::Listening) };
    Phrase { words: fill(pattern, &parts), situation, heard: vec![entry] }
}
