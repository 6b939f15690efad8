//! `table`: what is known per cylinder.

use std::path::Path;

use borespoke_core::job::Job;
use borespoke_core::record::CylinderTable;
use borespoke_core::rules::Evaluation;

use crate::error::BenchError;
use crate::job_file;
use crate::wire::TableRow;

/// The cylinder table of a job, and what the rule set says of it.
#[derive(Debug)]
pub struct Table {
    /// The job.
    pub job: Job,
    /// The rows, by cylinder.
    pub rows: Vec<TableRow>,
    /// The readings against the limits.
    pub evaluation: Evaluation,
}

/// The cylinder table of a job in a file.
///
/// # Errors
/// [`BenchError`] when the file or job cannot be had.
pub fn table(file: &Path, job: Option<&str>) -> Result<Table, BenchError> {
    let (_, stored) = job_file::open(file, job)?;
    let (_, evaluation) = job_file::evaluation(&stored)?;
    let rows = CylinderTable::new(&stored.job.engine, &stored.log)
        .rows
        .iter()
        .map(|row| TableRow::new(row, &evaluation))
        .collect();
    Ok(Table { job: stored.job, rows, evaluation })
}
