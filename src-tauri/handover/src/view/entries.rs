//! Entries of the log in words: what each records, how it came in, what became of it.

use std::collections::HashMap;

use borespoke_core::record::{
    Act, AirExit, Bore, Cranking, Entry, EntryId, LeakDown, Look, Observation, Origin, Stroke,
    Valves,
};
use jiff::Timestamp;
use jiff::tz::Offset;
use serde::Serialize;

use super::number;
use crate::data::HandoverData;
use crate::text::shortened;

/// Longer things said are cut in print; they stand whole in the attached data.
const MOST_SAID: usize = 160;
/// More remarks than this are counted in print; they stand whole in the attached data.
const MOST_ASIDES: usize = 6;
/// How the remark begins that stands for a clip nobody was sure of.
const UNSETTLED: &str = "Not settled:";

/// An entry as a finding or a list refers to it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cited {
    /// Its number in the log, from 1.
    pub number: usize,
    /// When, on the workshop's clock.
    pub time: String,
    /// How it came in: "heard, 97 % sure", "typed", "picture".
    pub came: String,
    /// The words that were heard.
    pub said: Option<String>,
}

/// A correction or withdrawal.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Change {
    /// The entry that changes.
    pub by: Cited,
    /// The entry that is changed.
    pub of: usize,
    /// What stood there.
    pub before: String,
    /// What stands there now; `None` when it was taken back.
    pub after: Option<String>,
}

/// Something said besides.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Aside {
    /// The entry.
    pub entry: Cited,
    /// "cylinder 4", where it was about one.
    pub about: Option<String>,
    /// The words.
    pub text: String,
}

/// What was said besides.
#[derive(Debug, Clone, PartialEq)]
pub struct Asides {
    /// Remarks, oldest first.
    pub said: Vec<Aside>,
    /// How many more there are.
    pub more: usize,
    /// The clips that were not settled by ear, counted.
    pub unsettled: Option<String>,
}

/// The log with its numbers, so that entries can be cited.
pub struct Citations<'a> {
    data: &'a HandoverData,
    numbers: HashMap<EntryId, usize>,
    /// The day of the first entry; others say theirs only where it is another.
    day: Option<String>,
}

impl<'a> Citations<'a> {
    /// Numbers the entries, oldest first.
    pub fn new(data: &'a HandoverData) -> Self {
        let entries = data.log.entries();
        let numbers = entries.iter().enumerate().map(|(i, entry)| (entry.id, i + 1)).collect();
        let day = entries.first().map(|entry| date(entry.at, data.utc_offset));
        Self { data, numbers, day }
    }

    /// The day whose entries are cited by the time alone, where there are entries.
    pub fn day(&self) -> Option<&str> {
        self.day.as_deref()
    }

    /// The entry as it is cited. `None` when it is not in the log.
    pub fn cite(&self, id: EntryId) -> Option<Cited> {
        let entry = self.data.log.get(id)?;
        let (came, said) = match &entry.origin {
            Origin::Spoken { sureness, text, .. } => (
                format!("heard, {} sure", number::probability(*sureness)),
                (!text.trim().is_empty()).then(|| shortened(text.trim(), MOST_SAID)),
            ),
            Origin::Typed => ("typed".to_owned(), None),
            Origin::Pictured { .. } => ("picture".to_owned(), None),
        };
        Some(Cited { number: self.numbers[&id], time: self.time(entry.at), came, said })
    }

    /// The time of day; with the day when it is not that of the first entry.
    fn time(&self, at: Timestamp) -> String {
        let offset = self.data.utc_offset;
        let day = date(at, offset);
        let clock = offset.to_datetime(at).strftime("%H:%M:%S").to_string();
        if self.day.as_deref() == Some(day.as_str()) { clock } else { format!("{day} {clock}") }
    }

    /// Every correction and withdrawal, oldest first.
    pub fn changes(&self) -> Vec<Change> {
        self.data.log.entries().iter().filter_map(|entry| self.change(entry)).collect()
    }

