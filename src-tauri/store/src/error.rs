//! What can go wrong, and what to do then.

use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use borespoke_core::job::JobId;
use borespoke_core::record::{Digest, EntryId, LogError};
use rusqlite::ErrorCode;
use rusqlite::ffi;
use thiserror::Error;

/// Why the store did not do what it was asked.
#[derive(Debug, Error)]
pub enum StoreError {
    /// The file could not be used.
    #[error(transparent)]
    File(#[from] FileError),
    /// The file is fine; what was asked does not fit what is in it. Nothing was stored.
    #[error(transparent)]
    Refused(#[from] Refusal),
}

impl StoreError {
    /// What to do about it.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::File(error) => error.problem.hint(),
            Self::Refused(refusal) => refusal.hint(),
        }
    }

    /// What is wrong with the file, when it is the file.
    #[must_use]
    pub const fn file_problem(&self) -> Option<&FileProblem> {
        match self {
            Self::File(error) => Some(&error.problem),
            Self::Refused(_) => None,
        }
    }
}

/// A file that could not be used.
#[derive(Debug, Error)]
#[error("job file {}: {problem}", path.display())]
pub struct FileError {
    /// Which file.
    pub path: PathBuf,
    /// What is wrong with it.
    pub problem: FileProblem,
    /// What SQLite said, where it was SQLite.
    #[source]
    pub cause: Option<rusqlite::Error>,
}

/// What can be wrong with a file.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum FileProblem {
    /// Made by a newer version of this program.
    #[error("was made by a newer version: its format is {found}, this version knows up to {known}")]
    TooNew {
        /// The format of the file.
        found: u32,
        /// The newest format known here.
        known: u32,
    },
    /// Damaged.
    #[error("is damaged: {0}")]
    Corrupt(String),
    /// Another process is writing to it and did not finish in time.
    #[error("is in use by another program")]
    Locked,
    /// The disk or the file does not allow writing.
    #[error("cannot be written: the disk or the file is read-only")]
    ReadOnly,
    /// No room is left on the disk.
    #[error("cannot be written: the disk is full")]
    Full,
    /// Something, but not one of ours.
    #[error("is not a borespoke job file: {0}")]
    NotOurs(String),
    /// Not there, or nothing in it yet.
    #[error("is not there: {0}")]
    Missing(String),
    /// Moved, removed or replaced by someone else after it was opened.
    #[error("was moved or removed while in use")]
    Moved,
    /// There already, where a new one was asked for.
    #[error("is there already")]
    Exists,
    /// The system would not let it be read or written.
    #[error("cannot be used: {0}")]
    Unusable(String),
}

impl From<io::Error> for FileProblem {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            ErrorKind::ReadOnlyFilesystem => Self::ReadOnly,
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => Self::Full,
            _ => Self::Unusable(error.to_string()),
        }
    }
}

impl FileProblem {
    /// What to do about it.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::TooNew { .. } => "Open it with the newer version. It was not touched.",
            Self::Corrupt(_) => {
                "Keep this file and the one ending in -wal beside it as they are, work on a copy, \
                 and go back to the last good copy if there is one."
            }
            Self::Locked => {
                "Wait until the other program is done or close it, then try again. Nothing was \
                 changed."
            }
            Self::ReadOnly => {
                "Copy the file, with the one ending in -wal beside it if there is one, to a place \
                 that can be written, or ask for write permission."
            }
            Self::Full => {
                "Make room on the disk and try again. Everything that was confirmed before is safe."
            }
            Self::NotOurs(_) => "Check the path. The file was not touched.",
            Self::Missing(_) => "Check the path, or take a case to make a new file.",
            Self::Moved => {
                "Put the file back under its name, with the one ending in -wal, and open it again. \
                 What was entered since may be lost: look at the last entries."
            }
            Self::Exists => "Choose another name, or open the file that is there.",
            Self::Unusable(_) => "Check the path, the permissions and the disk.",
        }
    }
}

