//! `take`: a case into the job file. The main job, from end to end.
//!
//! In the order of the work: plug pictures, then voice clips in name order, then typed entries.
//! Each is on disk before the next is begun, and one that cannot be taken stops no other. What was
//! taken in before is recognised and left alone, so taking a case twice changes nothing.

mod log_book;
mod pictures;
mod spoken;
mod typed;

use std::path::Path;

use borespoke_core::job::{Job, JobId};
use borespoke_core::rules::RuleSet;
use borespoke_speech::recogniser::Recogniser;
use borespoke_store::{StoredJob, Workshop};

use crate::case::Case;
use crate::error::BenchError;
use crate::identity::{Clock, Identities};
use crate::wire::{HearLine, PlugLine, WireEntry};
use log_book::LogBook;

/// Something happened while a case was taken in.
#[derive(Debug)]
pub enum TakeEvent<'a> {
    /// A clip was heard, and what came of it is on disk.
    Heard(&'a HearLine),
    /// A plug picture was read, and is on disk.
    Pictured(&'a PlugLine),
    /// A typed entry is on disk.
    Typed(&'a WireEntry),
    /// It was taken in before.
    AlreadyThere(&'a str),
    /// It could not be taken in.
    Refused(&'a BenchError),
}

/// What a case came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taken {
    /// The job it went into.
    pub job: JobId,
    /// Whether the job was made for it.
    pub made: bool,
    /// How many entries were added.
    pub entries: usize,
    /// How many inputs could not be taken in.
    pub refused: usize,
}

/// Takes a case into a job file, making either when it is not there. `ears` is asked for only when
/// there is a clip that was not heard before.
///
/// # Errors
/// [`BenchError`] when the case cannot be read or the file cannot be written. A single clip,
/// picture or line that cannot be taken is told through `on`, and counted.
pub fn take(
    folder: &Path,
    file: &Path,
    ears: impl Fn() -> Result<Recogniser, BenchError>,
    clock: &dyn Clock,
    on: &mut dyn FnMut(TakeEvent<'_>),
) -> Result<Taken, BenchError> {
    let case = Case::open(folder)?;
    let described = case.description.to_job(clock.now(), RuleSet::DEFAULT_ID);
    RuleSet::by_id(&described.rule_set)?;
    let mut workshop = Workshop::open_or_create(file)?;
    let identities = Identities::default();
    let (stored, made) = job_for(&mut workshop, &described, &identities, clock)?;
    let mut book = LogBook::new(&mut workshop, stored, &identities, clock);

    let mut refused = 0;
    let mut told = |event: TakeEvent<'_>| {
        refused += usize::from(matches!(event, TakeEvent::Refused(_)));
        on(event);
    };
    pictures::take(&case, &mut book, &mut told)?;
    spoken::take(&case, &mut book, &ears, &mut told)?;
    typed::take(&case, &mut book, &mut told)?;
    let (job, entries) = (book.job_id(), book.added());
    Ok(Taken { job, made, entries, refused })
}

/// How many pictures, clips and typed lines a case has: the steps of [`take`].
///
/// # Errors
/// [`BenchError`] when the case cannot be read.
pub fn count(folder: &Path) -> Result<usize, BenchError> {
    let case = Case::open(folder)?;
    let typed = case.typed.and_then(|path| std::fs::read_to_string(path).ok());
    let lines = typed.map_or(0, |text| text.lines().filter(|line| !line.trim().is_empty()).count());
    Ok(case.plugs.len() + case.clips.len() + lines)
}

/// The job this case describes: the one of the same customer, vehicle and engine, described anew
/// if it changed; or a new one.
fn job_for(
    workshop: &mut Workshop,
    described: &Job,
    identities: &Identities,
    clock: &dyn Clock,
) -> Result<(StoredJob, bool), BenchError> {
    for summary in workshop.jobs()? {
        if summary.customer != described.customer || summary.vehicle != described.vehicle {
            continue;
        }
        let stored = workshop.load(summary.id)?;
        let engine = &stored.job.engine;
        if engine.firing_order() != described.engine.firing_order() {
            continue;
        }
        let described = Job { begun: stored.job.begun, ..described.clone() };
        if stored.job != described {
            workshop.revise_job(stored.id, stored.revision, &described, clock.now())?;
            return Ok((workshop.load(stored.id)?, false));
        }
        return Ok((stored, false));
    }
    let id = JobId(identities.new_at(clock.now()));
    workshop.create_job(id, described)?;
    Ok((workshop.load(id)?, true))
}
