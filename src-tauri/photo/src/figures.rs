//! Colour figures of a set of pixels.

use borespoke_core::record::Lab;

use crate::intake::Raster;
use crate::light::Balance;

/// How many robust standard deviations from the median a pixel may lie and still count. Ours.
const REACH: f64 = 2.5;

/// Turns a median absolute deviation into a standard deviation, for normal scatter.
const MAD_TO_SIGMA: f64 = 1.4826;

/// Colour and spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Figures {
    /// Mean of the pixels near the median: a highlight or a speck does not pull at it.
    pub colour: Lab,
    /// Root mean square distance of all pixels from it, in CIELAB units.
    pub spread: f64,
}

/// Figures of the pixels at `places`; `None` when there are none.
pub(crate) fn measure(raster: &Raster, places: &[usize], balance: &Balance) -> Option<Figures> {
    let colours: Vec<Lab> =
        places.iter().map(|&place| balance.lab(raster.pixels[place].map(f64::from))).collect();
    robust(&colours)
}

/// Figures of colours.
pub(crate) fn robust(colours: &[Lab]) -> Option<Figures> {
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
