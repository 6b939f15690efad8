//! `plugs`: the colour of plugs in pictures, compared.

use std::path::{Path, PathBuf};

use borespoke_photo::{Hints, Neutral, PlugPicture, Reference, Region, compare, read_plug};

use crate::error::BenchError;
use crate::wire::{PlugLine, PlugsLine};

/// What comparing pictures gave.
#[derive(Debug)]
pub struct Plugs {
    /// The pictures that could be read, in the order given.
    pub pictures: Vec<PlugLine>,
    /// The comparison.
    pub comparison: PlugsLine,
    /// The pictures that could not be read, and why.
    pub refused: Vec<BenchError>,
}

/// Reads the pictures and compares them. One that cannot be read does not stop the others.
/// `reference` is a neutral area in every picture: left, top, width, height in pixels.
#[must_use]
pub fn plugs(paths: &[PathBuf], reference: Option<[u32; 4]>) -> Plugs {
    let mut names = Vec::new();
    let mut read = Vec::new();
    let mut refused = Vec::new();
    for path in paths {
        match picture(path, reference) {
            Ok(picture) => {
                names.push(path.display().to_string());
                read.push(picture);
            }
            Err(error) => refused.push(error),
        }
    }
    let comparison = PlugsLine::new(&names, &compare(&read));
    let pictures =
        names.into_iter().zip(&read).map(|(name, read)| PlugLine::new(name, read)).collect();
    Plugs { pictures, comparison, refused }
}

fn picture(path: &Path, reference: Option<[u32; 4]>) -> Result<PlugPicture, BenchError> {
    let bytes = std::fs::read(path)
        .map_err(|source| BenchError::File { path: path.to_path_buf(), source })?;
    let reference = reference.map(|area| area.map(f64::from)).map(|[x, y, width, height]| {
        Reference { region: Region::Rectangle { x, y, width, height }, neutral: Neutral::GreyCard }
    });
    read_plug(&bytes, &Hints { insulator: None, reference })
        .map_err(|source| BenchError::Picture { name: path.display().to_string(), source })
}
