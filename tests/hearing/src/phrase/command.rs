//! Commands that add nothing to the log.

use rand::RngExt;
use rand_chacha::ChaCha8Rng;

use super::number::{self, Style};
use super::{Phrase, fill, pick};
use crate::situation::{Quantity, Situation};

/// A command.
pub fn command(random: &mut ChaCha8Rng) -> Phrase {
    let expect =
        [Quantity::Cranking, Quantity::LeakDown, Quantity::Plugs][random.random_range(0..3)];
    let situation = Situation::any(expect, random);
    let pattern = pick(
        random,
        &[
            "skip to cylinder {n}",
            "go to number {n}",
            "jump to cylinder {n}",
            "next cylinder",
            "what's next?",
            "what should I test next?",
            "next step, please",
            "stop listening",
            "stop listening now",
        ],
    );
    let at = random.random_range(0..situation.firing_order.len());
    let number = number::whole(situation.firing_order[at], Style::Plain);
    Phrase { words: fill(pattern, &[("n", &number)]), situation, heard: Vec::new() }
}
