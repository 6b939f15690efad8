//! `verify`: what of a handover holds, and what was changed.

use std::path::Path;

use borespoke_core::record::Entry;
use borespoke_handover::proof::{
    Change, Check, Examined, Opened, Record, Seal, compare_pages, examine, fingerprint,
    printed_pictures, read, reprint,
};
use borespoke_store::Workshop;
use jiff::tz::Offset;

use crate::error::BenchError;
use crate::handover::{data, job_of, key_path, seal_key};

/// What was found out about a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verified {
    /// What was looked at, in order.
    pub checks: Vec<Check>,
    /// What was changed.
    pub changes: Vec<Change>,
    /// The job, as the record names it.
    pub job: Option<String>,
    /// The code that must stand on the buyer's page.
    pub code: Option<String>,
    /// The fingerprint of the key that sealed it, to compare with the workshop's.
    pub key: Option<String>,
}

impl Verified {
    /// Whether everything that could be looked at holds.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.changes.is_empty() && self.checks.iter().all(|check| check.holds != Some(false))
    }
}

/// Checks a handover, without a network. `against` is a workshop's file to compare it with.
///
/// # Errors
/// [`BenchError::File`] when it cannot be read, [`BenchError::Pdf`] when it is no PDF that can be
/// looked at, or what the workshop's file says.
pub fn verify(document: &Path, against: Option<&Path>) -> Result<Verified, BenchError> {
    let bytes = std::fs::read(document)
        .map_err(|source| BenchError::File { path: document.to_path_buf(), source })?;
    let Examined { opened, record, seal, mut checks, mut changes } = examine(&bytes)
        .map_err(|source| BenchError::Pdf { path: document.to_path_buf(), source })?;
    if let (Some(record), Some(seal)) = (&record, &seal) {
        checks.push(print_check(&bytes, &opened, record, seal, &mut changes));
        if let Some(file) = against {
            stored_check(file, record, seal, &mut checks, &mut changes)?;
        }
    }
    Ok(Verified {
        checks,
        changes,
        job: record.as_ref().and_then(|record| record.job().ok()).map(|(id, ..)| id.to_string()),
        code: seal.as_ref().map(|seal| seal.code().to_string()),
        key: seal.as_ref().map(|seal| fingerprint(&seal.key)),
    })
}

/// Sets the pages again from the attached entries and compares.
fn print_check(
    bytes: &[u8],
    opened: &Opened,
    record: &Record,
    seal: &Seal,
    changes: &mut Vec<Change>,
) -> Check {
    const CHECK: &str = "print";
    let again = match set_again(opened, record, seal) {
        Ok(again) => again,
        Err(fault) => {
            return Check::new(
                CHECK,
                Some(false),
                format!("the entries make no document: {fault}"),
            );
        }
    };
    if again == bytes {
        return Check::new(
            CHECK,
            Some(true),
            "the pages, set again from the attached entries, are this file byte for byte",
        );
    }
    let Ok(right) = read(&again) else {
        return Check::new(CHECK, None, "the pages could not be set again");
    };
    let differing = compare_pages(opened, &right);
    if differing.is_empty() && right.document == opened.document {
        return Check::new(
            CHECK,
            Some(true),
            "the pages are what the attached entries say; the file was saved anew by another program",
        );
    }
    if !seal.is_of_this_design() {
        return Check::new(
            CHECK,
            None,
            format!(
                "the pages were designed by another version ({}); whether they say what the entries \
                 say was not looked at",
                seal.made_by
            ),
        );
    }
    let says = if differing.is_empty() {
        "the pages read as the attached entries say, but are not drawn the same".to_owned()
    } else {
        format!("{} places on the pages do not say what the attached entries say", differing.len())
    };
    changes.extend(differing);
    Check::new(CHECK, Some(false), says)
}

fn set_again(opened: &Opened, record: &Record, seal: &Seal) -> Result<Vec<u8>, BenchError> {
    let pictures = printed_pictures(seal, opened);
    let offset = Offset::from_seconds(seal.utc_offset_seconds).unwrap_or(Offset::UTC);
    Ok(reprint(&data(job_of(record)?, pictures, offset)?, seal, opened)?)
}

/// Compares the record with the job in the workshop's file.
fn stored_check(
    file: &Path,
    record: &Record,
    seal: &Seal,
    checks: &mut Vec<Check>,
    changes: &mut Vec<Change>,
) -> Result<(), BenchError> {
    let workshop = Workshop::open(file)?;
    let ours =
        key_path(workshop.path()).exists() && seal_key(workshop.path())?.public() == seal.key;
    checks.push(if ours {
        Check::new("key", Some(true), "the key is this workshop's")
    } else {
        Check::new("key", Some(false), "the key is not this workshop's")
    });
    let told = job_of(record)?;
    let stored = workshop.load(told.id)?;
    let whole = record.withheld() == 0;
    let before = changes.len();
    let mut stored_change = |entry: &Entry, says: &str| {
        changes.push(Change::Stored { entry: entry.id.to_string(), says: says.to_owned() });
    };
    for entry in told.log.entries() {
        match stored.log.get(entry.id) {
            None => stored_change(entry, "is not in the workshop's file"),
            Some(here) if whole && here != entry => {
                stored_change(entry, "says something else in the workshop's file");
            }
            Some(here) if here.at != entry.at || without_words(here) != without_words(entry) => {
                stored_change(entry, "says something else in the workshop's file");
            }
            Some(_) => {}
        }
    }
    let changed = changes.len() - before;
    let later =
        stored.log.entries().iter().filter(|entry| told.log.get(entry.id).is_none()).count();
    let says = match (changed, later) {
        (0, 0) => "every entry is as it is in the workshop's file".to_owned(),
        (0, later) => format!(
            "every entry is as it is in the workshop's file, which has {later} that the document has \
             not"
        ),
        (changed, _) => format!("{changed} entries are not as they are in the workshop's file"),
    };
    checks.push(Check::new("workshop", Some(changed == 0), says));
    Ok(())
}

/// An entry as JSON with its words taken out, so that one whose words are withheld can be compared.
fn without_words(entry: &Entry) -> serde_json::Value {
    let mut value = serde_json::to_value(entry).unwrap_or_default();
    for place in ["/origin/text", "/observation/text"] {
        if let Some(text) = value.pointer_mut(place) {
            *text = serde_json::Value::Null;
        }
    }
    value
}
