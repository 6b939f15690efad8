//! `export`: a job in other forms, and everything about a customer.

use std::fs;
use std::path::{Path, PathBuf};

use borespoke_core::record::Digest;
use borespoke_handover::export::{JobTold, page, spreadsheet};
use borespoke_handover::proof::{Kind, Record};
use borespoke_store::{MediaType, StoredJob, Workshop};
use jiff::tz::Offset;

use crate::error::BenchError;
use crate::handover::{data, job_of, pictures, seal_key};
use crate::job_file;

/// The form of an export.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// One HTML file.
    Html,
    /// CSV, one entry a row.
    Csv,
    /// The record (`docs/schema/record-1.schema.json`).
    Json,
}

/// What is to be exported.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wanted<'a> {
    /// The job, by the start of its identity; the latest when `None`.
    pub job: Option<&'a str>,
    /// Every job instead. Only a table can hold more than one.
    pub all: bool,
    /// Leave out names, vehicle and words.
    pub redact: bool,
    /// The clock of the times on the page.
    pub utc_offset: Offset,
}

/// A job, or all of them, in this form.
///
/// # Errors
/// [`BenchError`] when the file or job cannot be had or the form cannot be made.
pub fn export(file: &Path, form: Form, wanted: Wanted<'_>) -> Result<Vec<u8>, BenchError> {
    let (workshop, latest) = job_file::open(file, wanted.job)?;
    if form == Form::Csv && wanted.all {
        let mut jobs = Vec::new();
        for summary in workshop.jobs()? {
            jobs.push(told(&workshop, workshop.load(summary.id)?, wanted.redact)?.0);
        }
        return table(&jobs);
    }
    one(&workshop, latest, form, wanted)
}

fn one(
    workshop: &Workshop,
    stored: StoredJob,
    form: Form,
    wanted: Wanted<'_>,
) -> Result<Vec<u8>, BenchError> {
    let pictures = pictures(workshop, &stored)?;
    let (stored, record) = told(workshop, stored, wanted.redact)?;
    Ok(match form {
        Form::Html => page(&data(stored, pictures, wanted.utc_offset)?)?.into_bytes(),
        Form::Csv => table(&[stored])?,
        Form::Json => record.to_json(),
    })
}

fn table(jobs: &[StoredJob]) -> Result<Vec<u8>, BenchError> {
    let told: Vec<_> = jobs
        .iter()
        .map(|stored| JobTold { id: stored.id, job: &stored.job, log: &stored.log })
        .collect();
    Ok(spreadsheet(&told)?)
}

/// The job as it may be told, and its record.
fn told(
    workshop: &Workshop,
    stored: StoredJob,
    redact: bool,
) -> Result<(StoredJob, Record), BenchError> {
    let salt = seal_key(workshop.path())?.salt();
    let record = Record::new(stored.id, stored.revision, &stored.job, &stored.log, &salt)?;
    if !redact {
        return Ok((stored, record));
    }
    let record = record.withholding(&[Kind::People, Kind::Words]);
    Ok((job_of(&record)?, record))
}

/// Writes the voice clips and pictures of a job into a folder, each named by its SHA-256. Says how
/// many.
///
/// # Errors
/// [`BenchError`] when one cannot be had or written.
pub fn clips(file: &Path, job: Option<&str>, folder: &Path) -> Result<usize, BenchError> {
    let (workshop, stored) = job_file::open(file, job)?;
    write_clips(&workshop, &stored, folder)
}

fn write_clips(
    workshop: &Workshop,
    stored: &StoredJob,
    folder: &Path,
) -> Result<usize, BenchError> {
    make_folder(folder)?;
    let mut digests: Vec<Digest> =
        stored.log.entries().iter().flat_map(borespoke_core::record::Entry::attachments).collect();
    digests.sort_unstable();
    digests.dedup();
    for digest in &digests {
        let attachment = workshop.attachment(*digest)?;
        let path = folder.join(format!("{digest}.{}", ending(attachment.media_type())));
        write(&path, &attachment.into_bytes()?)?;
    }
    Ok(digests.len())
}

const ENDINGS: [(MediaType, &str); 4] = [
    (MediaType::WAV, "wav"),
    (MediaType::JPEG, "jpg"),
    (MediaType::PNG, "png"),
    (MediaType::HEIC, "heic"),
];

fn ending(media_type: &MediaType) -> &'static str {
    ENDINGS.iter().find(|(known, _)| known == media_type).map_or("bin", |(_, ending)| ending)
}

/// The kind of content that a file name's ending tells.
pub(crate) fn media_type(ending: &str) -> Option<MediaType> {
    ENDINGS.into_iter().find(|(_, known)| *known == ending).map(|(media_type, _)| media_type)
}

/// Writes everything about a customer into a new folder: every job in each form, with its clips and
/// pictures as they were taken. Gives how many jobs.
///
/// # Errors
/// [`BenchError::NoSuchCustomer`], or [`BenchError`] when something cannot be had or written.
pub fn everything(
    file: &Path,
    customer: &str,
    folder: &Path,
    utc_offset: Offset,
) -> Result<usize, BenchError> {
    let workshop = Workshop::open(file)?;
    let jobs: Vec<_> =
        workshop.jobs()?.into_iter().filter(|job| job.customer.trim() == customer.trim()).collect();
    if jobs.is_empty() {
        return Err(BenchError::NoSuchCustomer(customer.to_owned()));
    }
    let wanted = Wanted { job: None, all: false, redact: false, utc_offset };
    for summary in &jobs {
        let folder = folder.join(summary.id.to_string());
        let stored = workshop.load(summary.id)?;
        write_clips(&workshop, &stored, &folder.join("clips"))?;
        for (form, name) in
            [(Form::Html, "job.html"), (Form::Csv, "entries.csv"), (Form::Json, "record.json")]
        {
            write(&folder.join(name), &one(&workshop, stored.clone(), form, wanted)?)?;
        }
    }
    Ok(jobs.len())
}

fn make_folder(path: &Path) -> Result<(), BenchError> {
    fs::create_dir_all(path)
        .map_err(|source| BenchError::File { path: PathBuf::from(path), source })
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), BenchError> {
    fs::write(path, bytes).map_err(|source| BenchError::File { path: PathBuf::from(path), source })
}
