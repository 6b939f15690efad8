//! Remarks and small talk. Much of it has numbers in it that are no reading.

use rand::RngExt;
use rand_chacha::ChaCha8Rng;

use super::number::{self, Style};
use super::{Phrase, fill, pick};
use crate::situation::{Quantity, Situation};
use crate::truth::{Entry, Kind};

const REMARKS: [&str; 24] = [
    "note, fresh sealer around the rocker cover",
    "note, the engine was warm when I got here",
    "remark, the battery was flat and on a charger",
    "note, the seller cleaned the engine yesterday",
    "note, oil is black and thick",
    "remark, smells of petrol in the oil",
    "note, coolant looks rusty",
    "there's a heli coil in the plug hole on {n}",
    "note, the plug lead on {n} is burnt",
    "note, one exhaust stud is missing",
    "the timing belt looks new",
    "note, slight knock from the front when cold",
    "remark, dipstick reads low",
    "the head bolts have been off before",
    "note, sump gasket is weeping",
    "note, the air filter is filthy",
    "remark, the odometer shows a hundred and {k} thousand",
    "note, cranking speed is a little slow",
    "note, the thread on {n} is tight",
    "the rocker cover has been painted over",
    "there is emulsion under the oil cap",
    "note, one of the plugs is a different heat range",
    "remark, wiring to the coil has been repaired",
    "note, blue smoke on start up",
];

const TALK: [&str; 72] = [
    "somebody put the kettle on, would you?",
    "turn that radio down a bit",
    "have you seen my ten millimetre socket?",
    "pass me the long extension, please",
    "I'll be done in {k} minutes",
    "what time is lunch today?",
    "the parts come to {k} pounds",
    "that's a lot of money for an old car",
    "did the other bloke call back?",
    "we've got {n} more cars after this one",
    "hold the light a bit higher",
    "where did I leave my glasses?",
    "my back is killing me this morning",
    "it's colder than yesterday, isn't it?",
    "is that compressor still running?",
    "shut the door, it's freezing in here",
    "I used to have one just like this",
    "the boss wants it finished by {n} o'clock",
    "did you watch the game last night?",
    "they lost {n} nil again",
    "hand me a rag, will you?",
    "careful, the manifold is hot",
    "watch your fingers on that fan",
    "okay, crank it over",
    "right, ignition is off",
    "okay, turn the air on",
    "slowly, slowly, keep going",
    "stop right there, that's top dead centre",
    "give me a second here",
    "hang on, the hose popped off",
    "this thread is a bit tight",
    "there we go, that's better",
    "let me write that down later",
    "the customer is coming at {n}",
    "he paid {k} hundred for it, can you believe it?",
    "it's done a hundred and {k} thousand miles",
    "there are {n} bolts on this cover",
    "torque them to {k} newton metres",
    "it's {k} miles from here to the coast",
    "the room is on the {n}th floor",
    "call me on Thursday about the brakes",
    "the van needs a new clutch as well",
    "my daughter turns {k} next week",
    "can you move the blue car out of the way?",
    "is there any coffee left in the pot?",
    "this light keeps flickering",
    "who left the oil drain open?",
    "I need a bigger hammer",
    "the phone is ringing again",
    "tell him I'll call back",
    "that bearing sounds rough",
    "you can smell the exhaust from here",
    "let's see what we've got",
    "good morning, how are you?",
    "thanks, I'll take it from here",
    "do you want sugar in that?",
    "it was raining all the way",
    "bring me the torch",
    "I think that's the wrong gasket",
    "the supplier is out of stock",
    "we ordered {n} of those last month",
    "put it in bay {n}, please",
    "we close at half past {n}",
    "my old truck had {n} gears",
    "that costs about {k} a piece",
    "it's {k} degrees outside",
    "he lives at number {k}, Mill Lane",
    "take the second left after the bridge",
    "is it the red wire or the black one?",
    "wait, let me get the other gauge",
    "the dog is asleep under the bench",
    "ask the lad whether he needs the lift",
];

fn said(patterns: &[&str], random: &mut ChaCha8Rng) -> Phrase {
    let expect =
        [Quantity::Cranking, Quantity::LeakDown, Quantity::Plugs][random.random_range(0..3)];
    let situation = Situation::any(expect, random);
    let few = number::whole(random.random_range(2..8), Style::Plain);
    let many = number::whole(random.random_range(11..95), Style::Plain);
    let words = fill(pick(random, patterns), &[("n", &few), ("k", &many)]);
    // "the fiveth floor"
    let words = ["two", "three", "five"]
        .iter()
        .zip(["second", "third", "fifth"])
        .fold(words, |words, (number, rank)| {
            words.replace(&format!("{number}th "), &format!("{rank} "))
        });
    Phrase { words, situation, heard: vec![Entry::of(Kind::Remark)] }
}

/// A remark for the log.
pub fn remark(random: &mut ChaCha8Rng) -> Phrase {
    said(&REMARKS, random)
}

/// Talk that is not for the phone.
pub fn small_talk(random: &mut ChaCha8Rng) -> Phrase {
    said(&TALK, random)
}
