//! Hears the corpus and says how well it went.

mod defaults;
mod files;
mod kept;
mod ours;
mod report;
mod run;
mod spoken;

use thiserror::Error;

pub use defaults::Defaults;
pub use files::{write_errors, write_features};
pub use ours::Ours;
pub use report::Report;
pub use run::{Plan, Record, compare_times, run};
pub use spoken::{context, entries};

use crate::corpus::CorpusError;
use crate::score::Answer;
use crate::situation::Situation;

/// Something that hears.
pub trait Hearer {
    /// Hears a clip at 16 kHz in a situation.
    ///
    /// # Errors
    /// [`MeasureError::Hearer`] when it could not do its work; a clip that is not understood is an
    /// answer, not an error.
    fn hear(&mut self, clip: &[f32], situation: &Situation) -> Result<Answer, MeasureError>;
}

/// Why nothing could be measured.
#[derive(Debug, Error)]
pub enum MeasureError {
    /// No clips.
    #[error(transparent)]
    Corpus(#[from] CorpusError),
    /// The recogniser failed.
    #[error("recogniser: {0}")]
    Hearer(String),
    /// A file could not be written.
    #[error("{path}: {source}")]
    File {
        /// Which.
        path: std::path::PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
}
