//! Putting right, taking back, saying again.

use rand_chacha::ChaCha8Rng;

use super::reading::{Amount, cranking_entry, leak, leak_entry, pressure, unit_said};
use super::{Phrase, chance, cylinder_named, fill, pick};
use crate::situation::{Quantity, Situation};
use crate::truth::{Entry, Kind};

/// A job in which the cylinder before the expected one has just been measured.
fn after_a_reading(random: &mut ChaCha8Rng) -> (Situation, Entry) {
    let expect = if chance(random, 0.6) { Quantity::Cranking } else { Quantity::LeakDown };
    let mut situation = Situation::any(expect, random);
    let cylinder = situation.previous();
    let last = if expect == Quantity::Cranking {
        let value = pressure(&situation.unit, random).value;
        cranking_entry(cylinder, value, &situation.unit, situation.wet)
    } else {
        leak_entry(cylinder, leak(random).value)
    };
    situation.last = Some(last.clone());
    (situation, last)
}

/// Another value of the same kind and unit, never the same one.
fn another(last: &Entry, random: &mut ChaCha8Rng) -> Amount {
    loop {
        let amount = match last.unit.as_deref() {
            Some("percent") | None => leak(random),
            Some(unit) => pressure(unit, random),
        };
        if Some(amount.value) != last.value {
            return amount;
        }
    }
}

/// The last one put right.
pub fn correct_last(random: &mut ChaCha8Rng) -> Phrase {
    let (situation, last) = after_a_reading(random);
    let amount = another(&last, random);
    let unit = last.unit.clone().unwrap_or_default();
    let unit = unit_said(&unit, &unit, random);
    let pattern = pick(
        random,
        &[
            "no, {n}{unit}",
            "no, {n}{unit}",
            "no, make that {n}{unit}",
            "correction, {n}{unit}",
            "sorry, {n}{unit}",
            "I mean {n}{unit}",
            "make that {n}{unit}",
            "that should be {n}{unit}",
        ],
    );
    let words = fill(pattern, &[("n", &amount.said), ("unit", unit)]);
    let entry = Entry { kind: Kind::Correction, value: Some(amount.value), ..last };
    Phrase { words, situation, heard: vec![entry] }
}

/// A named one put right.
pub fn correct_named(random: &mut ChaCha8Rng) -> Phrase {
    let (situation, last) = after_a_reading(random);
    let amount = another(&last, random);
    let cylinder = last.cylinder.unwrap_or(1);
    let unit = last.unit.clone().unwrap_or_default();
    let unit = unit_said(&unit, &unit, random);
    let pattern = pick(
        random,
        &[
            "correction on {cylinder}, {n}{unit}",
            "correct {cylinder} to {n}{unit}",
            "change {cylinder} to {n}{unit}",
            "{cylinder} should be {n}{unit}",
            "no, {cylinder} is {n}{unit}",
            "make {cylinder} {n}{unit}",
        ],
    );
    // The bare number would run into the value.
    let named = format!("{} {}", pick(random, &["cylinder", "number"]), {
        super::number::whole(cylinder, super::number::Style::Plain)
    });
    let words = fill(pattern, &[("cylinder", &named), ("n", &amount.said), ("unit", unit)]);
    let entry = Entry { kind: Kind::Correction, value: Some(amount.value), ..last };
    Phrase { words, situation, heard: vec![entry] }
}

/// Put right before the breath is over: only the second value counts.
pub fn correct_in_breath(random: &mut ChaCha8Rng) -> Phrase {
    let expect = if chance(random, 0.6) { Quantity::Cranking } else { Quantity::LeakDown };
    let situation = Situation::any(expect, random);
    let cylinder = situation.some_cylinder(random);
    let (entry, first, second) = if expect == Quantity::Cranking {
        let (first, second) =
            (pressure(&situation.unit, random), pressure(&situation.unit, random));
        let entry = cranking_entry(cylinder, second.value, &situation.unit, situation.wet);
        (entry, first, second)
    } else {
        let (first, second) = (leak(random), leak(random));
        (leak_entry(cylinder, second.value), first, second)
    };
    let unit = entry.unit.clone().unwrap_or_default();
    let unit = unit_said(&unit, &unit, random);
    let pattern = pick(
        random,
        &[
            "{cylinder}, {first}, no, {second}{unit}",
            "{cylinder}, {first}, sorry, {second}{unit}",
            "{cylinder}, {first}. No, {second}{unit}",
            "{cylinder}, {first}, I mean {second}{unit}",
            "{cylinder} is {first}, no, make that {second}{unit}",
        ],
    );
    let cylinder = cylinder_named(cylinder, random);
    let parts = [
        ("cylinder", cylinder.as_str()),
        ("first", &first.said),
        ("second", &second.said),
        ("unit", unit),
    ];
    Phrase { words: fill(pattern, &parts), situation, heard: vec![entry] }
}

/// Something taken back.
pub fn withdraw(random: &mut ChaCha8Rng) -> Phrase {
    let (situation, last) = after_a_reading(random);
    let pattern = pick(
        random,
        &[
            "take that back",
            "scratch that",
            "delete that",
            "cancel that",
            "strike that",
            "forget that one",
            "take that back, please",
            "delete the last one",
            "take back {cylinder}",
            "delete {cylinder}",
        ],
    );
    let number = super::number::whole(last.cylinder.unwrap_or(1), super::number::Style::Plain);
    let named = format!("{} {number}", pick(random, &["cylinder", "number"]));
    let entry = Entry { cylinder: last.cylinder, ..Entry::of(Kind::Withdrawal) };
    Phrase { words: fill(pattern, &[("cylinder", &named)]), situation, heard: vec![entry] }
}

/// The same value as the last.
pub fn same_again(random: &mut ChaCha8Rng) -> Phrase {
    let (situation, last) = after_a_reading(random);
    let named = chance(random, 0.5);
    let pattern = if named {
        pick(
            random,
            &["{cylinder}, same again", "{cylinder}, the same", "{cylinder}, same as the last one"],
        )
    } else {
        pick(random, &["same again", "same as the last one", "same"])
    };
    let cylinder = situation.next;
    let words = fill(pattern, &[("cylinder", &cylinder_named(cylinder, random))]);
    let entry = Entry { cylinder: Some(cylinder), ..last };
    Phrase { words, situation, heard: vec![entry] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seed::stream;

    #[test]
    fn a_correction_changes_the_value_and_nothing_else() {
        for i in 0..200 {
            let phrase = correct_last(&mut stream(i, "c"));
            let (last, now) = (phrase.situation.last.unwrap(), &phrase.heard[0]);
            assert_ne!(last.value, now.value);
            assert_eq!(Entry { kind: last.kind, value: last.value, ..now.clone() }, last);
        }
    }

    #[test]
    fn a_withdrawal_names_what_was_measured_last() {
        for i in 0..50 {
            let phrase = withdraw(&mut stream(i, "w"));
            let last = phrase.situation.last.unwrap();
            assert_eq!(phrase.heard[0].cylinder, last.cylinder);
        }
    }
}
