//! A copy of the file while it is in use.

use std::fs::{self, File};
use std::path::Path;
use std::process;

use crate::Workshop;
use crate::error::{FileProblem, StoreError, Trouble};
use crate::place::beside;

impl Workshop {
    /// Writes a copy of everything to a new file, of the moment this is called; others may go on
    /// writing. The copy is one file, without the gaps of the original, and on disk when this
    /// returns.
    ///
    /// # Errors
    /// [`FileProblem::Exists`] when the new file is there already; [`crate::FileError`] naming the
    /// new file when it cannot be written. Nothing is left of it then.
    pub fn copy_to(&self, path: impl AsRef<Path>) -> Result<(), StoreError> {
        let path = path.as_ref();
        if path.symlink_metadata().is_ok() {
            return Err(Trouble::from(FileProblem::Exists).in_file(path));
        }
        // Two processes may be making the same copy; the first one done has it.
        let part = beside(path, &format!(".part-{}", process::id()));
        self.write_copy(&part, path).map_err(|trouble| {
            // It may not be there; there is no more to be done if it cannot be removed.
            let _ = fs::remove_file(&part);
            trouble.in_file(path)
        })
    }

    fn write_copy(&self, part: &Path, path: &Path) -> Result<(), Trouble> {
        let name = part
            .to_str()
            .ok_or_else(|| FileProblem::Unusable("its name is not Unicode".to_owned()))?;
        self.connection.execute("VACUUM INTO ?1", [name])?;
        keep(part, path).map_err(|error| FileProblem::from(error).into())
    }
}

/// Brings the finished part to the disk, then gives it its name.
fn keep(part: &Path, path: &Path) -> std::io::Result<()> {
    File::options().write(true).open(part)?.sync_all()?;
    fs::rename(part, path)?;
    sync_folder(path)
}

/// A new name is on disk when its folder is. Only Unix lets a folder be opened for that.
fn sync_folder(path: &Path) -> std::io::Result<()> {
    if cfg!(unix) {
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        File::open(folder.unwrap_or(Path::new(".")))?.sync_all()?;
    }
    Ok(())
}
