//! What is in the file, by version.

use rusqlite::Connection;
use rusqlite_migration::{M, Migrations};

use crate::error::{FileProblem, Trouble};

/// "BORE" in ASCII; set by the first migration, so that the file is known without its name.
pub(crate) const APPLICATION_ID: i32 = 0x424f_5245;

/// Every step from nothing to now. A file's `user_version` is how many were taken.
const STEPS: [&str; NEWEST as usize] = [include_str!("schema/001_first.sql")];

/// The newest format known here.
pub(crate) const NEWEST: u32 = 1;

/// Brings the file to the newest format, in one transaction.
pub(crate) fn migrate(connection: &mut Connection) -> Result<(), Trouble> {
    let steps = STEPS.into_iter().map(M::up).collect();
    let taken = Migrations::new(steps).to_latest(connection);
    match taken {
        Ok(()) => Ok(()),
        // Another process may have taken the steps while this one waited for the lock.
        Err(_) if version(connection)? == NEWEST => Ok(()),
        Err(rusqlite_migration::Error::RusqliteError { err, .. }) => Err(Trouble::Sql(err)),
        Err(other) => Err(FileProblem::Unusable(other.to_string()).into()),
    }
}

/// The format of the file; 0 when nothing is in it yet.
pub(crate) fn version(connection: &Connection) -> rusqlite::Result<u32> {
    connection.pragma_query_value(None, "user_version", |row| row.get(0))
}

/// Refuses a file whose tables, indexes or triggers are not those of the newest format: a stranger
/// may have left out a trigger or put in one of his own.
pub(crate) fn compare(connection: &Connection) -> Result<(), Trouble> {
    let mut right = Connection::open_in_memory()?;
    migrate(&mut right)?;
    let (found, right) = (objects(connection)?, objects(&right)?);
    let differs = found
        .iter()
        .find(|object| !right.contains(object))
        .or_else(|| right.iter().find(|object| !found.contains(object)));
    match differs {
        None => Ok(()),
        Some((kind, name, _)) => {
            Err(Trouble::corrupt(format!("its {kind} {name} is not as format {NEWEST} has it")))
        }
    }
}

/// Kind, name and definition of everything in the file.
fn objects(connection: &Connection) -> rusqlite::Result<Vec<(String, String, Option<String>)>> {
    connection
        .prepare("SELECT type, name, sql FROM sqlite_schema ORDER BY type, name")?
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?
        .collect()
}
