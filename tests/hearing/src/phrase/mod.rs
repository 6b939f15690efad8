//! What a mechanic says, and what must be heard in it.
//!
//! Written apart from the grammar in `speech`, so that the two can disagree.

mod aside;
mod command;
mod listening;
mod number;
mod plug;
mod reading;
mod repair;

use rand::RngExt;
use rand_chacha::ChaCha8Rng;
use serde::{Deserialize, Serialize};

use crate::situation::Situation;
use crate::truth::Entry;

/// What an utterance is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Act {
    /// One cranking pressure.
    Cranking,
    /// Dry and wet in one breath.
    DryAndWet,
    /// Several cylinders in one breath.
    Run,
    /// One leak-down.
    LeakDown,
    /// A plug described.
    Look,
    /// A plug gap.
    Gap,
    /// Where air is heard.
    Listening,
    /// The last one put right.
    CorrectLast,
    /// A named one put right.
    CorrectNamed,
    /// Put right before the breath is over.
    CorrectInBreath,
    /// Something taken back.
    Withdraw,
    /// The same value as the last.
    SameAgain,
    /// A command that adds nothing to the log.
    Command,
    /// A remark for the log.
    Remark,
    /// Talk that is not for the phone.
    SmallTalk,
}

impl Act {
    /// Every act, and how many of it there are in the corpus.
    pub const COUNTS: [(Self, usize); 15] = [
        (Self::Cranking, 600),
        (Self::DryAndWet, 80),
        (Self::Run, 60),
        (Self::LeakDown, 400),
        (Self::Look, 200),
        (Self::Gap, 80),
        (Self::Listening, 150),
        (Self::CorrectLast, 150),
        (Self::CorrectNamed, 100),
        (Self::CorrectInBreath, 100),
        (Self::Withdraw, 80),
        (Self::SameAgain, 50),
        (Self::Command, 100),
        (Self::Remark, 120),
        (Self::SmallTalk, 280),
    ];

    /// The name in manifests.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cranking => "cranking",
            Self::DryAndWet => "dry-and-wet",
            Self::Run => "run",
            Self::LeakDown => "leak-down",
            Self::Look => "look",
            Self::Gap => "gap",
            Self::Listening => "listening",
            Self::CorrectLast => "correct-last",
            Self::CorrectNamed => "correct-named",
            Self::CorrectInBreath => "correct-in-breath",
            Self::Withdraw => "withdraw",
            Self::SameAgain => "same-again",
            Self::Command => "command",
            Self::Remark => "remark",
            Self::SmallTalk => "small-talk",
        }
    }

    /// Whether nothing of it may become a reading.
    #[must_use]
    pub const fn is_talk(self) -> bool {
        matches!(self, Self::Command | Self::Remark | Self::SmallTalk)
    }
}

/// Words, when they are said, and what must be heard.
#[derive(Debug, Clone, PartialEq)]
pub struct Phrase {
    /// The words.
    pub words: String,
    /// The state of the job.
    pub situation: Situation,
    /// The entries that must come of it.
    pub heard: Vec<Entry>,
}

/// Something said for `act`.
pub fn say(act: Act, random: &mut ChaCha8Rng) -> Phrase {
    let mut phrase = match act {
        Act::Cranking => reading::cranking(random),
        Act::DryAndWet => reading::dry_and_wet(random),
        Act::Run => reading::run(random),
        Act::LeakDown => reading::leak_down(random),
        Act::Look => plug::look(random),
        Act::Gap => plug::gap(random),
        Act::Listening => listening::listening(random),
        Act::CorrectLast => repair::correct_last(random),
        Act::CorrectNamed => repair::correct_named(random),
        Act::CorrectInBreath => repair::correct_in_breath(random),
        Act::Withdraw => repair::withdraw(random),
        Act::SameAgain => repair::same_again(random),
        Act::Command => command::command(random),
        Act::Remark => aside::remark(random),
        Act::SmallTalk => aside::small_talk(random),
    };
    phrase.words = as_a_sentence(&phrase.words);
    phrase
}

fn as_a_sentence(words: &str) -> String {
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ").replace(" ,", ",");
    let mut letters = words.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string()).unwrap_or_default();
    let end = if words.ends_with(['.', '?', '!']) { "" } else { "." };
    format!("{first}{}{end}", letters.as_str())
}

fn pick<'a>(random: &mut ChaCha8Rng, among: &[&'a str]) -> &'a str {
    among[random.random_range(0..among.len())]
}

fn chance(random: &mut ChaCha8Rng, probability: f64) -> bool {
    random.random_bool(probability)
}

/// One way to name a cylinder.
fn cylinder_named(number: u32, random: &mut ChaCha8Rng) -> String {
    let number = number::whole(number, number::Style::Plain);
    let way = pick(
        random,
        &["cylinder", "cylinder", "cylinder", "number", "number", "cylinder number", ""],
    );
    if way.is_empty() { number } else { format!("{way} {number}") }
}

/// Fills `{name}` in a pattern.
fn fill(pattern: &str, parts: &[(&str, &str)]) -> String {
    parts
        .iter()
        .fold(pattern.to_owned(), |text, (name, value)| text.replace(&format!("{{{name}}}"), value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seed::stream;

    #[test]
    fn no_pattern_is_left_unfilled_and_every_cylinder_exists() {
        for (act, _) in Act::COUNTS {
            for i in 0..300 {
                let phrase = say(act, &mut stream(i, act.name()));
                assert!(!phrase.words.contains(['{', '}']), "{}", phrase.words);
                assert!(phrase.words.len() > 2);
                let count = phrase.situation.firing_order.len();
                for cylinder in phrase.heard.iter().filter_map(|entry| entry.cylinder) {
                    assert!((1..=count).contains(&(cylinder as usize)), "{phrase:?}");
                }
            }
        }
    }

    #[test]
    fn talk_gives_no_reading_and_the_rest_gives_one() {
        use crate::truth::Kind;
        for (act, _) in Act::COUNTS {
            for i in 0..100 {
                let phrase = say(act, &mut stream(i, act.name()));
                let talk = phrase.heard.iter().all(|entry| entry.kind == Kind::Remark);
                assert_eq!(talk, act.is_talk(), "{phrase:?}");
            }
        }
    }
}
