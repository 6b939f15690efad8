//! The job's log while a case is taken in: every addition is on disk when it returns.

use std::collections::HashSet;

use borespoke_core::job::{Job, JobId};
use borespoke_core::record::{Act, Digest, Entry, EntryId, Log, LogError, Origin};
use borespoke_store::{MediaType, NewAttachment, StoredJob, Workshop};

use crate::error::BenchError;
use crate::identity::{Clock, Identities};

/// The log of one job, open for adding.
pub struct LogBook<'a> {
    workshop: &'a mut Workshop,
    stored: StoredJob,
    identities: &'a Identities,
    clock: &'a dyn Clock,
    seen: HashSet<Digest>,
    added: usize,
}

impl<'a> LogBook<'a> {
    pub fn new(
        workshop: &'a mut Workshop,
        stored: StoredJob,
        identities: &'a Identities,
        clock: &'a dyn Clock,
    ) -> Self {
        let seen = stored.log.entries().iter().filter_map(|e| sources(&e.origin)).collect();
        Self { workshop, stored, identities, clock, seen, added: 0 }
    }

    pub const fn job_id(&self) -> JobId {
        self.stored.id
    }

    pub const fn job(&self) -> &Job {
        &self.stored.job
    }

    pub const fn log(&self) -> &Log {
        &self.stored.log
    }

    pub const fn added(&self) -> usize {
        self.added
    }

    /// Whether a clip or picture with this content was taken in before.
    pub fn has(&self, digest: &Digest) -> bool {
        self.seen.contains(digest)
    }

    /// Begins an addition: entries of one origin that become durable together.
    pub fn begin(&self, origin: Origin) -> Addition {
        Addition { origin, entries: Vec::new(), log: self.stored.log.clone() }
    }

    /// Adds an act at the end of an addition, which stays as it was when the act does not fit the
    /// log.
    pub fn push(&self, addition: &mut Addition, act: Act) -> Result<(), LogError> {
        let at = self.clock.now();
        let id = EntryId(self.identities.new_at(at));
        let entry = Entry { id, at, origin: addition.origin.clone(), act };
        addition.log.append(entry.clone())?;
        addition.entries.push(entry);
        Ok(())
    }

    /// Puts an addition on disk with the clip or picture it came from.
    pub fn keep(
        &mut self,
        addition: Addition,
        attachment: Option<(MediaType, &[u8])>,
    ) -> Result<(), BenchError> {
        let attachments = attachment
            .map(|(media_type, bytes)| NewAttachment::from_bytes(media_type, bytes))
            .into_iter()
            .collect();
        self.workshop.append(self.stored.id, &addition.entries, attachments)?;
        self.seen.extend(sources(&addition.origin));
        self.added += addition.entries.len();
        self.stored.log = addition.log;
        Ok(())
    }
}

/// Entries being put together, and the log as it will be with them.
pub struct Addition {
    origin: Origin,
    entries: Vec<Entry>,
    log: Log,
}

impl Addition {
    pub const fn log(&self) -> &Log {
        &self.log
    }

    pub const fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }
}

const fn sources(origin: &Origin) -> Option<Digest> {
    match origin {
        Origin::Spoken { clip, .. } => Some(*clip),
        Origin::Pictured { picture } => Some(*picture),
        Origin::Typed => None,
    }
}
