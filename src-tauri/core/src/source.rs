//! Where a limit, a caution or an assumption comes from.

use std::fmt;

use serde::Serialize;

/// Where a limit, a caution or an assumption comes from. Written in files as the words of its
/// [`fmt::Display`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(into = "String")]
pub enum Source {
    /// Printed in a manual or an official circular.
    Published {
        /// The document.
        document: &'static str,
        /// Chapter, page or paragraph.
        place: &'static str,
    },
    /// Said in the trade, but nothing to cite.
    CommonPractice,
    /// The maker's own figure for this engine, as the mechanic typed it in.
    MakersFigure,
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Published { document, place } => write!(f, "{document}, {place}"),
            Self::CommonPractice => f.write_str("common practice, no source"),
            Self::MakersFigure => f.write_str("maker's figure as typed in"),
        }
    }
}

impl From<Source> for String {
    fn from(source: Source) -> Self {
        source.to_string()
    }
}
