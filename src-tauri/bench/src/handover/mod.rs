//! `handover`: the buyer's document, sealed.

mod key;

use std::path::Path;

use borespoke_core::judgement::judge;
use borespoke_core::record::{CylinderTable, Digest, Observation, Origin};
use borespoke_handover::proof::{Code, Kind, Record, fingerprint, typeset_sealed};
use borespoke_handover::{HandoverData, PictureFile, PlugPicture};
use borespoke_store::{StoredJob, Workshop};
use jiff::tz::Offset;

pub use borespoke_handover::Paper;
pub use key::key_path;
pub(crate) use key::seal_key;

use crate::error::BenchError;
use crate::job_file;

/// How a document is to be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wanted {
    /// The paper.
    pub paper: Paper,
    /// How far the clock on the workshop's wall is from UTC; every time is printed on it.
    pub utc_offset: Offset,
    /// Leave out who it is for, the vehicle, and every word that was said.
    pub redact: bool,
}

/// A document that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Made {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// The code of its sealed entries, as it stands on the buyer's page.
    pub code: Code,
    /// The fingerprint of the workshop's key.
    pub key: String,
}

/// Sets the document of a job in a file. Its times are on a wall clock `utc_offset` from UTC.
///
/// # Errors
/// As [`make`].
pub fn handover(
    file: &Path,
    job: Option<&str>,
    paper: Paper,
    utc_offset: Offset,
) -> Result<Vec<u8>, BenchError> {
    Ok(make(file, job, Wanted { paper, utc_offset, redact: false })?.pdf)
}

/// Sets and seals the document of a job in a file. The workshop's key is made at first use, beside
/// the file.
///
/// # Errors
/// [`BenchError`] when the file or job cannot be had, the key cannot be read or made, or the
/// document cannot be set.
pub fn make(file: &Path, job: Option<&str>, wanted: Wanted) -> Result<Made, BenchError> {
    let (workshop, stored) = job_file::open(file, job)?;
    let key = seal_key(workshop.path())?;
    let pictures = pictures(&workshop, &stored)?;
    let mut record =
        Record::new(stored.id, stored.revision, &stored.job, &stored.log, &key.salt())?;
    let mut told = stored;
    if wanted.redact {
        record = record.withholding(&[Kind::People, Kind::Words]);
        told = job_of(&record)?;
    }
    let data = data(told, pictures, wanted.utc_offset)?;
    let (pdf, seal) = typeset_sealed(&data, wanted.paper, &record, &key)?;
    Ok(Made { pdf, code: seal.code(), key: fingerprint(&seal.key) })
}

/// The job and log that a record tells.
pub(crate) fn job_of(record: &Record) -> Result<StoredJob, BenchError> {
    let (id, revision, job) = record.job()?;
    Ok(StoredJob { id, revision, job, log: record.log()? })
}

/// Everything the document says of a job.
pub(crate) fn data(
    stored: StoredJob,
    pictures: Vec<PlugPicture>,
    utc_offset: Offset,
) -> Result<HandoverData, BenchError> {
    let (limits, evaluation) = job_file::evaluation(&stored)?;
    Ok(HandoverData {
        job_id: stored.id.to_string(),
        utc_offset,
        table: CylinderTable::new(&stored.job.engine, &stored.log),
        judgement: judge(&stored.job, &stored.log),
        pictures,
        job: stored.job,
        log: stored.log,
        limits,
        evaluation,
        attachments: Vec::new(),
    })
}

/// The newest picture in force of each cylinder, by cylinder.
pub(crate) fn pictures(
    workshop: &Workshop,
    stored: &StoredJob,
) -> Result<Vec<PlugPicture>, BenchError> {
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
            let file = PictureFile::AsTaken(workshop.attachment(digest)?.into_bytes()?);
            Ok(PlugPicture { cylinder, name: format!("plug {cylinder}"), file })
        })
        .collect()
}
