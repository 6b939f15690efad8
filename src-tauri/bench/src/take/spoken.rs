//! Voice clips of a case.

use std::fs;
use std::path::Path;

use borespoke_core::quantity::Probability;
use borespoke_core::record::{Act, Observation, Origin, Remark};
use borespoke_speech::language::{Expect, Meaning};
use borespoke_speech::recogniser::Recogniser;
use borespoke_speech::sound::Clip;
use borespoke_store::{MediaType, digest_of_bytes};

use super::TakeEvent;
use super::log_book::LogBook;
use crate::case::Case;
use crate::conversation::{Conversation, Course};
use crate::error::BenchError;
use crate::hear::listen;
use crate::wire::{HearLine, OutcomeWord};

/// Hears the clips in name order. What was heard surely becomes entries; everything else that
/// sounds becomes a remark. Each clip is kept with what it came to.
pub fn take(
    case: &Case,
    book: &mut LogBook<'_>,
    ears: &impl Fn() -> Result<Recogniser, BenchError>,
    on: &mut dyn FnMut(TakeEvent<'_>),
) -> Result<(), BenchError> {
    let unit = case.description.unit;
    let mut conversation =
        Conversation::new(&book.job().engine, unit, Expect::Anything, Course::InOrder);
    let mut loaded = None;
    for path in &case.clips {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let Some(bytes) = read(path, on) else { continue };
        if book.has(&digest_of_bytes(&bytes)) {
            on(TakeEvent::AlreadyThere(&name));
            continue;
        }
        let clip = match Clip::from_wav(&bytes) {
            Ok(clip) => clip,
            Err(source) => {
                on(TakeEvent::Refused(&BenchError::Clip { name, source }));
                continue;
            }
        };
        if loaded.is_none() {
            loaded = Some(ears()?);
        }
        let Some(recogniser) = &loaded else { continue };
        let (line, meanings) = listen(name, &clip, recogniser, &conversation.context(book.log()))?;
        keep(&bytes, &line, &meanings, book, &mut conversation)?;
        on(TakeEvent::Heard(&line));
    }
    Ok(())
}

fn read(path: &Path, on: &mut dyn FnMut(TakeEvent<'_>)) -> Option<Vec<u8>> {
    match fs::read(path) {
        Ok(bytes) => Some(bytes),
        Err(source) => {
            on(TakeEvent::Refused(&BenchError::File { path: path.to_path_buf(), source }));
            None
        }
    }
}

/// Puts what a clip came to into the log, with the clip.
fn keep(
    bytes: &[u8],
    line: &HearLine,
    meanings: &[Meaning],
    book: &mut LogBook<'_>,
    conversation: &mut Conversation,
) -> Result<(), BenchError> {
    let origin = Origin::Spoken {
        clip: digest_of_bytes(bytes),
        sureness: Probability::clamped(line.sureness),
        text: line.text.clone(),
    };
    let mut addition = book.begin(origin);
    for meaning in meanings {
        if let Some(act) = conversation.take(meaning, addition.log()) {
            book.push(&mut addition, act)?;
        }
    }
    if matches!(line.outcome, OutcomeWord::Ask | OutcomeWord::Unheard) {
        conversation.leave_open();
    }
    if addition.is_empty() {
        book.push(&mut addition, left_open(line))?;
    }
    book.keep(addition, Some((MediaType::WAV, bytes)))
}

/// A clip that did not become an entry is kept as a remark that says what is open about it.
fn left_open(line: &HearLine) -> Act {
    let text = match line.outcome {
        OutcomeWord::Ask => {
            let offered: Vec<String> = line.offered.iter().map(ToString::to_string).collect();
            format!("Not settled: {}? Heard as \"{}\".", offered.join(" or "), line.text.trim())
        }
        OutcomeWord::Unheard => format!("Not made out: \"{}\".", line.text.trim()),
        OutcomeWord::Accepted if points_back(line) => {
            format!("Not settled: what \"{}\" is about.", line.text.trim())
        }
        // What moves the work on, such as "skip to four", leaves its words.
        OutcomeWord::Accepted | OutcomeWord::Remark => line.text.trim().to_owned(),
    };
    Act::Observe { observation: Observation::Remark(Remark { cylinder: None, text }) }
}

fn points_back(line: &HearLine) -> bool {
    line.entries.iter().any(|entry| ["correction", "withdrawal", "repeat"].contains(&entry.kind))
}
