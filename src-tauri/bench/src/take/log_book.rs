//! The job's log while a case is taken in: every addition is on disk when it returns.

use std::collections::HashSet;

use borespoke_core::job::{Job, JobId};
use borespoke_core::record::{Act, Digest, Entry, EntryId, Log, Origin};
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

    /// Adds what one clip, picture or line came to, with the clip or picture itself, in one
    /// transaction.
    pub fn add(
        &mut self,
        origin: &Origin,
        acts: Vec<Act>,
        attachment: Option<(MediaType, &[u8])>,
    ) -> Result<(), BenchError> {
        let at = self.clock.now();
        let entries: Vec<Entry> = acts
            .into_iter()
            .map(|act| Entry {
                id: EntryId(self.identities.new_at(at)),
                at,
                origin: origin.clone(),
                act,
            })
            .collect();
        let attachments = attachment
            .map(|(media_type, bytes)| NewAttachment::from_bytes(media_type, bytes))
            .into_iter()
            .collect();
        self.workshop.append(self.stored.id, &entries, attachments)?;
        self.seen.extend(sources(origin));
        self.added += entries.len();
        for entry in entries {
            // The store has just checked the same entry against the same log, or against one that
            // another process made longer; then only the file knows the whole.
            if self.stored.log.append(entry).is_err() {
                self.stored = self.workshop.load(self.stored.id)?;
                break;
            }
        }
        Ok(())
    }
}

const fn sources(origin: &Origin) -> Option<Digest> {
    match origin {
        Origin::Spoken { clip, .. } => Some(*clip),
        Origin::Pictured { picture } => Some(*picture),
        Origin::Typed => None,
    }
}
