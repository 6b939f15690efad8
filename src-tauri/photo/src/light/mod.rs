//! In what light a picture was taken, and what its colours would be in daylight.

mod balance;

use serde::{Deserialize, Serialize};

pub(crate) use balance::Balance;

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
        /// Its colour as the picture shows it: linear light on sRGB primaries.
        seen: [f64; 3],
        /// How far its corners are apart once balanced, in CIEDE2000.
        unevenness: f64,
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
}

/// Measures the light on a reference.
pub(crate) fn measure(raster: &Raster, reference: Reference) -> (Light, Balance) {
    // The rim of a card is rounded, shadowed or half background.
    let inner = reference.region.scaled(0.8);
    let seen = mean(raster, inner.places(raster));
    let balance = Balance::against(seen, reference.neutral.reflectance());
    let unevenness = unevenness(raster, inner, &balance);
    (Light::Reference { reference, seen, unevenness }, balance)
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
    let colours = quarters.map(|places| balance.lab(mean(raster, places.into_iter())));
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
