//! Why a file cannot be used as a plug picture.

use thiserror::Error;

use super::format::Format;
use super::limits;

/// Why a file cannot be used as a plug picture.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PictureError {
    /// Nothing in it.
    #[error("picture: given 0 bytes, allowed is a JPEG, PNG or HEIC file")]
    Empty,
    /// Not one of the formats read here.
    #[error("picture: given a file that is not a JPEG, PNG or HEIC picture")]
    NotAPicture,
    /// More bytes than any phone writes.
    #[error("picture file: given {given} bytes, allowed up to {}", limits::MOST_BYTES)]
    FileTooLarge {
        /// How many there are.
        given: usize,
    },
    /// More pixels than allowed. Refused from the header, before memory is taken.
    #[error(
        "picture size: given {width} x {height} pixels, allowed up to {} along a side and {} million in all",
        limits::LONGEST_SIDE,
        limits::MOST_PIXELS / 1_000_000
    )]
    TooLarge {
        /// As the header says.
        width: u64,
        /// As the header says.
        height: u64,
    },
    /// Too small to show a plug.
    #[error(
        "picture size: given {width} x {height} pixels, allowed from {} along a side",
        limits::SHORTEST_SIDE
    )]
    TooSmall {
        /// As the header says.
        width: u64,
        /// As the header says.
        height: u64,
    },
    /// The file ends before the picture does.
    #[error("picture: the {0} file is cut short; copy it again from the phone or take another")]
    CutShort(Format),
    /// Something in the file breaks its format's rules.
    #[error("picture: the {format} file is damaged ({detail}); copy it again or take another")]
    Damaged {
        /// The format.
        format: Format,
        /// What the decoder said.
        detail: String,
    },
    /// A kind of file within the format that is not read here.
    #[error("picture: this kind of {format} file is not read here ({detail}); save it as JPEG")]
    NotReadHere {
        /// The format.
        format: Format,
        /// What it is.
        detail: String,
    },
    /// Shades of grey only.
    #[error("picture: given shades of grey, a plug needs a picture in colour")]
    Colourless,
    /// No plug was given, and none was found.
    #[error("plug: none found in the picture; draw a circle around its insulator")]
    PlugNotFound,
    /// A tray with fewer plugs than the engine has cylinders.
    #[error(
        "plugs: found {found} in the picture, the engine has {wanted}; lay them apart, ends up"
    )]
    PlugsMissing {
        /// How many were found.
        found: usize,
        /// How many there should be.
        wanted: usize,
    },
    /// A region that was given lies outside the picture.
    #[error("{what}: given {given}, the picture is {width} x {height} pixels")]
    RegionOutside {
        /// Which region.
        what: &'static str,
        /// The region, in words.
        given: String,
        /// Of the upright picture.
        width: u32,
        /// Of the upright picture.
        height: u32,
    },
}
