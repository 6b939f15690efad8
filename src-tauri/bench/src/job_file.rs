//! Which job of a job file is meant.

use std::path::Path;

use borespoke_core::job::Job;
use borespoke_core::rules::{Evaluation, LimitsInForce, RuleSet, evaluate};
use borespoke_store::{StoredJob, Workshop};

use crate::error::BenchError;

/// Opens the file and loads a job: the one whose identity begins with `prefix`, or the latest.
///
/// # Errors
/// [`BenchError`] when the file will not open, or no job or more than one fits.
pub fn open(file: &Path, prefix: Option<&str>) -> Result<(Workshop, StoredJob), BenchError> {
    let workshop = Workshop::open(file)?;
    let id = match prefix {
        None => workshop.latest()?.ok_or(BenchError::NoJob)?,
        Some(prefix) => {
            let fits: Vec<_> = workshop
                .jobs()?
                .into_iter()
                .filter(|job| job.id.to_string().starts_with(prefix))
                .collect();
            match fits.as_slice() {
                [] => return Err(BenchError::NoSuchJob(prefix.to_owned())),
                [one] => one.id,
                more => {
                    let prefix = prefix.to_owned();
                    return Err(BenchError::AmbiguousJob { prefix, count: more.len() });
                }
            }
        }
    };
    let stored = workshop.load(id)?;
    Ok((workshop, stored))
}

/// The limits that count for a job, and how its readings stand against them.
///
/// # Errors
/// [`BenchError::RuleSet`] when the job names a rule set that this version does not have.
pub fn evaluation(stored: &StoredJob) -> Result<(LimitsInForce, Evaluation), BenchError> {
    let limits = limits(&stored.job)?;
    let evaluation = evaluate(&stored.job.engine, &stored.job.testers, &stored.log, &limits);
    Ok((limits, evaluation))
}

fn limits(job: &Job) -> Result<LimitsInForce, BenchError> {
    Ok(LimitsInForce::new(RuleSet::by_id(&job.rule_set)?, &job.makers_figures))
}
