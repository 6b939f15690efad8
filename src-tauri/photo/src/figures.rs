//! Colour figures of a set of pixels.

use borespoke_core::record::Lab;
use serde::{Deserialize, Serialize};

use crate::intake::Raster;
use crate::light::Balance;

/// The nose's radius as a share of the bore's, usually. Common practice, no source.
pub(crate) const NOSE_OF_BORE: f64 = 0.65;

/// How many robust standard deviations from the median a pixel may lie and still count. Ours.
const REACH: f64 = 2.5;

/// Turns a median absolute deviation into a standard deviation, for normal scatter.
const MAD_TO_SIGMA: f64 = 1.4826;

/// What lies on the insulator, as shares of it, and how rough it looks. All bounds are ours.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Surface {
    /// Black: L* below 30 and hardly any colour.
    pub soot: f64,
    /// Chalk white: L* above 80 and hardly any colour.
    pub white: f64,
    /// Highlights on a dark ground, as oil gives.
    pub wet: f64,
    /// Highlights on a light ground, as a glaze gives.
    pub glaze: f64,
    /// Middle step in L* from one pixel of the working picture to the next.
    pub texture: f64,
}

/// Below this L* the ground of a highlight counts as dark.
const DARK_GROUND: f64 = 42.0;

impl Surface {
    fn of(colours: &[Lab], places: &[usize], ground: Lab) -> Self {
        let count = colours.len() as f64;
        let share = |test: &dyn Fn(&Lab) -> bool| {
            colours.iter().filter(|colour| test(colour)).count() as f64 / count
        };
        let off = median(colours.iter().map(|c| (c.l - ground.l).abs())).unwrap_or(0.0);
        let above = ground.l + (4.0 * MAD_TO_SIGMA * off).max(14.0);
        let shine = share(&|c| c.l > above && c.a.hypot(c.b) < 14.0);
        let dark = ground.l < DARK_GROUND;
        let steps = places
            .windows(2)
            .zip(colours.windows(2))
            .filter(|(places, _)| places[1] == places[0] + 1)
            .map(|(_, colours)| (colours[1].l - colours[0].l).abs());
        Self {
            soot: share(&|c| c.l < 30.0 && c.a.hypot(c.b) < 10.0),
            white: share(&|c| c.l > 80.0 && c.a.hypot(c.b) < 9.0),
            wet: if dark { shine } else { 0.0 },
            glaze: if dark { 0.0 } else { shine },
            texture: median(steps).unwrap_or(0.0),
        }
    }
}

/// Colour and spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Figures {
    /// Mean of the pixels near the median: a highlight or a speck does not pull at it.
    pub colour: Lab,
    /// Root mean square distance of all pixels from it, in CIELAB units.
    pub spread: f64,
}

/// Figures of the pixels at `places`; `None` when there are none.
pub(crate) fn measure(
    raster: &Raster,
    places: &[usize],
    balance: &Balance,
) -> Option<(Figures, Surface)> {
    let colours: Vec<Lab> =
        places.iter().map(|&place| balance.lab(raster.pixels[place].map(f64::from))).collect();
    let figures = robust(&colours)?;
    Some((figures, Surface::of(&colours, places, figures.colour)))
}

/// Figures of colours.
fn robust(colours: &[Lab]) -> Option<Figures> {
    let centre = Lab {
        l: median(colours.iter().map(|c| c.l))?,
        a: median(colours.iter().map(|c| c.a))?,
        b: median(colours.iter().map(|c| c.b))?,
    };
    let off = median(colours.iter().map(|c| distance(*c, centre)))?;
    let reach = (REACH * MAD_TO_SIGMA * off).max(1.0);
    let mut sum = [0.0; 3];
    let mut count = 0.0;
    for c in colours.iter().filter(|c| distance(**c, centre) <= reach) {
        sum[0] += c.l;
        sum[1] += c.a;
        sum[2] += c.b;
        count += 1.0;
    }
    let colour = Lab { l: sum[0] / count, a: sum[1] / count, b: sum[2] / count };
    let squares: f64 = colours.iter().map(|c| distance(*c, colour).powi(2)).sum();
    Some(Figures { colour, spread: (squares / colours.len() as f64).sqrt() })
}

/// CIE76: straight distance in CIELAB.
fn distance(one: Lab, other: Lab) -> f64 {
    let (l, a, b) = (one.l - other.l, one.a - other.a, one.b - other.b);
    (l * l + a * a + b * b).sqrt()
}

/// The middle value; for an even count the mean of the two in the middle.
pub(crate) fn median(values: impl Iterator<Item = f64>) -> Option<f64> {
    let mut values: Vec<f64> = values.collect();
    let middle = values.len() / 2;
    if values.is_empty() {
        return None;
    }
    let (low, &mut upper, _) = values.select_nth_unstable_by(middle, f64::total_cmp);
    if low.len() == middle && values.len() % 2 == 1 {
        return Some(upper);
    }
    let lower = values[..middle].iter().copied().fold(f64::NEG_INFINITY, f64::max);
    Some(f64::midpoint(lower, upper))
}
