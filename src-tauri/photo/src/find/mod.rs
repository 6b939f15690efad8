//! Finding the plug: end-on, its rim is a bright ring around a dark bore, and the insulator's nose
//! stands in the middle of it.
//!
//! The bore's edge is looked for first, because it is there on every plug, black with soot or not;
//! the nose is then looked for inside it, and where soot hides its edge, taken at the usual share
//! of the bore.

mod bore;
mod centres;
mod ellipse;
mod nose;
mod view;

pub(crate) use ellipse::Ellipse;
pub(crate) use view::View;

use std::f64::consts::TAU;

use crate::intake::Raster;
use crate::region::Region;

/// A plug in the picture, in pixels of the small view.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sighting {
    /// The edge between rim and bore.
    pub bore: Ellipse,
    /// The insulator's end face.
    pub nose: Ellipse,
    /// Direction from the centre to where the ground strap comes in, in radians; `None` where none
    /// was made out.
    pub strap: Option<f64>,
    /// How sure it is that this is a plug's insulator, 0 to 1.
    pub confidence: f64,
}

/// How alike in size the plugs of a tray have to be.
const SAME_SIZE: f64 = 1.35;

/// Every plug in the view, the surest first.
pub(crate) fn sightings(view: &View, most: usize) -> Vec<Sighting> {
    let mut found: Vec<Sighting> = Vec::new();
    for (x, y) in centres::likely(view, most * 3 + 5) {
        let Some(bore) = bore::fit(view, x, y) else { continue };
        let nose = nose::find(view, &bore.ellipse);
        let sighting = Sighting {
            bore: bore.ellipse,
            nose,
            strap: nose::strap(view, &bore.ellipse, &nose),
            confidence: confidence(&bore),
        };
        match found.iter_mut().find(|other| same_place(other, &sighting)) {
            Some(other) if other.confidence >= sighting.confidence => {}
            Some(other) => *other = sighting,
            None => found.push(sighting),
        }
    }
    found.sort_by(|a, b| b.confidence.total_cmp(&a.confidence));
    found.truncate(most);
    found
}

/// The plugs of a tray, in reading order: those as sure and as large as the surest.
pub(crate) fn tray(view: &View, count: usize) -> Vec<Sighting> {
    let mut found = sightings(view, count);
    if let Some(first) = found.first().copied() {
        found.retain(|one| {
            let ratio = one.bore.size() / first.bore.size();
            (1.0 / SAME_SIZE..=SAME_SIZE).contains(&ratio)
        });
        let row = first.bore.size() * 1.5;
        found.sort_by(|a, b| a.bore.y.total_cmp(&b.bore.y));
        // Within a row from the left; a new row begins where the next plug lies clearly lower.
        let mut start = 0;
        for next in 1..=found.len() {
            let ends = found.get(next).is_none_or(|one| one.bore.y - found[next - 1].bore.y > row);
            if ends {
                found[start..next].sort_by(|a, b| a.bore.x.total_cmp(&b.bore.x));
                start = next;
            }
        }
    }
    found
}

fn same_place(one: &Sighting, other: &Sighting) -> bool {
    let apart = (one.bore.x - other.bore.x).hypot(one.bore.y - other.bore.y);
    apart < 1.2 * one.bore.size().max(other.bore.size())
}

/// From how much of the bore's edge was seen, how dark it is inside and how even the rim is. Fitted by
/// hand: on rendered plugs these are at least 0.89, 0.43 and 0.84, on photographs of other things
/// that came with a picture library (a cup, a cat, a motorcycle) no thing has all three. Ours.
fn confidence(bore: &bore::Fit) -> f64 {
    let score = 40.0 * (bore.coverage - 0.8)
        + 12.0 * (bore.contrast.min(0.45) - 0.3)
        + 4.0 * (bore.ring - 0.5);
    1.0 / (1.0 + (-score).exp())
}

impl Sighting {
    /// The nose in pixels of the upright picture at its full size.
    pub fn region(&self, view: &View, raster: &Raster) -> Region {
        self.nose.region((view.factor * raster.factor) as f64)
    }

    /// The rim's inner edge, likewise.
    pub fn rim(&self, view: &View, raster: &Raster) -> Region {
        self.bore.region((view.factor * raster.factor) as f64)
    }

    /// Places of the working picture that show the insulator: the nose without the centre
    /// electrode, the ground strap, its shadow and the very edge.
    pub fn insulator_places(&self, view: &View, raster: &Raster) -> Vec<usize> {
        let scale = view.factor as f64;
        let nose = self.nose.scaled(scale);
        let [left, top, right, bottom] = nose.region(1.0).bounds();
        let bore = self.bore.size() * scale;
        let strap = self.strap.map(f64::sin_cos);
        let mut places = Vec::new();
        for y in top.max(0.0) as usize..(bottom.ceil().max(0.0) as usize).min(raster.height) {
            for x in left.max(0.0) as usize..(right.ceil().max(0.0) as usize).min(raster.width) {
                let (px, py) = (x as f64 + 0.5, y as f64 + 0.5);
                let out = nose.share_out(px, py);
                if !(0.55..=0.9).contains(&out) {
                    continue;
                }
                if let Some((sin, cos)) = strap {
                    let (dx, dy) = (px - nose.x, py - nose.y);
                    let (along, across) = (dx * cos + dy * sin, dy * cos - dx * sin);
                    if along > -0.45 * bore && across.abs() < 0.42 * bore {
                        continue;
                    }
                }
                places.push(y * raster.width + x);
            }
        }
        places
    }
}

impl Sighting {
    /// Middle luminance of the rim.
    pub fn rim_luminance(&self, view: &View) -> f64 {
        let around = [1.1, 1.2, 1.3].into_iter().flat_map(|share| {
            (0..36).map(move |k| self.bore.point(f64::from(k) / 36.0 * TAU, share))
        });
        let light = around.map(|(x, y)| view.light_at(x, y).powi(3));
        crate::figures::median(light).unwrap_or(0.0)
    }

    /// How wide the bore's edge is, from a fifth to four fifths of its height, as a share of the
    /// bore's radius; the middle of many rays, read in the working picture.
    pub fn edge_width(&self, view: &View, raster: &Raster) -> f64 {
        const STEPS: usize = 50;
        let bore = self.bore.scaled(view.factor as f64);
        let light_at = |x: f64, y: f64| {
            let column = (x.max(0.0) as usize).min(raster.width - 1);
            let row = (y.max(0.0) as usize).min(raster.height - 1);
            let pixel = raster.pixels[row * raster.width + column].map(f64::from);
            crate::light::luminance(pixel).max(0.0).cbrt()
        };
        let widths = (0..48).filter_map(|ray| {
            let angle = f64::from(ray) / 48.0 * TAU;
            let light: Vec<f64> = (0..=STEPS)
                .map(|k| {
                    let (x, y) = bore.point(angle, 0.75 + 0.5 * k as f64 / STEPS as f64);
                    light_at(x, y)
                })
                .collect();
            // Medians: a glint on the rim must not set the height of the edge.
            let low = crate::figures::median(light[..10].iter().copied())?;
            let high = crate::figures::median(light[STEPS - 14..].iter().copied())?;
            if high - low < 0.08 {
                return None;
            }
            let last_below = light.iter().rposition(|&v| v < low + 0.2 * (high - low))?;
            let first_above = light.iter().position(|&v| v > low + 0.8 * (high - low))?;
            Some((first_above as f64 - last_below as f64).max(0.0) * 0.5 / STEPS as f64)
        });
        crate::figures::median(widths).unwrap_or(0.0)
    }
}