/// Why something was not stored or not found, though the file is fine.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum Refusal {
    /// No job with this identity.
    #[error("job {0}: is not in this file")]
    NoSuchJob(JobId),
    /// A job with this identity is there already.
    #[error("job {0}: is in this file already")]
    JobExists(JobId),
    /// The job was revised by someone else in the meantime.
    #[error("job {job}: is at revision {found}, the change was made to revision {given}")]
    Revised {
        /// Which job.
        job: JobId,
        /// The revision it is at.
        found: u32,
        /// The revision the change started from.
        given: u32,
    },
    /// The entry does not fit the job's log.
    #[error(transparent)]
    Log(#[from] LogError),
    /// The entry is there already, in another job.
    #[error("entry {entry}: is in the log of job {job} already")]
    EntryInAnotherJob {
        /// Which entry.
        entry: EntryId,
        /// The job it is in.
        job: JobId,
    },
    /// No entry was given.
    #[error("entries: given none, at least one is needed")]
    NoEntry,
    /// It would not be read back as it was given, for instance because a figure in it is not a
    /// number.
    #[error("{what}: cannot be stored exactly: {why}")]
    NotExact {
        /// The entry or the job.
        what: String,
        /// What does not survive.
        why: String,
    },
    /// The entry stands on a clip or a picture that is neither given nor stored.
    #[error("entry {entry}: its clip or picture {digest} is not given and not in the file")]
    AttachmentNotGiven {
        /// Which entry.
        entry: EntryId,
        /// The digest it names.
        digest: Digest,
    },
    /// The content given is not what the digest says.
    #[error("clip or picture: its content has the SHA-256 {found}, given was {given}")]
    WrongDigest {
        /// The digest that was given with it.
        given: Digest,
        /// The digest of the content.
        found: Digest,
    },
    /// The content of a clip or a picture could not be read from where it comes from.
    #[error("clip or picture {digest}: cannot be read")]
    Unreadable {
        /// The digest that was given with it.
        digest: Digest,
        /// Why.
        #[source]
        cause: io::Error,
    },
    /// No clip or picture with this digest.
    #[error("clip or picture {0}: is not in this file")]
    NoSuchAttachment(Digest),
    /// A clip or a picture could not be handed on to where it was asked for.
    #[error("clip or picture {digest}: cannot be written out")]
    NotHandedOn {
        /// Which.
        digest: Digest,
        /// Why.
        #[source]
        cause: io::Error,
    },
}

impl Refusal {
    /// What to do about it.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::NoSuchJob(_) => "List the jobs of the file and pick one of them.",
            Self::JobExists(_) => "Open that job instead of making it again.",
            Self::Revised { .. } => "Load the job again and make the change to what it says now.",
            Self::Log(LogError::Duplicate(_)) | Self::EntryInAnotherJob { .. } => {
                "It is stored already; nothing is to be done."
            }
            Self::Log(LogError::UnknownTarget { .. }) => {
                "Load the job again and point at an entry that is in its log."
            }
            Self::NoEntry => "Give the entry together with its clip or picture.",
            Self::NotExact { .. } => "Leave out the figure that could not be measured.",
            Self::AttachmentNotGiven { .. } => "Give the clip or the picture with the entry.",
            Self::WrongDigest { .. } => {
                "The clip or picture was changed or cut short on its way; take it again."
            }
            Self::Unreadable { .. } => "Check that the file is still there and can be read.",
            Self::NoSuchAttachment(_) => "Check the digest; entries name the ones that are kept.",
            Self::NotHandedOn { .. } => "Check the place it is to be written to.",
        }
    }
}

/// What goes wrong inside, before the file is named.
#[derive(Debug)]
pub(crate) enum Trouble {
    Sql(rusqlite::Error),
    Problem(FileProblem),
    Refused(Refusal),
}

impl Trouble {
    pub(crate) fn corrupt(what: impl Into<String>) -> Self {
        Self::Problem(FileProblem::Corrupt(what.into()))
    }

    pub(crate) fn in_file(self, path: &Path) -> StoreError {
        let (problem, cause) = match self {
            Self::Refused(refusal) => return refusal.into(),
            Self::Problem(problem) => (problem, None),
            Self::Sql(error) => (problem_of(&error), Some(error)),
        };
        FileError { path: path.to_owned(), problem, cause }.into()
    }
}

impl From<rusqlite::Error> for Trouble {
    fn from(error: rusqlite::Error) -> Self {
        Self::Sql(error)
    }
}

impl From<FileProblem> for Trouble {
    fn from(problem: FileProblem) -> Self {
        Self::Problem(problem)
    }
}

impl From<Refusal> for Trouble {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl From<LogError> for Trouble {
    fn from(error: LogError) -> Self {
        Self::Refused(error.into())
    }
}

/// What an error of SQLite means to the user. Codes: sqlite.org/rescode.html.
pub(crate) fn problem_of(error: &rusqlite::Error) -> FileProblem {
    use rusqlite::Error as Sql;
    match error {
        Sql::SqliteFailure(failure, said) => match (failure.code, failure.extended_code) {
            (_, ffi::SQLITE_IOERR_SHORT_READ) => {
                FileProblem::Corrupt("it ends before it should".to_owned())
            }
            // The index beside the write-ahead log could not be made larger.
            (ErrorCode::DiskFull, _) | (_, ffi::SQLITE_IOERR_SHMSIZE) => FileProblem::Full,
            (ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked, _) => FileProblem::Locked,
            (ErrorCode::ReadOnly, _) => FileProblem::ReadOnly,
            (ErrorCode::NotADatabase, _) => {
                FileProblem::NotOurs("it is not a SQLite file".to_owned())
            }
            (ErrorCode::DatabaseCorrupt, _) => FileProblem::Corrupt(error.to_string()),
            _ => FileProblem::Unusable(match said {
                Some(said) => format!("{said} ({failure})"),
                None => failure.to_string(),
            }),
        },
        // A column does not hold what it must.
        Sql::FromSqlConversionFailure(..)
        | Sql::IntegralValueOutOfRange(..)
        | Sql::InvalidColumnType(..)
        | Sql::Utf8Error(..)
        | Sql::QueryReturnedNoRows => FileProblem::Corrupt(error.to_string()),
        other => FileProblem::Unusable(other.to_string()),
    }
}
