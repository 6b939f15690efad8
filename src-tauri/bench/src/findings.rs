//! `findings`: what is likely wrong, and what to test next.

use std::path::Path;

use borespoke_core::judgement::{Judgement, judge};

use crate::error::BenchError;
use crate::job_file;

/// The judgement of a job in a file.
///
/// # Errors
/// [`BenchError`] when the file or job cannot be had.
pub fn findings(file: &Path, job: Option<&str>) -> Result<Judgement, BenchError> {
    let (_, stored) = job_file::open(file, job)?;
    Ok(judge(&stored.job, &stored.log))
}
