//! The recogniser's weights.

use crate::run::{self, ChoreError};
use crate::{packages, repository};

/// Fetches and converts the weights, unless they are there and right.
///
/// # Errors
/// [`ChoreError`] when they could not be made; the tool's own message says what to do.
pub fn make() -> Result<(), ChoreError> {
    packages::ensure(&[packages::BUILD])?;
    run::shown(&mut repository::cargo(&["run", "--release", "--package", "borespoke-models"]))
}
