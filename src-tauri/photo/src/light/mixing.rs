//! Whether one light falls on all of the picture.
//!
//! A lamp on one side and a window on the other give the plug another light than the reference, and
//! no balance can help. Three things show it: the tint of a plain reference changes across it, the
//! tint of the metal rim changes around it, and the tint of the bench changes across the picture.

use borespoke_core::record::Lab;
use serde::{Deserialize, Serialize};

use super::Balance;
use crate::figures::median;
use crate::find::{Sighting, View};
use crate::intake::Raster;
use crate::region::Region;

/// How far tints that ought to agree are apart, as distances in the a*b* plane of CIELAB at one
/// lightness. `None` where it could not be told.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Mixing {
    /// From one side of the reference to the other.
    pub reference: Option<f64>,
    /// From one side of the rim to the other.
    pub rim: Option<f64>,
    /// Between the rim and the reference. Metal is not quite without colour, so this one alone does
    /// not decide.
    pub rim_to_reference: Option<f64>,
    /// From one side of the picture to the other, on the bench.
    pub bench: Option<f64>,
}

/// What each is taken by; together (root of squares) they must stay below 1. Ours, from the rendered
/// sets.
const ACROSS_REFERENCE: f64 = 1.6;
const ACROSS_RIM: f64 = 2.5;
const ACROSS_BENCH: f64 = 5.0;
const RIM_TO_REFERENCE: f64 = 10.0;

impl Mixing {
    /// Whether the light is mixed.
    #[must_use]
    pub fn is_mixed(&self) -> bool {
        self.degree() >= 1.0
    }

    /// All signs of mixing together: 1 where it begins to count.
    #[must_use]
    pub fn degree(&self) -> f64 {
        [
            self.reference.map(|d| d / ACROSS_REFERENCE),
            self.rim.map(|d| d / ACROSS_RIM),
            self.bench.map(|d| d / ACROSS_BENCH),
            self.rim_to_reference.map(|d| d / RIM_TO_REFERENCE),
        ]
        .into_iter()
        .flatten()
        .fold(0.0, f64::hypot)
    }
}

/// A colour's tint, whatever its brightness: a* and b* once brought to mid grey.
fn tint(balance: &Balance, linear: [f64; 3]) -> (f64, f64) {
    let balanced = balance.apply(linear);
    let luminance = (0.2126 * balanced[0] + 0.7152 * balanced[1] + 0.0722 * balanced[2]).max(1e-4);
    let Lab { a, b, .. } =
        crate::colour::lab_of_linear(balanced.map(|value| value * 0.18 / luminance));
    (a, b)
}

fn apart(one: (f64, f64), other: (f64, f64)) -> f64 {
    (one.0 - other.0).hypot(one.1 - other.1)
}

pub(super) fn measure(
    raster: &Raster,
    view: &View,
    plugs: &[Sighting],
    reference: Option<Region>,
    not_bench: &[Region],
    balance: &Balance,
) -> Mixing {
    let across = reference.and_then(|region| across_region(raster, region, balance));
    let rims: Vec<Rim> = plugs.iter().filter_map(|plug| Rim::of(view, plug, balance)).collect();
    let rim = rims.iter().map(|rim| rim.across).reduce(f64::max);
    let to_reference = reference
        .and_then(|_| rims.iter().map(|rim| rim.mean.0.hypot(rim.mean.1)).reduce(f64::max));
    let bench = across_bench(view, raster, plugs, not_bench, balance);
    Mixing { reference: across, rim, rim_to_reference: to_reference, bench }
}

/// The tint's slope over some places, as the change from one end of their extent to the other:
/// least squares of a* and b* on x and y.
struct Slope {
    samples: Vec<(f64, f64, f64, f64)>,
}

/// A plane through tints: their middle, and how they change along x and y.
struct Plane {
    middle: [f64; 4],
    a: (f64, f64),
    b: (f64, f64),
    /// Width and height of what it was fitted to.
    extent: (f64, f64),
}

