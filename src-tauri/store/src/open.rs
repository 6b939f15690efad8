//! Opening a job file, making one, and finding out what state it is in.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};
use std::thread;
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, ErrorCode, OpenFlags, TransactionBehavior, ffi};

use crate::error::{FileProblem, StoreError, Trouble, problem_of};
use crate::{Workshop, check, schema};

/// How a file is to be opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Opening {
    /// Make the file when it is not there.
    pub make: bool,
    /// Open the file when it is there.
    pub reuse: bool,
    /// How long to wait for another process that is writing.
    pub patience: Duration,
}

impl Opening {
    /// Opens what is there; waits five seconds for another writer.
    pub const EXISTING: Self = Self { make: false, reuse: true, patience: Duration::from_secs(5) };
}

impl Workshop {
    /// Opens a file that is there.
    ///
    /// On a disk that cannot be written the file is opened for reading.
    ///
    /// # Errors
    /// [`crate::FileError`], with the kind of problem and a hint.
    pub fn open(path: impl AsRef<Path>) -> Result<Self, StoreError> {
        Self::open_with(path, Opening::EXISTING)
    }

    /// Makes a new file.
    ///
    /// # Errors
    /// [`FileProblem::Exists`] when it is there already, else as [`Workshop::open`].
    pub fn create(path: impl AsRef<Path>) -> Result<Self, StoreError> {
        Self::open_with(path, Opening { make: true, reuse: false, ..Opening::EXISTING })
    }

    /// Opens the file, and makes it when it is not there. A making that was cut short is finished.
    ///
    /// # Errors
    /// As [`Workshop::open`].
    pub fn open_or_create(path: impl AsRef<Path>) -> Result<Self, StoreError> {
        Self::open_with(path, Opening { make: true, ..Opening::EXISTING })
    }

    /// Opens or makes a file in the way given.
    ///
    /// # Errors
    /// As [`Workshop::open`].
    pub fn open_with(path: impl AsRef<Path>, opening: Opening) -> Result<Self, StoreError> {
        let given = path.as_ref();
        look_at(given, opening)
            .and_then(|path| set_up(path, opening))
            .map_err(|trouble| trouble.in_file(given))
    }

    /// Whether the file can only be read, because its disk or its permissions say so.
    #[must_use]
    pub fn is_read_only(&self) -> bool {
        self.connection.is_readonly("main").unwrap_or(true)
    }

    /// Whether the last use of the file had not ended properly (or another process is using it),
    /// so that the tables were checked on opening, and found good.
    #[must_use]
    pub const fn was_checked(&self) -> bool {
        self.after_unclean_end
    }

    /// Ends the use of the file properly: the write-ahead log is brought into it, so that it is one
    /// file again. Dropping does the same but cannot tell of an error.
    ///
    /// # Errors
    /// [`crate::FileError`]. Everything confirmed is safe in the write-ahead log then.
    pub fn close(self) -> Result<(), StoreError> {
        let path = self.path;
        self.connection.close().map_err(|(_, error)| Trouble::Sql(error).in_file(&path))
    }
}

/// Looks at the file without SQLite, so that a stranger's file is not touched. Gives its path with
/// links followed: the write-ahead log lies beside the file itself.
fn look_at(given: &Path, opening: Opening) -> Result<PathBuf, Trouble> {
    if opening.make {
        // Made here, since SQLite would not say why it cannot be made.
        match File::options().write(true).create_new(true).open(given) {
            Err(error) if error.kind() != ErrorKind::AlreadyExists => {
                return Err(FileProblem::from(error).into());
            }
            _ => {}
        }
    }
    let path = fs::canonicalize(given).map_err(|error| match error.kind() {
        ErrorKind::NotFound => FileProblem::Missing("no file has this name".to_owned()),
        _ => FileProblem::from(error),
    })?;
    if path.is_dir() {
        return Err(FileProblem::NotOurs("it is a folder".to_owned()).into());
    }
    let header = header(&path).map_err(FileProblem::from)?;
    if header.is_empty() {
        return if opening.make {
            Ok(path)
        } else {
            Err(FileProblem::Missing("the file is empty".to_owned()).into())
        };
    }
    // sqlite.org/fileformat.html: the text at 0, the application id at 68, big end first.
    let Some(id) = header.get(68..72).filter(|_| header.starts_with(b"SQLite format 3\0")) else {
        return Err(FileProblem::NotOurs("it is not a SQLite file".to_owned()).into());
    };
    let ours = id == schema::APPLICATION_ID.to_be_bytes();
    let unmarked = id == [0; 4] && opening.make;
    if !ours && !unmarked {
        return Err(FileProblem::NotOurs("another program made it".to_owned()).into());
    }
    if ours && !opening.reuse {
        return Err(FileProblem::Exists.into());
    }
    Ok(path)
}

