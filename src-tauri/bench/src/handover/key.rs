//! The workshop's key: 32 secret bytes beside the workshop's file, readable by its owner only.

use std::fs::{self, File, OpenOptions};
use std::io::Write;
use std::path::{Path, PathBuf};

use borespoke_handover::proof::SealKey;

use crate::error::BenchError;

/// Where the key of a workshop's file is: beside it, with `.key` after its name.
#[must_use]
pub fn key_path(file: &Path) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(".key");
    name.into()
}

/// The key that seals this workshop's documents; made at first use.
///
/// # Errors
/// [`BenchError::File`] when it cannot be read or made, [`BenchError::Key`] when what is there is
/// not one.
pub(crate) fn seal_key(file: &Path) -> Result<SealKey, BenchError> {
    let path = key_path(file);
    let unusable = |source| BenchError::File { path: path.clone(), source };
    let mut secret = [0; 32];
    // A making cut short left nothing in it; nothing can have been sealed with that.
    let there = fs::metadata(&path).is_ok_and(|found| found.len() > 0);
    if !there {
        getrandom::fill(&mut secret).map_err(|fault| unusable(std::io::Error::other(fault)))?;
        let mut key = for_owner_only().open(&path).map_err(unusable)?;
        key.write_all(format!("{}\n", hex::encode(secret)).as_bytes()).map_err(unusable)?;
        key.sync_all().map_err(unusable)?;
        return Ok(SealKey::from_secret(&secret));
    }
    let text = fs::read_to_string(&path).map_err(unusable)?;
    hex::decode_to_slice(text.trim(), &mut secret)
        .map_err(|_| BenchError::Key { path: path.clone() })?;
    Ok(SealKey::from_secret(&secret))
}

fn for_owner_only() -> OpenOptions {
    let mut options = File::options();
    options.write(true).create(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    options
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_key_is_made_once_and_is_its_owners_alone() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("w.borespoke");
        let first = seal_key(&file).unwrap().public();
        assert_eq!(seal_key(&file).unwrap().public(), first);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let mode = fs::metadata(key_path(&file)).unwrap().permissions().mode();
            assert_eq!(mode & 0o777, 0o600);
        }
        assert_ne!(seal_key(&folder.path().join("other")).unwrap().public(), first);
    }

    #[test]
    fn a_key_that_is_none_is_refused_and_kept() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("w.borespoke");
        fs::write(key_path(&file), "not hex").unwrap();
        assert!(matches!(seal_key(&file), Err(BenchError::Key { .. })));
        assert_eq!(fs::read_to_string(key_path(&file)).unwrap(), "not hex");
    }
}
