//! One picture of one plug.

use borespoke_core::record::{Lab, PlugFigures};
use serde::{Deserialize, Serialize};

use crate::faults::{self, Fault};
use crate::figures::{self, Surface};
use crate::find::{self, Sighting, View};
use crate::intake::{self, Format, PictureError, ProfileUsed, Raster};
use crate::light::{self, Balance, Light, Mixing, Reference};
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
    /// The inner edge of the shell's rim, where it was found.
    pub rim: Option<Region>,
    /// How sure it is that this is the insulator, 0 to 1; `None` when the user said where it is.
    pub confidence: Option<f64>,
    /// The light it was taken in.
    pub light: Light,
    /// Signs of light of two colours.
    pub mixing: Mixing,
    /// What is wrong with it; empty when it can be used.
    pub faults: Vec<Fault>,
    /// Colour of the insulator; in daylight when the light is known, else as shown.
    pub colour: Lab,
    /// Root mean square distance of its pixels from that colour, in CIELAB units.
    pub spread: f64,
    /// What lies on it.
    pub surface: Surface,
    /// One standard deviation by which another picture of the same plug may differ, in CIEDE2000.
    pub uncertainty: f64,
}

/// What remains between two pictures of one plug in the best of light. Ours, from the rendered
/// sets.
const FLOOR: f64 = 0.8;

/// The parts of the error bar, taken as independent: the floor, an eighth of the insulator's own
/// spread (which place of it happens to show), and half of the reference's unevenness (the plug
/// lies beside it, not on it).
fn uncertainty(spread: f64, unevenness: f64) -> f64 {
    FLOOR.hypot(spread / 8.0).hypot(unevenness / 2.0)
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
    let opened = Opened::new(bytes, hints, 1)?;
    match (hints.insulator, opened.sightings.first()) {
        (Some(region), _) => opened.given(region),
        (None, Some(sighting)) => opened.found(sighting),
        (None, None) => Err(PictureError::PlugNotFound),
    }
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
    let opened = Opened::new(bytes, hints, count)?;
    if opened.sightings.len() < count {
        let found = opened.sightings.len();
        return Err(PictureError::PlugsMissing { found, wanted: count });
    }
    opened.sightings.iter().map(|sighting| opened.found(sighting)).collect()
}

/// A picture on the bench: decoded, its light measured.
struct Opened {
    raster: Raster,
    view: View,
    sightings: Vec<Sighting>,
    light: Light,
    balance: Balance,
    mixing: Mixing,
}

impl Opened {
    fn new(bytes: &[u8], hints: &Hints, plugs: usize) -> Result<Self, PictureError> {
        let raster = intake::open(bytes)?;
        let view = View::of(&raster);
        if let Some(reference) = hints.reference {
            reference.region.check("neutral reference", &raster)?;
        }
        let mut sightings = find::tray(&view, plugs);
        sightings.retain(|sighting| sighting.confidence >= LEAST_CONFIDENCE);
        let (light, balance, mixing) = light::measure(&raster, &view, &sightings, hints.reference);
        Ok(Self { raster, view, sightings, light, balance, mixing })
    }

    fn given(&self, region: Region) -> Result<PlugPicture, PictureError> {
        region.check("insulator", &self.raster)?;
        let places: Vec<usize> = region.places(&self.raster).collect();
        // Only a plug at that very place says anything about the focus.
        let here = self.sightings.iter().find(|sighting| {
            let [left, top, right, bottom] = sighting.region(&self.view, &self.raster).bounds();
            region.contains(f64::midpoint(left, right), f64::midpoint(top, bottom))
        });
        self.picture(region, None, here, &places)
    }

    fn found(&self, sighting: &Sighting) -> Result<PlugPicture, PictureError> {
        let places = sighting.insulator_places(&self.view, &self.raster);
        let region = sighting.region(&self.view, &self.raster);
        self.picture(region, Some(sighting.confidence), Some(sighting), &places)
    }

    fn picture(
        &self,
        insulator: Region,
        confidence: Option<f64>,
        sighting: Option<&Sighting>,
        places: &[usize],
    ) -> Result<PlugPicture, PictureError> {
        let (figures, surface) = figures::measure(&self.raster, places, &self.balance)
            .ok_or(PictureError::PlugNotFound)?;
        let faults =
            faults::find(&self.raster, &self.view, sighting, places, &self.light, &self.mixing);
        let unevenness = match self.light {
            Light::Reference { unevenness, .. } => unevenness,
            Light::Unknown => 0.0,
        };
        Ok(PlugPicture {
            format: self.raster.format,
            profile: self.raster.profile,
            width: self.raster.full_width as u32,
            height: self.raster.full_height as u32,
            insulator,
            rim: sighting.map(|sighting| sighting.rim(&self.view, &self.raster)),
            confidence,
            light: self.light,
            mixing: self.mixing,
            faults,
            colour: figures.colour,
            spread: figures.spread,
            surface,
            uncertainty: uncertainty(figures.spread, unevenness),
        })
    }
}
