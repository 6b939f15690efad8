//! The job file: one SQLite file per workshop, append-only.
//!
//! What the store promises:
//! - When [`Workshop::append`] has returned, the entries and their clips and pictures are on disk
//!   together. A kill at any instant loses none of them and leaves a file that opens.
//! - Nothing that was written is changed or removed. A job's description may be revised; the
//!   earlier revisions stay.
//! - What is read back is what was written, byte for byte, or an error.
//!
//! The store reads no clock and draws no random number: identities and times come from the caller.
//! `docs/decisions/clips-and-pictures-in-the-job-file.md` says why clips and pictures are in the
//! file.

mod append;
mod attachment;
mod check;
mod connection;
mod copy;
mod error;
mod jobs;
mod open;
mod place;
mod schema;

use std::path::{Path, PathBuf};

use borespoke_core::job::JobId;
use borespoke_core::record::Log;
use rusqlite::Connection;

pub use attachment::{MediaType, NewAttachment, StoredAttachment, digest_of, digest_of_bytes};
pub use check::Checked;
pub use error::{FileError, FileProblem, Refusal, StoreError};
pub use jobs::{JobSummary, StoredJob};
pub use open::Opening;

use error::Trouble;

/// A workshop's jobs, in one open file.
///
/// Several processes may have the same file open: reading never waits, writing waits its turn.
#[derive(Debug)]
pub struct Workshop {
    connection: Connection,
    path: PathBuf,
    place: place::Place,
    after_unclean_end: bool,
    /// The log appended to last. Since a log only grows, its start is always what is in the file.
    last_log: Option<(JobId, Log)>,
}

impl Workshop {
    /// The file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Names the file in an error.
    fn told(&self, trouble: impl Into<Trouble>) -> StoreError {
        trouble.into().in_file(&self.path)
    }
}
