//! Opening a job file, making one, and finding out what state it is in.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::error::{FileProblem, StoreError, Trouble};
use crate::place::{Place, log_length};
use crate::{Workshop, check, connection, schema};

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

/// Looks at the file without touching it: it may be a stranger's. Gives its path with links followed,
/// since the write-ahead log lies beside the file itself.
fn look_at(given: &Path, opening: Opening) -> Result<PathBuf, Trouble> {
    let path = match fs::canonicalize(given) {
        Ok(path) => path,
        Err(error) if error.kind() == ErrorKind::NotFound => {
            return if opening.make {
                to_be_made(given)
            } else {
                Err(FileProblem::Missing("no file has this name".to_owned()).into())
            };
        }
        Err(error) => return Err(FileProblem::from(error).into()),
    };
    let found = fs::metadata(&path).map_err(FileProblem::from)?;
    if found.is_dir() {
        return Err(FileProblem::NotOurs("it is a folder".to_owned()).into());
    }
    if found.len() == 0 {
        return if opening.make {
            Ok(path)
        } else {
            Err(FileProblem::Missing("the file is empty".to_owned()).into())
        };
    }
    match connection::application_id(&path) {
        Err(FileProblem::NotOurs(what)) => Err(FileProblem::NotOurs(what).into()),
        // Without its log a file left in the middle of something may look damaged. What it is, is
        // found out when it is opened with it.
        Ok(schema::APPLICATION_ID) | Err(_) if opening.reuse => Ok(path),
        Ok(schema::APPLICATION_ID) | Err(_) => Err(FileProblem::Exists.into()),
        // A making cut short, as the tables will show.
        Ok(0) if opening.make => Ok(path),
        Ok(_) => Err(FileProblem::NotOurs("another program made it".to_owned()).into()),
    }
}

/// The path of a file that is not there, in the folder that is.
fn to_be_made(given: &Path) -> Result<PathBuf, Trouble> {
    let folder = given.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = fs::canonicalize(folder.unwrap_or(Path::new("."))).map_err(FileProblem::from)?;
    let name = given
        .file_name()
        .ok_or_else(|| FileProblem::Unusable("the path ends without a name".to_owned()))?;
    Ok(folder.join(name))
}

fn set_up(path: PathBuf, opening: Opening) -> Result<Workshop, Trouble> {
    // A write-ahead log is brought into the file and removed when the last user closes it; one with
    // something in it was left by a kill or a power cut, or belongs to a process at work.
    let after_unclean_end = log_length(&path) > 0;
    let mut connection = connection::connect(&path, opening)?;
    let place = Place::of(&path).map_err(FileProblem::from)?;
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
        connection::use_write_ahead_log(&connection, opening.patience)?;
    }
    schema::compare(&connection)?;
    if after_unclean_end {
        check::tables(&connection)?;
    }
    Ok(Workshop { connection, place, path, after_unclean_end, last_log: None })
}
