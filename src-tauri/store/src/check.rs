//! Looking for damage.

use borespoke_core::job::JobId;
use borespoke_core::record::Digest;
use rusqlite::Connection;

use crate::Workshop;
use crate::error::{StoreError, Trouble};

/// The tables looked at on opening. The pieces of clips and pictures are not among them: they are
/// nearly all of the file, and each attachment is verified by its digest whenever it is read.
const TABLES: [&str; 5] = ["job", "job_revision", "entry", "attachment", "entry_attachment"];

/// What a full check went through, and found good.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Checked {
    /// Jobs, each loaded with its whole log.
    pub jobs: usize,
    /// Entries in them.
    pub entries: usize,
    /// Clips and pictures, each compared with its digest.
    pub attachments: usize,
}

/// Checks the structure of the tables and that what points at something points at what is there.
pub(crate) fn tables(connection: &Connection) -> Result<(), Trouble> {
    for table in TABLES {
        complaints(connection, &format!("PRAGMA integrity_check({table})"))?;
    }
    foreign_keys(connection)
}

fn complaints(connection: &Connection, question: &str) -> Result<(), Trouble> {
    let answer: String = connection.query_row(question, [], |row| row.get(0))?;
    if answer == "ok" { Ok(()) } else { Err(Trouble::corrupt(answer)) }
}

fn foreign_keys(connection: &Connection) -> Result<(), Trouble> {
    let mut query = connection.prepare("PRAGMA foreign_key_check")?;
    let mut rows = query.query([])?;
    match rows.next()? {
        None => Ok(()),
        Some(row) => {
            let (table, parent): (String, String) = (row.get(0)?, row.get(2)?);
            Err(Trouble::corrupt(format!("table {table} points at what is not in {parent}")))
        }
    }
}

impl Workshop {
    /// Reads everything: the structure of the whole file, every job and entry, every clip and
    /// picture against its digest. Takes as long as reading the file takes.
    ///
    /// # Errors
    /// [`crate::FileProblem::Corrupt`] with the first damage found.
    pub fn check(&self) -> Result<Checked, StoreError> {
        complaints(&self.connection, "PRAGMA integrity_check")
            .and_then(|()| foreign_keys(&self.connection))
            .map_err(|trouble| self.told(trouble))?;
        let ids = self.ids("SELECT id FROM job").map_err(|error| self.told(error))?;
        let mut entries = 0;
        for id in &ids {
            entries += self.load(JobId(uuid::Uuid::from_bytes(*id)))?.log.entries().len();
        }
        let digests =
            self.ids("SELECT digest FROM attachment").map_err(|error| self.told(error))?;
        for digest in &digests {
            self.attachment(Digest::from_bytes(*digest))?.hand_on(&mut std::io::sink())?;
        }
        Ok(Checked { jobs: ids.len(), entries, attachments: digests.len() })
    }

    fn ids<const N: usize>(&self, query: &str) -> rusqlite::Result<Vec<[u8; N]>> {
        self.connection.prepare(query)?.query_map([], |row| row.get(0))?.collect()
    }
}
