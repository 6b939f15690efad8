//! Why a command could not be done, told on standard error.

use std::io;

use borespoke_bench::BenchError;
use miette::Diagnostic;
use thiserror::Error;

/// Why a command could not be done.
#[derive(Debug, Error, Diagnostic)]
pub enum Failure {
    /// The use case failed.
    #[error("{}", told.error)]
    #[diagnostic(help("{}", told.hint))]
    Bench {
        /// What was told of it.
        told: Told,
    },
    /// Part of what was given could not be taken in; each was told of on the way.
    #[error("{count} of what was given could not be taken in; everything else was kept")]
    #[diagnostic(help("the messages above say which and why; put it right and run this again"))]
    Partly {
        /// How many.
        count: usize,
    },
    /// A document does not hold.
    #[error("the document does not hold: {changes} changes, {failed} checks failed")]
    #[diagnostic(help(
        "what was found stands above; ask the workshop for the document again and compare the code \
         on its first page"
    ))]
    DoesNotHold {
        /// How many changes were found.
        changes: usize,
        /// How many checks failed.
        failed: usize,
    },
    /// Standard output could not be written.
    #[error("standard output: {0}")]
    Output(#[from] io::Error),
    /// A file could not be written.
    #[error("{path}: {source}")]
    #[diagnostic(help("check that the folder is there and may be written to"))]
    Written {
        /// Which file.
        path: String,
        /// Why not.
        source: io::Error,
    },
}

/// An error of a use case, in words.
#[derive(Debug)]
pub struct Told {
    error: String,
    hint: &'static str,
}

impl From<BenchError> for Failure {
    fn from(error: BenchError) -> Self {
        Self::from(&error)
    }
}

impl From<&BenchError> for Failure {
    fn from(error: &BenchError) -> Self {
        Self::Bench { told: Told { error: error.to_string(), hint: error.hint() } }
    }
}

impl Failure {
    /// Writes the message and the hint to standard error.
    pub fn tell(self) {
        eprintln!("{:?}", miette::Report::new(self));
    }
}
