//! One picture of one plug.

use borespoke_core::record::{Lab, PlugFigures};
use serde::{Deserialize, Serialize};

use crate::figures;
use crate::find::{self, Sighting, View};
use crate::intake::{self, Format, PictureError, ProfileUsed, Raster};
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
    /// How sure it is that this is the insulator, 0 to 1; `None` when the user said where it is.
    pub confidence: Option<f64>,
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

/// A plug found with less confidence than this is not taken. Ours, from the rendered sets.
const LEAST_CONFIDENCE: f64 = 0.5;

/// Reads a plug picture from the bytes of its file.
///
/// # Errors
/// [`PictureError`] when the file is not a usable picture, a region lies outside it, or the plug
/// was neither given nor found.
pub fn read_plug(bytes: &[u8], hints: &Hints) -> Result<PlugPicture, PictureError> {
    let opened = Opened::new(bytes, hints)?;
    if let Some(region) = hints.insulator {
        return opened.given(region);
    }
    let sighting = find::sightings(&opened.view, 1)
        .into_iter()
        .find(|sighting| sighting.confidence >= LEAST_CONFIDENCE)
        .ok_or(PictureError::PlugNotFound)?;
    opened.found(&sighting)
}

/// Reads a picture of several plugs laid out in cylinder order: from the left, row by row.
///
/// # Errors
/// As [`read_plug`]; [`PictureError::PlugsMissing`] when fewer than `count` plugs of one size are
/// found.
pub fn read_tray(
    bytes: &[u8],
    hints: &Hints,
    count: usize,
) -> Result<Vec<PlugPicture>, PictureError> {
    let opened = Opened::new(bytes, hints)?;
    let mut plugs = find::tray(&opened.view, count);
    plugs.retain(|sighting| sighting.confidence >= LEAST_CONFIDENCE);
    if plugs.len() < count {
        return Err(PictureError::PlugsMissing { found: plugs.len(), wanted: count });
    }
    plugs.iter().map(|sighting| opened.found(sighting)).collect()
}

/// A picture on the bench: decoded, its light measured.
struct Opened {
    raster: Raster,
    view: View,
    light: Light,
    balance: Balance,
}

impl Opened {
    fn new(bytes: &[u8], hints: &Hints) -> Result<Self, PictureError> {
        let raster = intake::open(bytes)?;
        let view = View::of(&raster);
        let (light, balance) = match hints.reference {
            Some(reference) => {
                reference.region.check("neutral reference", &raster)?;
                light::measure(&raster, reference)
            }
            None => (Light::Unknown, Balance::NONE),
        };
        Ok(Self { raster, view, light, balance })
    }

    fn given(&self, region: Region) -> Result<PlugPicture, PictureError> {
        region.check("insulator", &self.raster)?;
        let places: Vec<usize> = region.places(&self.raster).collect();
        self.picture(region, None, &places)
    }

    fn found(&self, sighting: &Sighting) -> Result<PlugPicture, PictureError> {
        let places = sighting.insulator_places(&self.view, &self.raster);
        let region = sighting.region(&self.view, &self.raster);
        self.picture(region, Some(sighting.confidence), &places)
    }

    fn picture(
        &self,
        insulator: Region,
        confidence: Option<f64>,
        places: &[usize],
    ) -> Result<PlugPicture, PictureError> {
        let figures = figures::measure(&self.raster, places, &self.balance)
            .ok_or(PictureError::PlugNotFound)?;
        Ok(PlugPicture {
            format: self.raster.format,
            profile: self.raster.profile,
            width: self.raster.full_width as u32,
            height: self.raster.full_height as u32,
            insulator,
            confidence,
            light: self.light,
            colour: figures.colour,
            spread: figures.spread,
        })
    }
}
