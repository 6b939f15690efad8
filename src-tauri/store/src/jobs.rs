//! Jobs: making, revising, listing, loading.

use borespoke_core::job::{Job, JobId};
use borespoke_core::record::{Entry, Log};
use jiff::Timestamp;
use rusqlite::types::Type;
use rusqlite::{Connection, OptionalExtension, Row};
use serde::Serialize;
use serde::de::DeserializeOwned;
use uuid::Uuid;

use crate::Workshop;
use crate::attachment::digest_of_bytes;
use crate::error::{Refusal, StoreError, Trouble};

/// A job as it stands, with its log.
#[derive(Debug, Clone, PartialEq)]
pub struct StoredJob {
    /// Which job.
    pub id: JobId,
    /// How often it was described; 1 for a new job. [`Workshop::revise_job`] asks for it.
    pub revision: u32,
    /// The job, as last described.
    pub job: Job,
    /// Its log.
    pub log: Log,
}

/// A line in the list of jobs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobSummary {
    /// Which job.
    pub id: JobId,
    /// When it was begun.
    pub begun: Timestamp,
    /// For whom.
    pub customer: String,
    /// Which vehicle or machine, in words.
    pub vehicle: String,
    /// Whether this is an invented example.
    pub invented: bool,
    /// How many entries its log has.
    pub entries: u64,
}

impl Workshop {
    /// Adds a job with an empty log. On disk when this returns.
    ///
    /// # Errors
    /// [`Refusal::JobExists`], or [`crate::FileError`].
    pub fn create_job(&mut self, id: JobId, job: &Job) -> Result<(), StoreError> {
        create(&mut self.connection, id, job).map_err(|trouble| self.told(trouble))?;
        self.still_in_place()
    }

    /// Describes a job anew, `at` this time: a tester more, the conditions, a name put right. The
    /// earlier descriptions stay in the file. `from` is the revision the change was made to.
    /// Gives the new revision. On disk when this returns.
    ///
    /// # Errors
    /// [`Refusal::NoSuchJob`], [`Refusal::Revised`] when another process revised it in the
    /// meantime, or [`crate::FileError`].
    pub fn revise_job(
        &mut self,
        id: JobId,
        from: u32,
        job: &Job,
        at: Timestamp,
    ) -> Result<u32, StoreError> {
        let revision = revise(&mut self.connection, id, from, job, at)
            .map_err(|trouble| self.told(trouble))?;
        self.still_in_place()?;
        Ok(revision)
    }

    /// The jobs, latest begun first.
    ///
    /// # Errors
    /// [`crate::FileError`].
    pub fn jobs(&self) -> Result<Vec<JobSummary>, StoreError> {
        summaries(&self.connection, -1).map_err(|error| self.told(error))
    }

    /// The job begun last; `None` when there is no job.
    ///
    /// # Errors
    /// [`crate::FileError`].
    pub fn latest(&self) -> Result<Option<JobId>, StoreError> {
        let latest = summaries(&self.connection, 1).map_err(|error| self.told(error))?;
        Ok(latest.first().map(|summary| summary.id))
    }

    /// A job with its log.
    ///
    /// # Errors
    /// [`Refusal::NoSuchJob`], or [`crate::FileError`].
    pub fn load(&self, id: JobId) -> Result<StoredJob, StoreError> {
        load(&self.connection, id).map_err(|trouble| self.told(trouble))
    }
}

fn create(connection: &mut Connection, id: JobId, job: &Job) -> Result<(), Trouble> {
    let transaction = connection.transaction()?;
    if find(&transaction, id)?.is_some() {
        return Err(Refusal::JobExists(id).into());
    }
    transaction.execute("INSERT INTO job (id) VALUES (?1)", [id.0.as_bytes()])?;
    let key = transaction.last_insert_rowid();
    write_revision(&transaction, id, key, 1, job, job.begun)?;
    transaction.commit()?;
    Ok(())
}

fn revise(
    connection: &mut Connection,
    id: JobId,
    from: u32,
    job: &Job,
    at: Timestamp,
) -> Result<u32, Trouble> {
    let transaction = connection.transaction()?;
    let key = key_of(&transaction, id)?;
    let found: u32 = transaction.query_one(
        "SELECT max(revision) FROM job_revision WHERE job = ?1",
        [key],
        |row| row.get(0),
    )?;
    if found != from {
        return Err(Refusal::Revised { job: id, found, given: from }.into());
    }
    let next = found + 1;
    write_revision(&transaction, id, key, next, job, at)?;
    transaction.commit()?;
    Ok(next)
}

fn write_revision(
    connection: &Connection,
    id: JobId,
    key: i64,
    revision: u32,
    job: &Job,
    at: Timestamp,
) -> Result<(), Trouble> {
    let body = exact_json(&format!("job {id}"), job)?;
    connection.execute(
        "INSERT INTO job_revision (job, revision, made_at, begun, body, digest)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
        (
            key,
            revision,
            at.as_microsecond(),
            job.begun.as_microsecond(),
            &body,
            digest_of_bytes(body.as_bytes()).as_bytes(),
        ),
    )?;
    Ok(())
}