impl Plane {
    fn change(&self) -> f64 {
        let along_x = self.a.0.hypot(self.b.0) * self.extent.0;
        let along_y = self.a.1.hypot(self.b.1) * self.extent.1;
        along_x.hypot(along_y)
    }

    fn off(&self, &(x, y, a, b): &(f64, f64, f64, f64)) -> f64 {
        let (dx, dy) = (x - self.middle[0], y - self.middle[1]);
        apart(
            (a - self.middle[2], b - self.middle[3]),
            (self.a.0 * dx + self.a.1 * dy, self.b.0 * dx + self.b.1 * dy),
        )
    }
}

impl Slope {
    fn plane(&self) -> Option<Plane> {
        if self.samples.len() < 12 {
            return None;
        }
        let count = self.samples.len() as f64;
        let mut middle = [0.0; 4];
        for &(x, y, a, b) in &self.samples {
            for (sum, value) in middle.iter_mut().zip([x, y, a, b]) {
                *sum += value / count;
            }
        }
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        let (mut with_a, mut with_b) = ((0.0, 0.0), (0.0, 0.0));
        for &(x, y, a, b) in &self.samples {
            let (dx, dy, da, db) = (x - middle[0], y - middle[1], a - middle[2], b - middle[3]);
            xx += dx * dx;
            xy += dx * dy;
            yy += dy * dy;
            with_a = (with_a.0 + dx * da, with_a.1 + dy * da);
            with_b = (with_b.0 + dx * db, with_b.1 + dy * db);
        }
        let determinant = xx * yy - xy * xy;
        if determinant < 1e-6 * xx * yy + 1e-12 {
            return None;
        }
        let solve =
            |(x, y): (f64, f64)| ((x * yy - y * xy) / determinant, (y * xx - x * xy) / determinant);
        // What is evenly filled is the root of twelve times its deviation wide.
        let extent = ((12.0 * xx / count).sqrt(), (12.0 * yy / count).sqrt());
        Some(Plane { middle, a: solve(with_a), b: solve(with_b), extent })
    }

    /// Change across the extent.
    fn change(&self) -> Option<f64> {
        Some(self.plane()?.change())
    }

    /// Change across the extent and the scatter that is left, with what lies far off (another
    /// thing on the bench) left out step by step.
    fn robust_change(mut self) -> Option<(f64, f64)> {
        let most = self.samples.len();
        loop {
            let plane = self.plane()?;
            let rest = median(self.samples.iter().map(|sample| plane.off(sample)))?;
            let kept = self.samples.len();
            self.samples.retain(|sample| plane.off(sample) <= 2.5 * rest.max(0.3));
            // With half of it gone there is no one bench to speak of.
            if self.samples.len() * 2 < most {
                return None;
            }
            if self.samples.len() == kept {
                return Some((plane.change(), rest));
            }
        }
    }
}

/// Tints of tiles, so that noise averages out; of every so many-th pixel in each direction.
fn tiles(
    raster: &Raster,
    bounds: [f64; 4],
    across: usize,
    down: usize,
    every: usize,
    balance: &Balance,
    keep: impl Fn(usize, usize) -> bool,
) -> Slope {
    let [left, top, right, bottom] = bounds;
    let mut sums = vec![([0.0f64; 3], 0.0f64); across * down];
    let (wide, tall) = ((right - left) / across as f64, (bottom - top) / down as f64);
    for y in (top.max(0.0) as usize..(bottom as usize).min(raster.height)).step_by(every) {
        for x in (left.max(0.0) as usize..(right as usize).min(raster.width)).step_by(every) {
            let place = y * raster.width + x;
            if raster.clipped[place] || !keep(x, y) {
                continue;
            }
            let column = (((x as f64 - left) / wide) as usize).min(across - 1);
            let row = (((y as f64 - top) / tall) as usize).min(down - 1);
            let (sum, count) = &mut sums[row * across + column];
            for (sum, value) in sum.iter_mut().zip(raster.pixels[place]) {
                *sum += f64::from(value);
            }
            *count += 1.0;
        }
    }
    let least = wide * tall * 0.3 / (every * every) as f64;
    let samples = sums
        .iter()
        .enumerate()
        .filter(|(_, (_, count))| *count >= least.max(4.0))
        .map(|(tile, (sum, count))| {
            let (a, b) = tint(balance, sum.map(|value| value / count));
            ((tile % across) as f64, (tile / across) as f64, a, b)
        })
        .collect();
    Slope { samples }
}

