//! Plug pictures and their comparison.

use borespoke_photo::{Comparison, PlugPicture};
use serde::Serialize;

/// One picture that was read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlugLine {
    /// The picture's name as it was given.
    pub picture: String,
    /// Everything read from it.
    #[serde(flatten)]
    pub read: PlugPicture,
}

impl PlugLine {
    /// The line of a picture.
    #[must_use]
    pub fn new(picture: String, read: &PlugPicture) -> Self {
        Self { picture, read: read.clone() }
    }
}

/// A pair of pictures by name.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PairLine {
    /// The one.
    pub one: String,
    /// The other.
    pub other: String,
    /// CIEDE2000.
    pub ciede2000: f64,
}

/// A picture that differs from the others.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OddLine {
    /// Which.
    pub picture: String,
    /// CIEDE2000 to the middle of the others.
    pub ciede2000: f64,
}

/// The comparison, by the pictures' names.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlugsLine {
    /// Whether the pictures may be compared.
    pub comparable: bool,
    /// Why not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why_not: Option<String>,
    /// Every pair.
    pub pairs: Vec<PairLine>,
    /// The odd ones, the oddest first.
    pub odd: Vec<OddLine>,
}

impl PlugsLine {
    /// The comparison of pictures with these names, in the order they were compared.
    #[must_use]
    pub fn new(names: &[String], comparison: &Comparison) -> Self {
        let name = |place: usize| names.get(place).cloned().unwrap_or_default();
        let why_not = comparison.not_comparable.map(|why| why.to_string());
        Self {
            comparable: why_not.is_none(),
            why_not,
            pairs: comparison
                .pairs
                .iter()
                .map(|pair| PairLine {
                    one: name(pair.one),
                    other: name(pair.other),
                    ciede2000: pair.difference,
                })
                .collect(),
            odd: comparison
                .odd
                .iter()
                .map(|odd| OddLine { picture: name(odd.place), ciede2000: odd.difference })
                .collect(),
        }
    }
}
