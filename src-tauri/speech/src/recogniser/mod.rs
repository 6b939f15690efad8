//! The speech recogniser: what was said, freely and held to a pattern, with what each is worth.
//!
//! The network gives, for sound and the words so far, a probability for every next word piece
//! ([`network`]). [`search`] follows it twice over the same tree: freely, and only along what a
//! pattern allows ([`constraint`]). Work is bounded by the length of the sound and by a number of
//! steps; nothing can run on.

mod constraint;
mod network;
mod search;
mod vocabulary;

pub use constraint::{Constraint, PatternError};
pub use search::{Effort, Reading};

use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use thiserror::Error;

use crate::sound::Clip;
use network::Network;
use search::Search;
use vocabulary::Vocabulary;

/// Why weights could not be loaded, or the network could not be run.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum RecogniserError {
    /// There is no such file.
    #[error("the recogniser's weights are not there: {}", .0.display())]
    NoWeights(PathBuf),
    /// The file is not one the recogniser can load.
    #[error("{} is not a weights file this recogniser can load, or it is damaged", .0.display())]
    BadWeights(PathBuf),
    /// The network failed while it ran.
    #[error("the recogniser failed: {0}")]
    Failed(String),
}

impl RecogniserError {
    /// What can be done about it.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::NoWeights(_) => "make them with `cargo xtask weights` or `borespoke-models make`",
            Self::BadWeights(_) => {
                "delete the file and make it again with `borespoke-models make`; it is checked then"
            }
            Self::Failed(_) => {
                "try the clip again; if it stays so, the memory may be short: use smaller weights"
            }
        }
    }
}

/// What was heard in one clip.
#[derive(Debug, Clone, PartialEq)]
pub struct Transcript {
    /// What was heard with nothing to hold to.
    pub free: Reading,
    /// What the pattern allows, the likeliest first, each text once. Empty when the network finds
    /// nothing of it at all likely, or no pattern was given.
    pub held: Vec<Reading>,
    /// Steps of the network it took: the measure of the work.
    pub steps: usize,
}

/// A recogniser with its weights loaded.
pub struct Recogniser {
    vocabulary: Arc<Vocabulary>,
    // One clip at a time: the network's working memory is large, and two at once would only share
    // the same cores.
    network: Mutex<Network>,
}

impl Recogniser {
    /// Loads a weights file.
    ///
    /// # Errors
    /// [`RecogniserError::NoWeights`] or [`RecogniserError::BadWeights`].
    pub fn load(path: &Path) -> Result<Self, RecogniserError> {
        if !path.is_file() {
            return Err(RecogniserError::NoWeights(path.to_path_buf()));
        }
        Self::from_network(Network::load(path)?)
    }

    /// Loads weights that are in memory, as on a phone where they lie in the app's package.
    ///
    /// # Errors
    /// [`RecogniserError::BadWeights`].
    pub fn from_bytes(weights: &[u8]) -> Result<Self, RecogniserError> {
        Self::from_network(Network::from_bytes(weights)?)
    }

    /// Works with so many threads: as many as there are fast cores with nothing else to do. The
    /// threads wait for each other all the time, so on a busy machine one is faster than two.
    #[must_use]
    pub fn with_threads(self, threads: NonZeroUsize) -> Self {
        self.network.lock().unwrap_or_else(PoisonError::into_inner).set_threads(threads);
        self
    }

    fn from_network(network: Network) -> Result<Self, RecogniserError> {
        let vocabulary = Arc::new(network.vocabulary()?);
        Ok(Self { vocabulary, network: Mutex::new(network) })
    }

    /// Prepares a pattern to hold the recogniser to. Worth keeping: what is found out about it
    /// while it is used is kept with it.
    ///
    /// # Errors
    /// [`PatternError`] when it is not a pattern.
    pub fn constraint(&self, pattern: &str) -> Result<Constraint, PatternError> {
        Constraint::new(pattern, Arc::clone(&self.vocabulary))
    }

    /// Hears a clip. `style` is a line in the style that is wanted, shown to the network as if it
    /// had been said before; it may be empty. A clip longer than [`Clip::LONGEST`] is heard up to
    /// there.
    ///
    /// # Errors
    /// [`RecogniserError::Failed`].
    pub fn transcribe(
        &self,
        clip: &Clip,
        style: &str,
        constraint: Option<&mut Constraint>,
        effort: Effort,
    ) -> Result<Transcript, RecogniserError> {
        // A panic elsewhere while it was held leaves nothing half done: every clip starts anew.
        let mut network = self.network.lock().unwrap_or_else(PoisonError::into_inner);
        network.open(clip.samples(), style)?;
        Search::new(&mut network, &self.vocabulary, effort).run(clip, constraint)
    }
}
