//! Connecting to the file, and what is set on every connection.

use std::fs::{self, File};
use std::io::ErrorKind;
use std::path::Path;
use std::thread;
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, ErrorCode, OpenFlags, TransactionBehavior};

use crate::error::{FileProblem, Trouble, problem_of};
use crate::place::{beside, log_length};
use crate::{Opening, schema};

/// Connects for reading and writing, or for reading where the disk allows no more.
pub(crate) fn connect(path: &Path, opening: Opening) -> Result<Connection, Trouble> {
    // Not among the flags: reading the name as a URI, which would give characters in it a meaning.
    let mut flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    if opening.make {
        flags |= OpenFlags::SQLITE_OPEN_CREATE;
    }
    let first = Connection::open_with_flags(path, flags)
        .and_then(|connection| configure(connection, opening.patience));
    match first {
        Err(error) if !path.exists() => Err(why_not_made(path, error)),
        // On a read-only disk SQLite cannot make the index of the write-ahead log. Where there is no
        // log there is nothing to index, and nobody can write while we read.
        Err(error) if cannot_write_beside(&error) && disk_is_read_only(path) => {
            if log_length(path) > 0 {
                return Err(FileProblem::ReadOnly.into());
            }
            Ok(unchanging(path).and_then(|connection| configure(connection, opening.patience))?)
        }
        Err(error) if cannot_write_beside(&error) => Err(FileProblem::ReadOnly.into()),
        other => Ok(other?),
    }
}

/// The application id in the file, read without touching the file, its log or its locks. It is
/// looked at through SQLite since on Unix the closing of any other handle would drop the locks that
/// another connection of this process may hold. sqlite.org/howtocorrupt.html, 2.2.
pub(crate) fn application_id(path: &Path) -> Result<i32, FileProblem> {
    unchanging(path)
        .and_then(|connection| {
            connection.pragma_query_value(None, "application_id", |row| row.get(0))
        })
        .map_err(|error| problem_of(&error))
}

/// SQLite does not say why it could not make the file; the system does.
fn why_not_made(path: &Path, said: rusqlite::Error) -> Trouble {
    match File::create_new(path) {
        Err(error) => FileProblem::from(error).into(),
        Ok(_) => Trouble::Sql(said),
    }
}

fn cannot_write_beside(error: &rusqlite::Error) -> bool {
    error
        .sqlite_error()
        .is_some_and(|failure| matches!(failure.code, ErrorCode::ReadOnly | ErrorCode::CannotOpen))
}

fn disk_is_read_only(path: &Path) -> bool {
    let probe = beside(path, "-probe");
    let made = File::create_new(&probe);
    if made.is_ok() {
        // An empty file left there does no harm.
        let _ = fs::remove_file(probe);
    }
    made.is_err_and(|error| error.kind() == ErrorKind::ReadOnlyFilesystem)
}

/// A connection for reading that takes the file for one that does not change: no lock is taken and
/// no log is read.
fn unchanging(path: &Path) -> rusqlite::Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
        | OpenFlags::SQLITE_OPEN_NO_MUTEX
        | OpenFlags::SQLITE_OPEN_URI;
    Connection::open_with_flags(unchanging_uri(path), flags)
}

/// sqlite.org/uri.html.
fn unchanging_uri(path: &Path) -> String {
    use std::fmt::Write;
    let mut uri = "file:".to_owned();
    for &byte in path.as_os_str().as_encoded_bytes() {
        if byte.is_ascii_alphanumeric() || b"/-_.~".contains(&byte) {
            uri.push(char::from(byte));
        } else {
            // Writing into a string does not fail.
            let _ = write!(uri, "%{byte:02x}");
        }
    }
    uri + "?immutable=1"
}

fn configure(mut connection: Connection, patience: Duration) -> rusqlite::Result<Connection> {
    connection.busy_timeout(patience)?;
    // A transaction that writes asks for the lock at its start; one that finds out later that it
    // wants to write could not wait for it.
    connection.set_transaction_behavior(TransactionBehavior::Immediate);
    // The file may come from a stranger: nothing in its schema may do more than ours needs.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false)?;
    connection.execute_batch(include_str!("sql/connection.sql"))?;
    // The first reading of the file: tells whether it can be read at all.
    schema::version(&connection)?;
    Ok(connection)
}

pub(crate) fn use_write_ahead_log(
    connection: &Connection,
    patience: Duration,
) -> Result<(), Trouble> {
    const PAUSE: Duration = Duration::from_millis(10);
    let mut tries = 1 + patience.as_millis() / PAUSE.as_millis();
    loop {
        let mode =
            connection.pragma_query_value(None, "journal_mode", |row| row.get::<_, String>(0))?;
        if mode == "wal" {
            return Ok(());
        }
        // The change of mode does not wait for other users by itself.
        match connection
            .pragma_update_and_check(None, "journal_mode", "wal", |row| row.get::<_, String>(0))
        {
            Ok(mode) if mode == "wal" => return Ok(()),
            Ok(mode) => {
                let why = format!("this place allows no write-ahead log, only \"{mode}\"");
                return Err(FileProblem::Unusable(why).into());
            }
            Err(error) if problem_of(&error) == FileProblem::Locked && tries > 1 => {
                tries -= 1;
                thread::sleep(PAUSE);
            }
            Err(error) => return Err(error.into()),
        }
    }
}