    fn change(&self, entry: &Entry) -> Option<Change> {
        let target = self.data.log.get(entry.act.target()?)?;
        Some(Change {
            by: self.cite(entry.id)?,
            of: self.numbers[&target.id],
            before: in_words(&target.act),
            after: entry.act.observation().map(observed),
        })
    }

    /// Remarks in force. Those that stand for a clip nobody was sure of are only counted: what
    /// they offer are guesses.
    pub fn asides(&self) -> Asides {
        let mut said = Vec::new();
        let mut unsettled = Vec::new();
        for (entry, observation) in self.data.log.in_force() {
            let Observation::Remark(remark) = observation else { continue };
            let Some(entry) = self.cite(entry.id) else { continue };
            if remark.text.starts_with(UNSETTLED) {
                unsettled.push(entry.number);
                continue;
            }
            let about = remark.cylinder.map(|cylinder| format!("cylinder {cylinder}"));
            let text = shortened(&remark.text, MOST_SAID);
            said.push(Aside { entry: Cited { said: None, ..entry }, about, text });
        }
        let more = said.len().saturating_sub(MOST_ASIDES);
        said.truncate(MOST_ASIDES);
        Asides { said, more, unsettled: counted(&unsettled) }
    }
}

/// "2 clips were not settled by ear; ... (entries 4 and 9)."
fn counted(entries: &[usize]) -> Option<String> {
    let (clips, word) = match entries.len() {
        0 => return None,
        1 => ("1 clip was".to_owned(), "entry"),
        many => (format!("{many} clips were"), "entries"),
    };
    Some(format!(
        "{clips} not settled by ear: kept as heard, and no reading unless one was entered besides \
         ({word} {}).",
        number::listed(entries)
    ))
}

/// "25 November 2026".
pub fn date(at: Timestamp, offset: Offset) -> String {
    offset.to_datetime(at).strftime("%-d %B %Y").to_string()
}

fn in_words(act: &Act) -> String {
    match act.observation() {
        Some(observation) => observed(observation),
        None => "a withdrawal".to_owned(),
    }
}

/// An observation in words, with its cylinder and units.
pub fn observed(observation: &Observation) -> String {
    match observation {
        Observation::Cranking(read) => cranking(read),
        Observation::LeakDown(read) => leak_down(read),
        Observation::Listening(heard) => match heard.at {
            AirExit::Nowhere => format!("cylinder {}: no air heard", heard.cylinder),
            at => format!("cylinder {}: air heard at the {at}", heard.cylinder),
        },
        Observation::Look(look) => format!("cylinder {}: plug {}", look.cylinder, seen(look)),
        Observation::Borescope(look) => {
            format!("cylinder {}: borescope, {}", look.cylinder, look.in_words())
        }
        Observation::Gap(gap) => {
            format!("cylinder {}: plug gap {}", gap.cylinder, number::gap(&gap.gap))
        }
        Observation::Remark(remark) => match remark.cylinder {
            Some(cylinder) => {
                format!("cylinder {cylinder}: “{}”", shortened(&remark.text, MOST_SAID))
            }
            None => format!("“{}”", shortened(&remark.text, MOST_SAID)),
        },
    }
}

fn cranking(read: &Cranking) -> String {
    let bore = match read.bore {
        Bore::Dry => "dry",
        Bore::Wet => "with oil",
    };
    let stroke = match read.stroke {
        Stroke::Final => String::new(),
        Stroke::After(strokes) => format!(" after stroke {strokes}"),
    };
    format!(
        "cylinder {}: cranking pressure {bore} {}{stroke}",
        read.cylinder,
        number::stated_pressure(&read.pressure)
    )
}

fn leak_down(read: &LeakDown) -> String {
    let tapped = match read.valves {
        Valves::AsFound => "",
        Valves::Tapped => " after a tap on the valves",
    };
    format!("cylinder {}: leak-down {}{tapped}", read.cylinder, number::leak(&read.reading))
}

fn seen(look: &Look) -> String {
    match (look.signs.as_slice(), look.picture) {
        ([], Some(_)) => "pictured".to_owned(),
        ([], None) => "looked at".to_owned(),
        (signs, _) => number::listed(signs),
    }
}
