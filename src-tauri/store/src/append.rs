//! Adding entries, with their clips and pictures, in one transaction.

use borespoke_core::job::JobId;
use borespoke_core::record::{Entry, Log};
use rusqlite::{Connection, OptionalExtension};

use crate::attachment::{self, NewAttachment, digest_of_bytes};
use crate::error::{Refusal, StoreError, Trouble};
use crate::{Workshop, jobs};

impl Workshop {
    /// Adds entries at the end of a job's log, together with the clips and pictures they stand on.
    ///
    /// All of it becomes durable together: when this returns, it is on disk; when it fails, nothing
    /// of it is in the file. A clip or picture that is stored already is not stored again. Each
    /// attachment is kept with every entry of the call.
    ///
    /// # Errors
    /// [`Refusal`] when the job is not there, an entry does not fit the log
    /// ([`borespoke_core::record::LogError`]), names a clip or picture that is neither given nor stored, or an
    /// attachment is not what its digest says; [`crate::FileError`] when the file cannot be
    /// written.
    pub fn append(
        &mut self,
        job: JobId,
        entries: &[Entry],
        attachments: Vec<NewAttachment<'_>>,
    ) -> Result<(), StoreError> {
        // Taken out: it goes back only when all of this is on disk.
        let known = self.last_log.take().filter(|(last, _)| *last == job);
        let log = known.map(|(_, log)| log).unwrap_or_default();
        let log = append(&mut self.connection, job, log, entries, attachments)
            .map_err(|trouble| self.told(trouble))?;
        self.last_log = Some((job, log));
        self.still_in_place()
    }
}

fn append(
    connection: &mut Connection,
    job: JobId,
    mut log: Log,
    entries: &[Entry],
    attachments: Vec<NewAttachment<'_>>,
) -> Result<Log, Trouble> {
    if entries.is_empty() {
        return Err(Refusal::NoEntry.into());
    }
    let transaction = connection.transaction()?;
    let job_key = jobs::key_of(&transaction, job)?;
    // What another process added since.
    jobs::read_entries(&transaction, job_key, &mut log)?;
    let mut given = Vec::with_capacity(attachments.len());
    for attachment in attachments {
        given.push(attachment.store(&transaction)?);
    }
    for entry in entries {
        let place = log.entries().len();
        fit(&transaction, job_key, &mut log, entry)?;
        let body = jobs::exact_json(&format!("entry {}", entry.id), entry)?;
        transaction
            .prepare_cached(
                "INSERT INTO entry (id, job, place, at, body, digest)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            )?
            .execute((
                entry.id.0.as_bytes(),
                job_key,
                place,
                entry.at.as_microsecond(),
                &body,
                digest_of_bytes(body.as_bytes()).as_bytes(),
            ))?;
        keep_attachments(&transaction, transaction.last_insert_rowid(), entry, &given)?;
    }
    transaction.commit()?;
    Ok(log)
}

/// Adds the entry to the log, which is the judge of whether it fits. That the entry is in no other
/// job only the file knows.
fn fit(connection: &Connection, job_key: i64, log: &mut Log, entry: &Entry) -> Result<(), Trouble> {
    log.append(entry.clone())?;
    let elsewhere = connection
        .prepare_cached(
            "SELECT job.id FROM entry JOIN job ON job.key = entry.job
             WHERE entry.id = ?1 AND entry.job <> ?2",
        )?
        .query_one((entry.id.0.as_bytes(), job_key), |row| jobs::uuid(row, 0))
        .optional()?;
    match elsewhere {
        Some(id) => Err(Refusal::EntryInAnotherJob { entry: entry.id, job: JobId(id) }.into()),
        None => Ok(()),
    }
}

/// Notes which attachments the entry stands on: those it names, and those given with it.
fn keep_attachments(
    connection: &Connection,
    entry_key: i64,
    entry: &Entry,
    given: &[i64],
) -> Result<(), Trouble> {
    let mut keys = given.to_vec();
    for digest in entry.attachments() {
        keys.push(
            attachment::key_of(connection, digest)?
                .ok_or(Refusal::AttachmentNotGiven { entry: entry.id, digest })?,
        );
    }
    keys.sort_unstable();
    keys.dedup();
    for key in keys {
        connection
            .prepare_cached("INSERT INTO entry_attachment (entry, attachment) VALUES (?1, ?2)")?
            .execute((entry_key, key))?;
    }
    Ok(())
}
