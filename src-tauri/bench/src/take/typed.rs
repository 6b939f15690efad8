//! Typed entries of a case.

use std::fs;

use borespoke_core::record::{Act, Log, Origin};

use super::TakeEvent;
use super::log_book::LogBook;
use crate::case::Case;
use crate::error::BenchError;
use crate::wire::{TypedEntry, WireEntry};

/// Takes the typed lines in, as if confirmed. Those that were taken in before are recognised by
/// what they say, each as often as it was said.
pub fn take(
    case: &Case,
    book: &mut LogBook<'_>,
    on: &mut dyn FnMut(TakeEvent<'_>),
) -> Result<(), BenchError> {
    let Some(path) = &case.typed else { return Ok(()) };
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let text = match fs::read_to_string(path) {
        Ok(text) => text,
        Err(source) => {
            on(TakeEvent::Refused(&BenchError::File { path: path.clone(), source }));
            return Ok(());
        }
    };
    let mut before = acts_typed(book.log());
    for (number, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
        let engine = &book.job().engine;
        let entry = match TypedEntry::read(line, engine, case.description.unit) {
            Ok(entry) => entry,
            Err(source) => {
                let name = name.clone();
                on(TakeEvent::Refused(&BenchError::Typed { name, line: number + 1, source }));
                continue;
            }
        };
        if let Some(place) = before.iter().position(|act| says(act, &entry)) {
            before.remove(place);
            on(TakeEvent::AlreadyThere(&format!("{name} line {}", number + 1)));
            continue;
        }
        let Some(act) = act(&entry, book.log()) else {
            let name = format!("{name} line {}", number + 1);
            on(TakeEvent::Refused(&BenchError::NothingEarlier { name }));
            continue;
        };
        let mut addition = book.begin(Origin::Typed);
        book.push(&mut addition, act)?;
        book.keep(addition, None)?;
        on(TakeEvent::Typed(&wire(&entry)));
    }
    Ok(())
}

fn acts_typed(log: &Log) -> Vec<Act> {
    let typed = log.entries().iter().filter(|entry| entry.origin == Origin::Typed);
    typed.map(|entry| entry.act.clone()).collect()
}

/// Whether an act in the log is what this line came to when it was taken in.
fn says(act: &Act, entry: &TypedEntry) -> bool {
    match (act, entry) {
        (Act::Observe { observation }, TypedEntry::Observe(typed))
        | (Act::Correct { observation, .. }, TypedEntry::Correct(typed)) => observation == typed,
        (Act::Withdraw { .. }, TypedEntry::Withdraw(_)) => true,
        _ => false,
    }
}

fn act(entry: &TypedEntry, log: &Log) -> Option<Act> {
    Some(match entry {
        TypedEntry::Observe(observation) => Act::Observe { observation: observation.clone() },
        TypedEntry::Correct(observation) => Act::Correct {
            replaces: log.last_like(observation)?.id,
            observation: observation.clone(),
        },
        TypedEntry::Withdraw(Some(cylinder)) => {
            Act::Withdraw { entry: log.last_about(*cylinder)?.id }
        }
        TypedEntry::Withdraw(None) => Act::Withdraw { entry: log.last_in_force()?.id },
    })
}

fn wire(entry: &TypedEntry) -> WireEntry {
    match entry {
        TypedEntry::Observe(observation) => WireEntry::from(observation),
        TypedEntry::Correct(observation) => WireEntry::correction(observation),
        TypedEntry::Withdraw(cylinder) => WireEntry::withdrawal(*cylinder),
    }
}
