//! Where the recogniser's weights are.

use std::path::{Path, PathBuf};

use borespoke_speech::recogniser::Recogniser;

use crate::error::BenchError;

/// The weights' place in the repository and beside an installed binary.
const WEIGHTS: &str = "models/weights/tiny.en.bin";

/// Loads the recogniser from `weights`, or from where the repository keeps them: below the current
/// folder, or below a folder that holds the running binary.
///
/// # Errors
/// [`BenchError::WeightsMissing`] or [`BenchError::Recogniser`].
pub fn ears(weights: Option<&Path>) -> Result<Recogniser, BenchError> {
    let looked = weights.map_or_else(usual_places, |given| vec![given.to_path_buf()]);
    match looked.iter().find(|path| path.is_file()) {
        Some(path) => Ok(Recogniser::load(path)?),
        None => Err(BenchError::WeightsMissing { looked }),
    }
}

fn usual_places() -> Vec<PathBuf> {
    let binary = std::env::current_exe().unwrap_or_default();
    let beside = binary
        .ancestors()
        .skip(1)
        .map(|folder| folder.join(WEIGHTS))
        // Naming every folder up to the root in an error helps nobody: the repository's is the
        // third above a built binary.
        .take(3);
    std::iter::once(PathBuf::from(WEIGHTS)).chain(beside).collect()
}
