//! Why something said did not become an entry.

use borespoke_core::engine::{Cylinder, NoSuchCylinder};
use borespoke_core::quantity::OutOfRange;
use thiserror::Error;

use super::meaning::Meaning;

/// Why something said did not become an entry, in words for the mechanic.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum Problem {
    /// The engine has no such cylinder.
    #[error(transparent)]
    NoSuchCylinder(#[from] NoSuchCylinder),
    /// The quantity cannot have this value.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A number that could be of several quantities, or a phrase that could be taken two ways.
    #[error("that can be taken in {} ways; say it with the cylinder and the unit", .0.len())]
    Ambiguous(Vec<Vec<Meaning>>),
    /// A number said alone that no reading here is likely to be.
    #[error("{0} alone is not a likely reading here; say the cylinder and the unit")]
    Unlikely(String),
    /// A reading without a cylinder, and none is expected.
    #[error("which cylinder? none is expected; say its number")]
    WhichCylinder,
    /// Two readings in one breath that cannot both stand.
    #[error("two readings of one kind for cylinder {0}; say which one stands")]
    TwoReadings(Cylinder),
    /// A correction or a repetition, and there is nothing it can point at.
    #[error("there is no earlier reading that this could be about")]
    NothingEarlier,
    /// A correction that does not say what stands instead.
    #[error("a correction, but not of what to what; say the whole reading again")]
    CorrectionUnclear,
    /// A colour or a wetness that fits several signs.
    #[error("black or wet alone could be soot, oil or fuel; say which")]
    PlugUnclear,
    /// No such count of strokes.
    #[error("strokes: given {0}, allowed 1 to 255")]
    Strokes(u32),
    /// More words than an utterance has.
    #[error("{words} words at once are kept as a remark; readings are understood up to {most}")]
    TooLong {
        /// How many there were.
        words: usize,
        /// How many are read.
        most: usize,
    },
    /// A range whose ends are the wrong way round or far apart.
    #[error("a range from {from} to {to} is not one reading; say one number")]
    NotARange {
        /// The first number.
        from: String,
        /// The second number.
        to: String,
    },
}
