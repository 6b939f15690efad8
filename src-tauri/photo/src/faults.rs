//! What is wrong with a picture, so that another has to be taken.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::find::{Sighting, View};
use crate::intake::Raster;
use crate::light::{Light, Mixing, luminance};

/// Why another picture is needed. All bounds are ours.
#[derive(Debug, Clone, Copy, PartialEq, Error, Serialize, Deserialize)]
#[serde(tag = "fault", rename_all = "kebab-case")]
pub enum Fault {
    /// Burnt out where the colour is read.
    #[error("{:.0} percent of the insulator is burnt out; turn the flash off or step back from the lamp", .share * 100.0)]
    Clipped {
        /// Share of the insulator.
        share: f64,
    },
    /// The reference is burnt out.
    #[error("the neutral reference is burnt out; turn the flash off or step back from the lamp")]
    ReferenceClipped,
    /// Too dark to tell colours.
    #[error("too dark; take it again in more light")]
    TooDark,
    /// Out of focus or shaken.
    #[error("out of focus or shaken; hold still, tap on the plug, and take it again")]
    Blurred,
    /// Light of two colours.
    #[error(
        "light of two colours falls on it; switch the lamp off or shade the window, and take it again"
    )]
    MixedLight,
    /// Too few pixels on the insulator.
    #[error("the plug is too small in it; go nearer")]
    TooSmall,
}

/// Share of the insulator that may be burnt out: a wet one shines back the lamp.
const CLIPPED: f64 = 0.2;
/// Exposure, as the luminance a white surface would have, below which noise takes over.
const DARK: f64 = 0.10;
/// Luminance that the brightest twentieth of a usable picture reaches: a grey card does in a picture
/// half exposed. Asked as well, because paper in the dark passes for a grey card in the light.
const DIM: f64 = 0.075;
/// Width of the bore's edge as a share of its radius, in a picture that is sharp enough.
const SOFT: f64 = 0.14;
/// Pixels of the working picture on the insulator.
const FEW: usize = 150;

pub(crate) fn find(
    raster: &Raster,
    view: &View,
    sighting: Option<&Sighting>,
    places: &[usize],
    light: &Light,
    mixing: &Mixing,
) -> Vec<Fault> {
    let mut faults = Vec::new();
    if mixing.is_mixed() {
        faults.push(Fault::MixedLight);
    }
    let burnt = places.iter().filter(|&&place| raster.clipped[place]).count();
    let share = burnt as f64 / (places.len() as f64).max(1.0);
    if share > CLIPPED {
        faults.push(Fault::Clipped { share });
    }
    let white = match light {
        Light::Reference { reference, seen, clipped, .. } => {
            if *clipped > 0.02 {
                faults.push(Fault::ReferenceClipped);
            }
            luminance(*seen) / reference.neutral.reflectance()
        }
        Light::Unknown => brightest(view),
    };
    if white < DARK || brightest(view) < DIM {
        faults.push(Fault::TooDark);
    }
    if sighting.is_some_and(|sighting| sighting.edge_width(view, raster) > SOFT) {
        faults.push(Fault::Blurred);
    }
    if places.len() < FEW {
        faults.push(Fault::TooSmall);
    }
    faults
}

/// Luminance that only one pixel in twenty exceeds.
fn brightest(view: &View) -> f64 {
    let mut light = view.light.clone();
    let at = light.len() * 95 / 100;
    f64::from(light.select_nth_unstable_by(at, f32::total_cmp).1.powi(3))
}
