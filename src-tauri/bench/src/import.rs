//! `import`: a record of ours taken into a job file. Taking it in twice changes nothing.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use borespoke_core::record::{Digest, Entry};
use borespoke_handover::proof::Record;
use borespoke_store::{MediaType, NewAttachment, Opening, StoredJob, Workshop};

use crate::error::BenchError;
use crate::export::media_type;
use crate::handover::job_of;

/// A record has a few hundred bytes an entry; no job has a hundred thousand entries.
const MOST_BYTES: u64 = 64 << 20;

/// What came of an import.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Imported {
    /// The job.
    pub job: String,
    /// Whether it was not in the file before.
    pub made: bool,
    /// Entries that were not in it before.
    pub entries: usize,
}

/// Takes records into a job file, which is made when it is not there. Each record is looked at as a
/// whole before anything of it is stored.
///
/// `clips` is the folder with the voice clips and pictures the entries stand on, each named by its
/// SHA-256; those that the file has already are not needed.
///
/// # Errors
/// [`BenchError::NotImported`] when a record is withheld in part, not as it was linked, or does not
/// agree with what is stored; [`BenchError`] when a file cannot be used.
pub fn import(
    file: &Path,
    records: &[PathBuf],
    clips: Option<&Path>,
) -> Result<Vec<Imported>, BenchError> {
    let mut told = Vec::new();
    for path in records {
        told.push((path, whole_job(path)?));
    }
    let mut workshop = Workshop::open_with(file, Opening { make: true, ..Opening::EXISTING })?;
    told.into_iter().map(|(path, told)| take_in(&mut workshop, path, &told, clips)).collect()
}

fn whole_job(path: &Path) -> Result<StoredJob, BenchError> {
    let unreadable = |source| BenchError::File { path: path.to_path_buf(), source };
    let refused = |why: String| BenchError::NotImported { path: path.to_path_buf(), why };
    let length = fs::metadata(path).map_err(unreadable)?.len();
    if length > MOST_BYTES {
        return Err(refused(format!("it has {length} bytes, allowed are {MOST_BYTES}")));
    }
    let bytes = fs::read(path).map_err(unreadable)?;
    let record = Record::from_json(&bytes).map_err(|fault| refused(fault.to_string()))?;
    if record.withheld() > 0 {
        return Err(refused(format!("{} of its lines are withheld", record.withheld())));
    }
    let faults = record.faults();
    if !faults.is_empty() {
        return Err(refused(format!("its chain breaks at {} lines: it was changed", faults.len())));
    }
    job_of(&record).map_err(|fault| refused(fault.to_string()))
}

fn take_in(
    workshop: &mut Workshop,
    path: &Path,
    told: &StoredJob,
    clips: Option<&Path>,
) -> Result<Imported, BenchError> {
    let refused = |why: String| BenchError::NotImported { path: path.to_path_buf(), why };
    let made = workshop.jobs()?.iter().all(|job| job.id != told.id);
    let there = if made { None } else { Some(workshop.load(told.id)?) };
    let mut new: Vec<Entry> = Vec::new();
    for entry in told.log.entries() {
        match there.as_ref().and_then(|stored| stored.log.get(entry.id)) {
            None => new.push(entry.clone()),
            Some(stored) if stored == entry => {}
            Some(_) => return Err(refused(format!("entry {} is stored otherwise", entry.id))),
        }
    }
    let files = wanted_files(workshop, &new, clips).map_err(|fault| match fault {
        Missing::Clip(digest) => {
            refused(format!("the clip or picture {digest} is not given and not in the file"))
        }
        Missing::Other(fault) => fault,
    })?;
    if made {
        workshop.create_job(told.id, &told.job)?;
    }
    if !new.is_empty() {
        let attachments = files
            .iter()
            .map(|(media_type, bytes)| NewAttachment::from_bytes(media_type.clone(), bytes))
            .collect();
        workshop.append(told.id, &new, attachments)?;
    }
    Ok(Imported { job: told.id.to_string(), made, entries: new.len() })
}

enum Missing {
    Clip(Digest),
    Other(BenchError),
}

/// The clips and pictures of these entries that the file has not.
fn wanted_files(
    workshop: &Workshop,
    entries: &[Entry],
    clips: Option<&Path>,
) -> Result<Vec<(MediaType, Vec<u8>)>, Missing> {
    let given = given(clips).map_err(Missing::Other)?;
    let mut digests: Vec<Digest> = entries.iter().flat_map(Entry::attachments).collect();
    digests.sort_unstable();
    digests.dedup();
    let mut files = Vec::new();
    for digest in digests {
        if workshop.attachment(digest).is_ok() {
            continue;
        }
        let (path, media_type) = given.get(&digest.to_string()).ok_or(Missing::Clip(digest))?;
        let bytes = fs::read(path)
            .map_err(|source| Missing::Other(BenchError::File { path: path.clone(), source }))?;
        // The name is a stranger's word; the content must be what the entry stands on.
        if borespoke_store::digest_of_bytes(&bytes) != digest {
            return Err(Missing::Clip(digest));
        }
        files.push((media_type.clone(), bytes));
    }
    Ok(files)
}

fn given(clips: Option<&Path>) -> Result<BTreeMap<String, (PathBuf, MediaType)>, BenchError> {
    let Some(folder) = clips else { return Ok(BTreeMap::new()) };
    let unreadable = |source| BenchError::File { path: folder.to_path_buf(), source };
    let mut files = BTreeMap::new();
    for item in fs::read_dir(folder).map_err(unreadable)? {
        let path = item.map_err(unreadable)?.path();
        let part =
            |part: Option<&std::ffi::OsStr>| part.and_then(|p| p.to_str()).map(str::to_owned);
        let (stem, ending) = (part(path.file_stem()), part(path.extension()));
        if let (Some(stem), Some(media_type)) = (stem, ending.and_then(|e| media_type(&e))) {
            files.insert(stem, (path, media_type));
        }
    }
    Ok(files)
}