fn summaries(connection: &Connection, at_most: i64) -> rusqlite::Result<Vec<JobSummary>> {
    connection
        .prepare_cached(include_str!("sql/jobs.sql"))?
        .query_map([at_most], |row| {
            Ok(JobSummary {
                id: JobId(uuid(row, 0)?),
                begun: time(row, 1)?,
                customer: row.get(2)?,
                vehicle: row.get(3)?,
                invented: row.get(4)?,
                entries: row.get(5)?,
            })
        })?
        .collect()
}

fn load(connection: &Connection, id: JobId) -> Result<StoredJob, Trouble> {
    // One transaction, so that job and log are of the same moment. It only reads: it must not ask
    // for the writer's lock.
    let transaction =
        rusqlite::Transaction::new_unchecked(connection, rusqlite::TransactionBehavior::Deferred)?;
    let key = key_of(&transaction, id)?;
    let (revision, job) = read_job(&transaction, id, key)?;
    let mut log = Log::new();
    read_entries(&transaction, key, &mut log)?;
    Ok(StoredJob { id, revision, job, log })
}

fn read_job(connection: &Connection, id: JobId, key: i64) -> Result<(u32, Job), Trouble> {
    let mut query = connection.prepare_cached(
        "SELECT revision, body, digest FROM job_revision
         WHERE job = ?1 ORDER BY revision DESC LIMIT 1",
    )?;
    let mut rows = query.query([key])?;
    let row = rows.next()?.ok_or_else(|| Trouble::corrupt(format!("job {id} says nothing")))?;
    Ok((row.get(0)?, from_json(&format!("job {id}"), row, 1)?))
}

/// Adds to the log what the file has beyond it.
pub(crate) fn read_entries(
    connection: &Connection,
    job_key: i64,
    log: &mut Log,
) -> Result<(), Trouble> {
    let mut query = connection.prepare_cached(
        "SELECT id, body, digest FROM entry WHERE job = ?1 AND place >= ?2 ORDER BY place",
    )?;
    let mut rows = query.query((job_key, log.entries().len()))?;
    while let Some(row) = rows.next()? {
        let id = uuid(row, 0)?;
        let entry: Entry = from_json(&format!("entry {id}"), row, 1)?;
        if entry.id.0 != id {
            return Err(Trouble::corrupt(format!("entry {id} calls itself {}", entry.id)));
        }
        log.append(entry).map_err(|error| Trouble::corrupt(error.to_string()))?;
    }
    Ok(())
}

/// The JSON to be stored, after making sure that it is read back as it was given: JSON knows no
/// infinity and no "not a number".
pub(crate) fn exact_json<T>(what: &str, value: &T) -> Result<String, Trouble>
where
    T: Serialize + DeserializeOwned + PartialEq,
{
    let refused = |why: String| Refusal::NotExact { what: what.to_owned(), why };
    let body = serde_json::to_string(value).map_err(|error| refused(error.to_string()))?;
    let back: T = serde_json::from_str(&body).map_err(|error| refused(error.to_string()))?;
    if back == *value {
        Ok(body)
    } else {
        Err(refused("a figure in it is not a number".to_owned()).into())
    }
}

/// What the JSON in a column says, when it has the digest in the column after it.
fn from_json<T: DeserializeOwned>(what: &str, row: &Row<'_>, column: usize) -> Result<T, Trouble> {
    let body = row.get_ref(column)?.as_str().map_err(rusqlite::Error::from)?;
    let digest: [u8; 32] = row.get(column + 1)?;
    if digest_of_bytes(body.as_bytes()).as_bytes() != &digest {
        return Err(Trouble::corrupt(format!("{what} is not what was written")));
    }
    serde_json::from_str(body)
        .map_err(|error| Trouble::corrupt(format!("{what} cannot be read: {error}")))
}

fn find(connection: &Connection, id: JobId) -> rusqlite::Result<Option<i64>> {
    connection
        .prepare_cached("SELECT key FROM job WHERE id = ?1")?
        .query_one([id.0.as_bytes()], |row| row.get(0))
        .optional()
}

/// The key of the job.
pub(crate) fn key_of(connection: &Connection, id: JobId) -> Result<i64, Trouble> {
    find(connection, id)?.ok_or_else(|| Refusal::NoSuchJob(id).into())
}

/// The identity in a column.
pub(crate) fn uuid(row: &Row<'_>, column: usize) -> rusqlite::Result<Uuid> {
    row.get(column).map(Uuid::from_bytes)
}

fn time(row: &Row<'_>, column: usize) -> rusqlite::Result<Timestamp> {
    Timestamp::from_microsecond(row.get(column)?).map_err(|error| {
        rusqlite::Error::FromSqlConversionFailure(column, Type::Integer, Box::new(error))
    })
}
