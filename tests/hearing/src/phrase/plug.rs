//! Plugs: what they look like, and their gaps.

use rand::RngExt;
use rand_chacha::ChaCha8Rng;

use super::number::{self, Style};
use super::{Phrase, chance, cylinder_named, fill, pick};
use crate::situation::{Quantity, Situation};
use crate::truth::{Entry, Kind};

/// Each sign as `PlugSign` is written in files, with ways to say it after "is".
const SIGNS: [(&str, &[&str]); 12] = [
    ("normal", &["normal", "tan, normal", "light tan", "nice and tan", "normal, light grey"]),
    (
        "dry-carbon",
        &["sooty", "dry and sooty", "black and sooty", "covered in dry soot", "black, dry carbon"],
    ),
    ("oil-wet", &["wet with oil", "oily", "oil fouled", "black and oily"]),
    ("fuel-wet", &["wet with fuel", "wet with petrol", "fuel fouled", "soaked in fuel"]),
    ("blistered-white", &["white and blistered", "burnt white", "blistered"]),
    ("glazed", &["glazed", "glazed and shiny"]),
    ("bridged", &["bridged", "bridged across the gap"]),
    ("ash", &["covered in ash", "full of ash", "ashy"]),
    ("melted", &["melted", "melted at the electrode"]),
    ("cracked", &["cracked", "cracked at the insulator"]),
    ("metal-specks", &["covered in metal specks", "showing metal specks"]),
    ("worn", &["worn", "worn out", "worn round"]),
];

fn plug_named(number: u32, random: &mut ChaCha8Rng) -> String {
    let said = number::whole(number, Style::Plain);
    match random.random_range(0..4) {
        0 => format!("plug {said}"),
        1 => format!("number {said} plug"),
        2 => format!("the plug from {}", cylinder_named(number, random)),
        _ => cylinder_named(number, random),
    }
}

/// A plug described.
pub fn look(random: &mut ChaCha8Rng) -> Phrase {
    let situation = Situation::any(Quantity::Plugs, random);
    let named = chance(random, 0.85);
    let cylinder = if named { situation.some_cylinder(random) } else { situation.next };
    // Half the plugs of the world are normal; here they get a quarter, to leave room for the rest.
    let at = if chance(random, 0.2) { 0 } else { random.random_range(0..SIGNS.len()) };
    let (sign, ways) = SIGNS[at];
    let way = pick(random, ways);
    let pattern = if named {
        pick(
            random,
            &[
                "{plug}, {sign}",
                "{plug} is {sign}",
                "{plug} looks {sign}",
                "{plug}, this one is {sign}",
            ],
        )
    } else {
        pick(random, &["this one is {sign}", "{sign}", "looks {sign}"])
    };
    let words = fill(pattern, &[("plug", &plug_named(cylinder, random)), ("sign", way)]);
    let words =
        words.replace("looks covered in", "is covered in").replace("looks showing", "is showing");
    let entry =
        Entry { cylinder: Some(cylinder), signs: vec![sign.to_owned()], ..Entry::of(Kind::Look) };
    Phrase { words, situation, heard: vec![entry] }
}

/// A plug gap.
pub fn gap(random: &mut ChaCha8Rng) -> Phrase {
    let situation = Situation::any(Quantity::Plugs, random);
    let cylinder = situation.some_cylinder(random);
    let (value, unit, said) = if chance(random, 0.65) {
        let thou: u32 = random.random_range(20..60);
        let unit = pick(random, &["thou", "thou", "thousandths"]);
        (f64::from(thou), "thou", format!("{} {unit}", number::whole(thou, Style::Pairs)))
    } else {
        let tenths: u32 = random.random_range(5..14);
        let said = number::tenths(tenths, random);
        let unit = pick(random, &["millimetres", "mil", "millimetres"]);
        // "mil" is thou to some and millimetres to others; only the long name is clear.
        let unit = if unit == "mil" { "millimetre" } else { unit };
        (f64::from(tenths) / 10.0, "mm", format!("{said} {unit}"))
    };
    let pattern = pick(
        random,
        &[
            "{cylinder} gap {n}",
            "{cylinder}, gap is {n}",
            "gap on {cylinder}, {n}",
            "plug gap on {cylinder} is {n}",
        ],
    );
    let words = fill(pattern, &[("cylinder", &cylinder_named(cylinder, random)), ("n", &said)]);
    let entry = Entry {
        cylinder: Some(cylinder),
        value: Some(value),
        unit: Some(unit.to_owned()),
        ..Entry::of(Kind::Gap)
    };
    Phrase { words, situation, heard: vec![entry] }
}
