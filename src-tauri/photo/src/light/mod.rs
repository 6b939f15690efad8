//! In what light a picture was taken, and what its colours would be in daylight.

mod balance;
mod mixing;
mod sheet;

use borespoke_core::record::Lab;
use serde::{Deserialize, Serialize};

pub(crate) use balance::Balance;
pub use mixing::Mixing;

use crate::find::{Sighting, View};
use crate::intake::Raster;
use crate::region::Region;

/// A thing of known lightness and no colour of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Neutral {
    /// A photographer's grey card: 18 percent of the light comes back.
    GreyCard,
    /// A sheet of white office paper.
    WhitePaper,
}

impl Neutral {
    /// The share of light it returns (luminance factor Y, white at 1).
    #[must_use]
    pub const fn reflectance(self) -> f64 {
        match self {
            // What "18 % grey" means.
            Self::GreyCard => 0.18,
            // Common practice, no source: office paper lies between 0.8 and 0.9. An error here
            // shifts the lightness of a whole set alike and cancels in the comparison.
            Self::WhitePaper => 0.85,
        }
    }

    /// Which of the two a patch is that the picture shows with this luminance, `times` as bright as
    /// the plug's bare rim. A phone exposes so that paper comes out bright, and paper is brighter
    /// than any steel. Bounds are ours; a user who says which it is overrules them.
    fn by_brightness(luminance: f64, times: f64) -> Self {
        if luminance > 0.3 && times > 1.3 { Self::WhitePaper } else { Self::GreyCard }
    }
}

/// A neutral reference in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reference {
    /// Where it is.
    pub region: Region,
    /// What it is.
    pub neutral: Neutral,
}

/// In what light the picture was taken.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "from", rename_all = "kebab-case")]
pub enum Light {
    /// Measured on a neutral reference in the picture.
    Reference {
        /// The reference.
        reference: Reference,
        /// Whether it was found rather than pointed at.
        found: bool,
        /// Its colour as the picture shows it: linear light on sRGB primaries.
        seen: [f64; 3],
        /// How far its quarters are apart once balanced, in CIEDE2000.
        unevenness: f64,
        /// Share of it that is burnt out.
        clipped: f64,
    },
    /// Not known: the figures are as the phone showed them.
    Unknown,
}

impl Light {
    /// The neutral it was measured on.
    #[must_use]
    pub const fn neutral(&self) -> Option<Neutral> {
        match self {
            Self::Reference { reference, .. } => Some(reference.neutral),
            Self::Unknown => None,
        }
    }

    /// Where the neutral is.
    #[must_use]
    pub const fn region(&self) -> Option<Region> {
        match self {
            Self::Reference { reference, .. } => Some(reference.region),
            Self::Unknown => None,
        }
    }
}

/// Measures the light on the reference that was given, else on one that is found.
pub(crate) fn measure(
    raster: &Raster,
    view: &View,
    plugs: &[Sighting],
    given: Option<Reference>,
) -> (Light, Balance, Mixing) {
    let sheet = sheet::find(view, plugs);
    let scale = (view.factor * raster.factor) as f64;
    let reference = given.or_else(|| {
        let sheet = sheet.as_ref()?;
        let rim = plugs.first().map_or(0.25, |plug| plug.rim_luminance(view));
        let seen = luminance(sheet.seen);
        let neutral = Neutral::by_brightness(seen, seen / rim.max(1e-3));
        Some(Reference { region: sheet.region(scale), neutral })
    });
    let (light, balance) = reference.map_or((Light::Unknown, Balance::NONE), |reference| {
        on_reference(raster, reference, given.is_none())
    });
    // What is no bench: the sheet that was found, and around what was pointed at.
    let mut not_bench: Vec<Region> = given.iter().map(|given| given.region.scaled(2.5)).collect();
    not_bench.extend(sheet.map(|sheet| sheet.surrounding(scale)));
    let mixing = mixing::measure(raster, view, plugs, light.region(), &not_bench, &balance);
    (light, balance, mixing)
}

/// Y of linear sRGB.
pub(crate) fn luminance(linear: [f64; 3]) -> f64 {
    0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
}

fn on_reference(raster: &Raster, reference: Reference, found: bool) -> (Light, Balance) {
    // The rim of a card is rounded, shadowed or half background.
    let inner = reference.region.scaled(0.85);
    let places: Vec<usize> = inner.places(raster).collect();
    let seen = mean(raster, places.iter().copied());
    let balance = Balance::against(seen, reference.neutral.reflectance());
    let unevenness = unevenness(raster, inner, &balance);
    let burnt = places.iter().filter(|&&place| raster.clipped[place]).count();
    let clipped = burnt as f64 / (places.len() as f64).max(1.0);
    (Light::Reference { reference, found, seen, unevenness, clipped }, balance)
}

/// The largest difference between the quarters of a region.
fn unevenness(raster: &Raster, region: Region, balance: &Balance) -> f64 {
    let [left, top, right, bottom] = region.bounds();
    let factor = raster.factor as f64;
    let (mid_x, mid_y) = (f64::midpoint(left, right) / factor, f64::midpoint(top, bottom) / factor);
    let mut quarters: [Vec<usize>; 4] = Default::default();
    for place in region.places(raster) {
        let east = usize::from((place % raster.width) as f64 + 0.5 > mid_x);
        let south = usize::from((place / raster.width) as f64 + 0.5 > mid_y);
        quarters[east + 2 * south].push(place);
    }
    let colours: Vec<Lab> = quarters
        .into_iter()
        .filter(|places| !places.is_empty())
        .map(|places| balance.lab(mean(raster, places.into_iter())))
        .collect();
    let mut worst = 0.0f64;
    for (i, one) in colours.iter().enumerate() {
        for other in &colours[..i] {
            worst = worst.max(crate::colour::difference(*one, *other));
        }
    }
    worst
}

/// Mean linear light. Nothing to average gives black.
pub(crate) fn mean(raster: &Raster, places: impl Iterator<Item = usize>) -> [f64; 3] {
    let mut sum = [0.0; 3];
    let mut count = 0.0;
    for place in places {
        for (sum, value) in sum.iter_mut().zip(raster.pixels[place]) {
            *sum += f64::from(value);
        }
        count += 1.0;
    }
    if count == 0.0 { sum } else { sum.map(|value| value / count) }
}
