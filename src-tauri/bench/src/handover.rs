//! `handover`: the buyer's document.

use std::path::Path;

use borespoke_core::judgement::judge;
use borespoke_core::record::{CylinderTable, Digest, Observation, Origin};
use borespoke_handover::{HandoverData, PlugPicture, typeset};
use borespoke_store::{StoredJob, Workshop};
use jiff::tz::Offset;

pub use borespoke_handover::Paper;

use crate::error::BenchError;
use crate::job_file;

/// Sets the document of a job in a file. Its times are on a wall clock `utc_offset` from UTC.
///
/// # Errors
/// [`BenchError`] when the file or job cannot be had, or the document cannot be set.
pub fn handover(
    file: &Path,
    job: Option<&str>,
    paper: Paper,
    utc_offset: Offset,
) -> Result<Vec<u8>, BenchError> {
    let (workshop, stored) = job_file::open(file, job)?;
    let (limits, evaluation) = job_file::evaluation(&stored)?;
    let judgement = judge(&stored.job, &stored.log);
    let data = HandoverData {
        job_id: stored.id.to_string(),
        utc_offset,
        table: CylinderTable::new(&stored.job.engine, &stored.log),
        pictures: pictures(&workshop, &stored)?,
        job: stored.job,
        log: stored.log,
        limits,
        evaluation,
        judgement,
        attachments: Vec::new(),
    };
    Ok(typeset(&data, paper)?)
}

/// The newest picture in force of each cylinder, by cylinder.
fn pictures(workshop: &Workshop, stored: &StoredJob) -> Result<Vec<PlugPicture>, BenchError> {
    let mut newest: Vec<(borespoke_core::engine::Cylinder, Digest)> = Vec::new();
    for (entry, observation) in stored.log.in_force() {
        let Observation::Look(look) = observation else { continue };
        let taken = match entry.origin {
            Origin::Pictured { picture } => Some(picture),
            Origin::Spoken { .. } | Origin::Typed => None,
        };
        if let Some(digest) = look.picture.or(taken) {
            newest.retain(|(cylinder, _)| *cylinder != look.cylinder);
            newest.push((look.cylinder, digest));
        }
    }
    newest.sort_by_key(|(cylinder, _)| *cylinder);
    newest
        .into_iter()
        .map(|(cylinder, digest)| {
            let bytes = workshop.attachment(digest)?.into_bytes()?;
            Ok(PlugPicture { cylinder, name: format!("plug {cylinder}"), bytes })
        })
        .collect()
}
