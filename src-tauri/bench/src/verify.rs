//! `verify`: what of a handover holds. Comes with the signed handover.

use std::path::Path;

use crate::error::BenchError;

/// Checks a handover.
///
/// # Errors
/// [`BenchError::File`] when it cannot be read, [`BenchError::NotThereYet`] otherwise.
pub fn verify(document: &Path) -> Result<(), BenchError> {
    std::fs::metadata(document)
        .map_err(|source| BenchError::File { path: document.to_path_buf(), source })?;
    Err(BenchError::NotThereYet("verifying a handover"))
}
