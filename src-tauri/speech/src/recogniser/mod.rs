//! The speech recogniser: what was said, freely and held to a pattern, with what each is worth.
//!
//! The network gives, for sound and the words so far, a probability for every next word piece
//! ([`network`]). [`search`] follows it twice over the same tree: freely, and only along what a
//! pattern allows ([`constraint`]). Work is bounded by the length of the sound and by a number of
//! steps; nothing can run on.

mod constraint;
mod network;
mod pace;
mod search;
mod vocabulary;
mod weights_file;

use constraint::Constraint;
pub use constraint::PatternError;
pub use search::{Effort, Reading};

use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use serde::{Deserialize, Serialize};
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
    #[error("{} is not a weights file this recogniser can load, or it is damaged: {why}", path.display())]
    BadWeights {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// The pattern it was to be held to is of no use.
    #[error(transparent)]
    Pattern(#[from] PatternError),
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
            Self::BadWeights { .. } => {
                "delete the file and make it again with `borespoke-models make`; it is checked then"
            }
            Self::Pattern(_) => "this is a mistake in the program; report it with the job's state",
            Self::Failed(_) => {
                "try the clip again; if it stays so, the memory may be short: use smaller weights"
            }
        }
    }
}

/// What was heard in one clip.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Transcript {
    /// What was heard with nothing to hold to.
    pub free: Reading,
    /// What the pattern allows, the likeliest first, each text once. Empty when the network finds
    /// nothing of it at all likely, or no pattern was given.
    pub held: Vec<Reading>,
    /// About how much likelihood was left unlooked at when the steps were used up, as a share of
    /// what was found.
    pub unresolved: f64,
    /// Steps of the network it took: the measure of the work.
    pub steps: usize,
}

/// A recogniser with its weights loaded.
pub struct Recogniser {
    vocabulary: Arc<Vocabulary>,
    // One clip at a time: the network's working memory is large, and two at once would only share
    // the same cores.
    work: Mutex<Work>,
}

struct Work {
    network: Network,
    /// The patterns used last, the newest at the end. A job goes back and forth between a few.
    constraints: Vec<(String, Constraint)>,
}

/// How many patterns are kept.
const PATTERNS: usize = 4;

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

    /// Works with so many threads at most. Without this it is the number of cores, four at most;
    /// one thread is worked with wherever that is the faster way.
    #[must_use]
    pub fn with_threads(self, threads: NonZeroUsize) -> Self {
        self.work().network.set_threads(threads);
        self
    }

    fn from_network(network: Network) -> Result<Self, RecogniserError> {
        let vocabulary = Arc::new(network.vocabulary()?);
        let work = Mutex::new(Work { network, constraints: Vec::new() });
        Ok(Self { vocabulary, work })
    }

    // A panic elsewhere while it was held leaves nothing half done: every clip starts anew.
    fn work(&self) -> MutexGuard<'_, Work> {
        self.work.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Hears a clip. `style` is a line in the style that is wanted, shown to the network as if it
    /// had been said before; it may be empty. `pattern`, in the syntax of the `regex` crate, is
    /// what held hearing is held to; it begins with a space, as every text of the recogniser does.
    /// A clip longer than [`Clip::LONGEST`] is heard up to there.
    ///
    /// # Errors
    /// [`RecogniserError::Pattern`] or [`RecogniserError::Failed`].
    pub fn transcribe(
        &self,
        clip: &Clip,
        style: &str,
        pattern: Option<&str>,
        effort: Effort,
    ) -> Result<Transcript, RecogniserError> {
        let mut work = self.work();
        let Work { network, constraints } = &mut *work;
        let constraint = match pattern {
            Some(pattern) => Some(self.constraint(constraints, pattern)?),
            None => None,
        };
        network.open(clip.samples(), style)?;
        Search::new(network, &self.vocabulary, effort).run(clip, constraint)
    }

    /// The automaton of a pattern, kept from the last time or made. What is found out about it
    /// while it is used stays with it.
    fn constraint<'c>(
        &self,
        kept: &'c mut Vec<(String, Constraint)>,
        pattern: &str,
    ) -> Result<&'c mut Constraint, PatternError> {
        let newest = match kept.iter().position(|(known, _)| known == pattern) {
            Some(at) => kept.remove(at),
            None => {
                let new = Constraint::new(pattern, Arc::clone(&self.vocabulary))?;
                kept.drain(..(kept.len() + 1).saturating_sub(PATTERNS));
                (pattern.to_owned(), new)
            }
        };
        Ok(&mut kept.push_mut(newest).1)
    }
}