fn across_region(raster: &Raster, region: Region, balance: &Balance) -> Option<f64> {
    let factor = raster.factor as f64;
    let bounds = region.bounds().map(|edge| edge / factor);
    let inside =
        |x: usize, y: usize| region.contains((x as f64 + 0.5) * factor, (y as f64 + 0.5) * factor);
    tiles(raster, bounds, 6, 6, 1, balance, inside).change()
}

fn across_bench(
    view: &View,
    raster: &Raster,
    plugs: &[Sighting],
    not_bench: &[Region],
    balance: &Balance,
) -> Option<f64> {
    let factor = raster.factor as f64;
    // Shell and hexagon reach to some two and a half times the bore.
    let shells: Vec<_> =
        plugs.iter().map(|plug| plug.bore.grown(2.6).scaled(view.factor as f64)).collect();
    let bounds = [0.0, 0.0, raster.width as f64, raster.height as f64];
    let keep = |x: usize, y: usize| {
        let (px, py) = (x as f64, y as f64);
        shells.iter().all(|shell| shell.share_out(px, py) > 1.0)
            && !not_bench.iter().any(|region| region.contains(px * factor, py * factor))
    };
    // A bench of many colours tells nothing about the light.
    let (change, rest) = tiles(raster, bounds, 12, 9, 4, balance, keep).robust_change()?;
    (change > 2.0 * rest).then_some(change)
}

/// The metal ring around the bore.
struct Rim {
    mean: (f64, f64),
    across: f64,
}

impl Rim {
    fn of(view: &View, plug: &Sighting, balance: &Balance) -> Option<Self> {
        const SECTORS: usize = 8;
        let mut sums = [([0.0f64; 3], 0.0f64); SECTORS];
        let outer = plug.bore.grown(1.36);
        let [left, top, right, bottom] = outer.region(1.0).bounds();
        for y in top.max(0.0) as usize..(bottom.max(0.0) as usize + 1).min(view.height) {
            for x in left.max(0.0) as usize..(right.max(0.0) as usize + 1).min(view.width) {
                let (px, py) = (x as f64 + 0.5, y as f64 + 0.5);
                let out = plug.bore.share_out(px, py);
                if !(1.1..1.36).contains(&out) {
                    continue;
                }
                let angle = (py - plug.bore.y).atan2(px - plug.bore.x) + std::f64::consts::PI;
                let sector = (angle / std::f64::consts::TAU * SECTORS as f64) as usize % SECTORS;
                let (sum, count) = &mut sums[sector];
                for (sum, value) in sum.iter_mut().zip(view.colour[y * view.width + x]) {
                    *sum += f64::from(value);
                }
                *count += 1.0;
            }
        }
        if sums.iter().any(|(_, count)| *count < 3.0) {
            return None;
        }
        let tints = sums.map(|(sum, count)| tint(balance, sum.map(|value| value / count)));
        // Each half against the half across from it, four sectors at a time.
        let half = |from: usize| {
            let four = (0..SECTORS / 2).map(|k| tints[(from + k) % SECTORS]);
            let (a, b) = four.fold((0.0, 0.0), |sum, t| (sum.0 + t.0, sum.1 + t.1));
            (a / 4.0, b / 4.0)
        };
        let across = (0..SECTORS / 2)
            .map(|from| apart(half(from), half(from + SECTORS / 2)))
            .fold(0.0, f64::max);
        let mean = (
            median(tints.iter().map(|t| t.0)).unwrap_or(0.0),
            median(tints.iter().map(|t| t.1)).unwrap_or(0.0),
        );
        Some(Self { mean, across })
    }
}
