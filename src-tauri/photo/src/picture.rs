//! One picture of one plug.

use borespoke_core::record::{Lab, PlugFigures};
use serde::{Deserialize, Serialize};

use crate::figures;
use crate::intake::{self, Format, PictureError, ProfileUsed};
use crate::light::{self, Balance, Light, Reference};
use crate::region::Region;

/// What is known about a picture beforehand.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Hints {
    /// Where the insulator is, when the user has drawn it.
    pub insulator: Option<Region>,
    /// Where a neutral reference is.
    pub reference: Option<Reference>,
}

/// One picture of one plug, read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlugPicture {
    /// The file's format.
    pub format: Format,
    /// Its colour profile.
    pub profile: ProfileUsed,
    /// Width of the upright picture, in pixels.
    pub width: u32,
    /// Height of the upright picture, in pixels.
    pub height: u32,
    /// Where the insulator is.
    pub insulator: Region,
    /// The light it was taken in.
    pub light: Light,
    /// Colour of the insulator; in daylight when the light is known, else as shown.
    pub colour: Lab,
    /// Root mean square distance of its pixels from that colour, in CIELAB units.
    pub spread: f64,
}

impl PlugPicture {
    /// The figures as the job's log keeps them.
    #[must_use]
    pub const fn figures(&self) -> PlugFigures {
        PlugFigures {
            colour: self.colour,
            spread: self.spread,
            balanced: self.light.neutral().is_some(),
        }
    }
}

/// Reads a plug picture from the bytes of its file.
///
/// # Errors
/// [`PictureError`] when the file is not a usable picture, a region lies outside it, or the plug
/// was neither given nor found.
pub fn read_plug(bytes: &[u8], hints: &Hints) -> Result<PlugPicture, PictureError> {
    let raster = intake::open(bytes)?;
    let insulator = hints.insulator.ok_or(PictureError::PlugNotFound)?;
    insulator.check("insulator", &raster)?;
    let (light, balance) = match hints.reference {
        Some(reference) => {
            reference.region.check("neutral reference", &raster)?;
            light::measure(&raster, reference)
        }
        None => (Light::Unknown, Balance::NONE),
    };
    let places: Vec<usize> = insulator.places(&raster).collect();
    let figures = figures::measure(&raster, &places, &balance).ok_or(PictureError::PlugNotFound)?;
    Ok(PlugPicture {
        format: raster.format,
        profile: raster.profile,
        width: raster.full_width as u32,
        height: raster.full_height as u32,
        insulator,
        light,
        colour: figures.colour,
        spread: figures.spread,
    })
}