/// The first 100 bytes, or what there is.
fn header(path: &Path) -> io::Result<Vec<u8>> {
    let mut header = Vec::with_capacity(100);
    File::open(path)?.take(100).read_to_end(&mut header)?;
    Ok(header)
}

fn set_up(path: PathBuf, opening: Opening) -> Result<Workshop, Trouble> {
    // A write-ahead log is brought into the file and removed when the last user closes it; one with
    // something in it was left by a kill or a power cut, or belongs to a process at work.
    let after_unclean_end = log_length(&path) > 0;
    let place = Place::of(&path).map_err(FileProblem::from)?;
    let mut connection = connect(&path, opening.patience)?;
    let tables: i64 =
        connection.query_one("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    let id: i32 = connection.pragma_query_value(None, "application_id", |row| row.get(0))?;
    let version = schema::version(&connection)?;
    let new = opening.make && tables == 0 && id == 0 && version == 0;
    if !new {
        if id != schema::APPLICATION_ID {
            return Err(FileProblem::NotOurs("another program made it".to_owned()).into());
        }
        if version > schema::NEWEST {
            return Err(FileProblem::TooNew { found: version, known: schema::NEWEST }.into());
        }
    }
    let read_only = connection.is_readonly("main")?;
    if version < schema::NEWEST {
        if read_only {
            return Err(FileProblem::ReadOnly.into());
        }
        schema::migrate(&mut connection)?;
    }
    if !read_only {
        use_write_ahead_log(&connection, opening.patience)?;
    }
    schema::compare(&connection)?;
    if after_unclean_end {
        check::tables(&connection)?;
    }
    Ok(Workshop { connection, place, path, after_unclean_end, last_log: None })
}

/// Which file it is, whatever it is called.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Place {
    /// Device and inode. Elsewhere an open file cannot be moved or removed.
    #[cfg(unix)]
    numbers: (u64, u64),
}

impl Place {
    #[cfg(unix)]
    fn of(path: &Path) -> io::Result<Self> {
        use std::os::unix::fs::MetadataExt;
        let found = fs::metadata(path)?;
        Ok(Self { numbers: (found.dev(), found.ino()) })
    }

    #[cfg(not(unix))]
    fn of(_path: &Path) -> io::Result<Self> {
        Ok(Self {})
    }
}

impl Workshop {
    /// Refuses to confirm what was written to a file that is no longer under its name: SQLite goes
    /// on writing to it, and all of it would be gone in the end.
    pub(crate) fn still_in_place(&self) -> Result<(), StoreError> {
        match Place::of(&self.path) {
            Ok(place) if place == self.place && log_path(&self.path).exists() => Ok(()),
            _ => Err(self.told(FileProblem::Moved)),
        }
    }
}

fn log_path(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push("-wal");
    name.into()
}

/// How long the write-ahead log beside the file is.
fn log_length(path: &Path) -> u64 {
    fs::metadata(log_path(path)).map_or(0, |log| log.len())
}

fn connect(path: &Path, patience: Duration) -> Result<Connection, Trouble> {
    // Not among the flags: reading the name as a URI, which would give characters in it a meaning.
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let first = Connection::open_with_flags(path, flags)
        .and_then(|connection| configure(connection, patience));
    match first {
        Err(error) if cannot_make_log_index(&error) && log_length(path) == 0 => {
            // On a read-only disk SQLite cannot make the index of the write-ahead log. Without a
            // log there is nothing to index, and nobody can write while we read.
            let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
                | OpenFlags::SQLITE_OPEN_NO_MUTEX
                | OpenFlags::SQLITE_OPEN_URI;
            Connection::open_with_flags(unchanging(path), flags)
                .and_then(|connection| configure(connection, patience))
                // The first error says more than what came of the second way.
                .map_err(|_| Trouble::Sql(error))
        }
        Err(error) if cannot_make_log_index(&error) => Err(FileProblem::ReadOnly.into()),
        other => Ok(other?),
    }
}

fn cannot_make_log_index(error: &rusqlite::Error) -> bool {
    error.sqlite_error().is_some_and(|failure| {
        failure.code == ErrorCode::ReadOnly
            || (failure.code == ErrorCode::CannotOpen
                && failure.extended_code != ffi::SQLITE_CANTOPEN_ISDIR)
    })
}

/// The name as a URI that says the file does not change. sqlite.org/uri.html.
fn unchanging(path: &Path) -> String {
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

fn use_write_ahead_log(connection: &Connection, patience: Duration) -> Result<(), Trouble> {
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
