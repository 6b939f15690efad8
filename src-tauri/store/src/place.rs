//! Where the file lies, and what lies beside it.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::Workshop;
use crate::error::{FileProblem, StoreError};

/// The ending of the write-ahead log. sqlite.org/wal.html.
const LOG: &str = "-wal";

/// The name with this at its end.
pub(crate) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    name.into()
}

/// How long the write-ahead log beside the file is.
pub(crate) fn log_length(path: &Path) -> u64 {
    fs::metadata(beside(path, LOG)).map_or(0, |log| log.len())
}

/// Which file it is, whatever it is called.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Place {
    /// Device and inode. Elsewhere an open file cannot be moved or removed.
    #[cfg(unix)]
    numbers: (u64, u64),
}

impl Place {
    #[cfg(unix)]
    pub(crate) fn of(path: &Path) -> io::Result<Self> {
        use std::os::unix::fs::MetadataExt;
        let found = fs::metadata(path)?;
        Ok(Self { numbers: (found.dev(), found.ino()) })
    }

    #[cfg(not(unix))]
    pub(crate) fn of(_path: &Path) -> io::Result<Self> {
        Ok(Self {})
    }
}

impl Workshop {
    /// Refuses to confirm what was written to a file that is no longer under its name: SQLite goes
    /// on writing to it, and all of it would be gone in the end.
    pub(crate) fn still_in_place(&self) -> Result<(), StoreError> {
        match Place::of(&self.path) {
            Ok(place) if place == self.place && beside(&self.path, LOG).exists() => Ok(()),
            _ => Err(self.told(FileProblem::Moved)),
        }
    }
}
