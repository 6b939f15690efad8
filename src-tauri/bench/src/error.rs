//! One error for the shells: what went wrong, and what to do about it.

use std::path::PathBuf;

use borespoke_core::record::LogError;
use borespoke_core::rules::NoSuchRuleSet;
use borespoke_handover::HandoverError;
use borespoke_handover::export::SpreadsheetError;
use borespoke_handover::proof::{PdfFault, RecordError};
use borespoke_photo::PictureError;
use borespoke_speech::recogniser::RecogniserError;
use borespoke_speech::sound::WavError;
use borespoke_store::StoreError;
use thiserror::Error;

use crate::case::CaseError;
use crate::wire::TypedError;

/// Why a use case could not be done.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum BenchError {
    /// The case cannot be read.
    #[error("case: {0}")]
    Case(#[from] CaseError),
    /// The job file will not do.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// There is no such job in the file.
    #[error("job: the file has none that begins with \"{0}\"")]
    NoSuchJob(String),
    /// More than one job fits.
    #[error("job: {count} jobs begin with \"{prefix}\"")]
    AmbiguousJob {
        /// What was asked for.
        prefix: String,
        /// How many fit.
        count: usize,
    },
    /// The file has no job yet.
    #[error("job: the file has none yet")]
    NoJob,
    /// The recogniser's weights are not where they were looked for.
    #[error("the recogniser's weights are missing; looked for {}", looked.iter().map(|p| p.display().to_string()).collect::<Vec<_>>().join(", "))]
    WeightsMissing {
        /// Where they were looked for.
        looked: Vec<PathBuf>,
    },
    /// The recogniser could not be used.
    #[error(transparent)]
    Recogniser(#[from] RecogniserError),
    /// A clip cannot be heard.
    #[error("{name}: {source}")]
    Clip {
        /// The clip.
        name: String,
        /// Why not.
        source: WavError,
    },
    /// A picture cannot be used.
    #[error("{name}: {source}")]
    Picture {
        /// The picture.
        name: String,
        /// Why not.
        source: PictureError,
    },
    /// A typed entry cannot be taken.
    #[error("{name} line {line}: {source}")]
    Typed {
        /// The file.
        name: String,
        /// The line, from 1.
        line: usize,
        /// Why not.
        source: TypedError,
    },
    /// A correction or withdrawal with nothing to point at.
    #[error("{name}: there is no earlier entry that this could be about")]
    NothingEarlier {
        /// What was to be taken in.
        name: String,
    },
    /// An entry does not fit the job's log.
    #[error(transparent)]
    Log(#[from] LogError),
    /// A file cannot be read or written.
    #[error("{}: {source}", path.display())]
    File {
        /// Which file.
        path: PathBuf,
        /// Why not.
        source: std::io::Error,
    },
    /// The rule set is not known.
    #[error(transparent)]
    RuleSet(#[from] NoSuchRuleSet),
    /// The document could not be made.
    #[error(transparent)]
    Handover(#[from] HandoverError),
    /// A document cannot be looked at.
    #[error("{}: {source}", path.display())]
    Pdf {
        /// Which file.
        path: PathBuf,
        /// Why not.
        source: PdfFault,
    },
    /// A record cannot be made or read.
    #[error(transparent)]
    Record(#[from] RecordError),
    /// The table of an export could not be written.
    #[error(transparent)]
    Spreadsheet(#[from] SpreadsheetError),
    /// A record that is not whole or not as it was linked is not taken in.
    #[error("{}: is not taken in: {why}", path.display())]
    NotImported {
        /// Which file.
        path: PathBuf,
        /// Why not.
        why: String,
    },
    /// No job of this customer.
    #[error("customer: the file has no job of \"{0}\"")]
    NoSuchCustomer(String),
    /// The workshop's key is not one.
    #[error("{}: is not a key: expected are 64 hex digits", path.display())]
    Key {
        /// Which file.
        path: PathBuf,
    },
}

impl BenchError {
    /// What to do about it.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Case(CaseError::Missing { .. }) => {
                "a case is a folder with a case.json; `borespoke --help` shows one"
            }
            Self::Case(_) => "put it right in case.json and run this again; nothing was stored",
            Self::Store(error) => error.hint(),
            Self::NoSuchJob(_) | Self::AmbiguousJob { .. } => {
                "leave the job out for the latest, or give more of its identity"
            }
            Self::NoJob => "take a case in first: borespoke take CASE --into FILE",
            Self::WeightsMissing { .. } => {
                "make them once with `cargo xtask weights`, or name them with --weights"
            }
            Self::Recogniser(_) => "make the weights anew with `cargo xtask weights`",
            Self::Clip { source, .. } => source.hint(),
            Self::Picture { .. } => "take the picture again; everything else was kept",
            Self::Typed { .. } => "put the line right and run this again; the rest was kept",
            Self::NothingEarlier { .. } => "say the cylinder and the whole reading",
            Self::Log(_) => "run this again; what was taken in before was kept",
            Self::File { .. } => "check that the path is right and may be used",
            Self::RuleSet(_) => "name one of these in case.json, or leave rule_set out",
            Self::Handover(_) => "the job itself is untouched",
            Self::Pdf { .. } => {
                "check that it is the PDF as it was handed over, whole; ask for it again if it is not"
            }
            Self::Spreadsheet(_) => "the job itself is untouched",
            Self::NotImported { .. } => "nothing was stored; export it again, whole, with --clips",
            Self::NoSuchCustomer(_) => "write the name as it stands in the job, in full",
            Self::Record(_) => "ask for the document again; the job itself is untouched",
            Self::Key { .. } => {
                "put the right key back; without it, move this file away and a new key is made, \
                 which older documents do not know"
            }
        }
    }
}
