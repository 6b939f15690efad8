//! A case: a folder with a description, voice clips, plug pictures and typed entries.

mod conditions;
mod description;
mod engine;
mod error;
mod makers_figures;
mod testers;
mod words;

use std::fs;
use std::path::{Path, PathBuf};

use borespoke_core::engine::{Cylinder, Engine};

pub use description::Description;
pub use error::CaseError;

/// A picture of plugs in a case folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlugFile {
    /// One plug, of this cylinder.
    Single(Cylinder, PathBuf),
    /// All of them laid out in cylinder order.
    Tray(PathBuf),
}

/// What a case folder holds. The description is read; clips and pictures are only listed, so that
/// one that is broken does not stop the others.
#[derive(Debug, Clone)]
pub struct Case {
    /// Who, what and how.
    pub description: Description,
    /// Voice clips, in name order.
    pub clips: Vec<PathBuf>,
    /// Plug pictures: singles by cylinder, then trays.
    pub plugs: Vec<PlugFile>,
    /// Typed entries, if there are any.
    pub typed: Option<PathBuf>,
}

impl Case {
    /// Reads the folder.
    ///
    /// # Errors
    /// [`CaseError`] when the description is missing or wrong, or a folder cannot be listed.
    pub fn open(folder: &Path) -> Result<Self, CaseError> {
        let description = Description::read(&folder.join("case.json"))?;
        let clips = files_in(&folder.join("clips"), &["wav"])?;
        let plugs = plug_files(&folder.join("plugs"), &description.engine)?;
        let typed = Some(folder.join("entries.jsonl")).filter(|path| path.is_file());
        Ok(Self { description, clips, plugs, typed })
    }
}

/// The files of these types in a folder, in name order. A missing folder has none.
fn files_in(folder: &Path, extensions: &[&str]) -> Result<Vec<PathBuf>, CaseError> {
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let unreadable = |source| CaseError::Unreadable { path: folder.to_path_buf(), source };
    let mut paths = Vec::new();
    for item in fs::read_dir(folder).map_err(unreadable)? {
        let path = item.map_err(unreadable)?.path();
        let wanted = path
            .extension()
            .is_some_and(|found| extensions.iter().any(|e| found.eq_ignore_ascii_case(e)));
        if wanted && path.is_file() {
            paths.push(path);
        }
    }
    paths.sort();
    Ok(paths)
}

fn plug_files(folder: &Path, engine: &Engine) -> Result<Vec<PlugFile>, CaseError> {
    let mut singles = Vec::new();
    let mut trays = Vec::new();
    for path in files_in(folder, &["jpg", "jpeg", "png", "heic", "heif"])? {
        let stem = path.file_stem().unwrap_or_default().to_string_lossy().to_lowercase();
        if stem.starts_with("tray") {
            trays.push(PlugFile::Tray(path));
            continue;
        }
        let digits: String = stem.chars().filter(char::is_ascii_digit).collect();
        let number: u32 =
            digits.parse().map_err(|_| CaseError::UnnamedPlug { path: path.clone() })?;
        let cylinder = engine
            .cylinder(number)
            .map_err(|source| CaseError::Plug { path: path.clone(), source })?;
        singles.push((cylinder, path));
    }
    singles.sort();
    let singles = singles.into_iter().map(|(cylinder, path)| PlugFile::Single(cylinder, path));
    Ok(singles.chain(trays).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder(description: &str) -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("case.json"), description).unwrap();
        folder
    }

    const FOUR: &str = r#"{"engine": {"cylinders": 4, "firing_order": [1, 3, 4, 2]}}"#;

    #[test]
    fn clips_come_in_name_order_and_nothing_else_does() {
        let case = folder(FOUR);
        fs::create_dir(case.path().join("clips")).unwrap();
        for name in ["02-b.wav", "01-a.WAV", "notes.txt"] {
            fs::write(case.path().join("clips").join(name), b"").unwrap();
        }
        let found = Case::open(case.path()).unwrap().clips;
        let names: Vec<_> = found.iter().map(|p| p.file_name().unwrap().to_owned()).collect();
        assert_eq!(names, ["01-a.WAV", "02-b.wav"]);
    }

    #[test]
    fn a_picture_of_a_plug_the_engine_lacks_is_named() {
        let case = folder(FOUR);
        fs::create_dir(case.path().join("plugs")).unwrap();
        fs::write(case.path().join("plugs/plug-5.jpg"), b"").unwrap();
        let refusal = Case::open(case.path()).unwrap_err().to_string();
        assert!(refusal.contains("plug-5.jpg") && refusal.contains("1 to 4"), "{refusal}");
    }

    #[test]
    fn plugs_are_ordered_by_number_not_by_name() {
        let case = folder(r#"{"engine": {"firing_order": "1-2-3-4-5-6-7-8-9-10"}}"#);
        fs::create_dir(case.path().join("plugs")).unwrap();
        for name in ["plug-10.jpg", "plug-2.png"] {
            fs::write(case.path().join("plugs").join(name), b"").unwrap();
        }
        let plugs = Case::open(case.path()).unwrap().plugs;
        assert!(matches!(&plugs[0], PlugFile::Single(c, _) if c.number() == 2));
    }
}
