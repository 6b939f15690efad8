//! Which weights there are, as data.

use serde::Deserialize;

use crate::error::Error;
use crate::precision::Precision;

/// All sets.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Manifest {
    /// The sets, the default first.
    pub sets: Vec<Set>,
}

/// One trained network, fetched once, made in several precisions.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Set {
    /// Its name.
    pub name: String,
    /// What it is, for a person.
    pub about: String,
    /// Under which terms it may be passed on.
    pub licence: String,
    /// Where it comes from.
    pub packages: Vec<Package>,
    /// The members of the packages that together, in this order, are the weights.
    pub weights: Vec<String>,
    /// The member that holds the vocabulary.
    pub tokenizer: String,
    /// What is made of it.
    pub made: Vec<Form>,
}

/// A package of the Python registry.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Package {
    /// Its name.
    pub name: String,
    /// Its version.
    pub version: String,
    /// The file pip leaves.
    pub file: String,
    /// Bytes of that file.
    pub size: u64,
    /// SHA-256 of that file.
    pub sha256: String,
}

/// A file that is made.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Form {
    /// How its matrices are stored.
    pub precision: Precision,
    /// Bytes.
    pub size: u64,
    /// SHA-256.
    pub sha256: String,
}

impl Manifest {
    /// The manifest this tool was built with.
    ///
    /// # Errors
    /// [`Error::Form`] when `manifest.json` itself is broken.
    pub fn shipped() -> Result<Self, Error> {
        serde_json::from_str(include_str!("../manifest.json"))
            .map_err(|e| Error::Form(format!("models/manifest.json: {e}")))
    }

    /// The set and its form under a name such as `tiny.en-q8_0`.
    ///
    /// # Errors
    /// [`Error::Unknown`], naming those there are.
    pub fn find(&self, name: &str) -> Result<(&Set, &Form), Error> {
        self.forms().find(|(set, form)| set.file_stem(form.precision) == name).ok_or_else(|| {
            Error::Unknown {
                given: name.to_owned(),
                known: self
                    .forms()
                    .map(|(set, form)| set.file_stem(form.precision))
                    .collect::<Vec<_>>()
                    .join(", "),
            }
        })
    }

    /// Every form with its set.
    pub fn forms(&self) -> impl Iterator<Item = (&Set, &Form)> {
        self.sets.iter().flat_map(|set| set.made.iter().map(move |form| (set, form)))
    }
}

impl Set {
    /// The name of a form: the set's own as it is fetched, `tiny.en-q8_0` for a quantised one. Its
    /// file is that with `.bin`.
    #[must_use]
    pub fn file_stem(&self, precision: Precision) -> String {
        match precision {
            Precision::F16 => self.name.clone(),
            quantised => format!("{}-{quantised}", self.name),
        }
    }
}
