//! Transcripts of an earlier run.

use std::collections::HashMap;
use std::fs::{File, OpenOptions};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};

use borespoke_speech::language::Language;
use borespoke_speech::recogniser::Transcript;
use serde::{Deserialize, Serialize};

use super::MeasureError;

/// What was heard in a clip.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct KeptTranscript {
    /// Of the weights, the sound and what it was held to.
    pub(super) key: u64,
    pub(super) transcript: Transcript,
    /// How long it took.
    pub(super) seconds: f64,
}

/// Transcripts in a file, a line each.
pub(super) struct Kept {
    path: PathBuf,
    file: File,
    known: HashMap<u64, KeptTranscript>,
}

impl Kept {
    pub(super) fn open(path: &Path) -> Result<Self, MeasureError> {
        let failed = |source| MeasureError::File { path: path.to_owned(), source };
        let file =
            OpenOptions::new().create(true).read(true).append(true).open(path).map_err(failed)?;
        let known = BufReader::new(&file)
            .lines()
            .map_while(Result::ok)
            // A line that a killed run left half written is heard again.
            .filter_map(|line| serde_json::from_str::<KeptTranscript>(&line).ok())
            .map(|kept| (kept.key, kept))
            .collect();
        Ok(Self { path: path.to_owned(), file, known })
    }

    /// What a transcript hangs on.
    pub(super) fn key(weights: &str, steps: usize, samples: &[f32], language: &Language) -> u64 {
        // The hash of the standard library stays the same within a toolchain, which is as long as
        // such a file is of use.
        let mut hasher = DefaultHasher::new();
        weights.hash(&mut hasher);
        steps.hash(&mut hasher);
        samples.iter().for_each(|sample| sample.to_bits().hash(&mut hasher));
        language.pattern().hash(&mut hasher);
        hasher.finish()
    }

    pub(super) fn get(&self, key: u64) -> Option<&KeptTranscript> {
        self.known.get(&key)
    }

    pub(super) fn add(&mut self, heard: KeptTranscript) -> Result<(), MeasureError> {
        let line = serde_json::to_string(&heard)
            .map_err(std::io::Error::from)
            .and_then(|line| writeln!(self.file, "{line}"));
        line.map_err(|source| MeasureError::File { path: self.path.clone(), source })?;
        self.known.insert(heard.key, heard);
        Ok(())
    }
}
