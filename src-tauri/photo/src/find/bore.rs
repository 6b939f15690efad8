//! The edge between the bright rim and the dark bore.

use std::f64::consts::TAU;

use super::ellipse::Ellipse;
use super::view::View;

/// Rays on which the edge is looked for.
const RAYS: usize = 72;

/// An ellipse and how well the picture bears it out.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fit {
    pub ellipse: Ellipse,
    /// Share of the rays on which the edge lies on the ellipse.
    pub coverage: f64,
    /// How much darker it is inside, as a share of the brightness outside (both cube roots).
    pub contrast: f64,
    /// How evenly bright the ring outside is: 1 is even.
    pub ring: f64,
}

/// The best fit around a likely centre.
pub(super) fn fit(view: &View, x: f64, y: f64) -> Option<Fit> {
    let long = view.width.max(view.height) as f64;
    let (least, most) = ((long * 0.02).max(5.0), long * 0.3);
    let profiles = Profiles::around(view, x, y, most * 1.2);
    let mut best: Option<Fit> = None;
    for radius in profiles.likely_radii(least, most) {
        if let Some(fit) = refine(view, Ellipse { x, y, long: radius, short: radius, turn: 0.0 })
            && fit.ellipse.size() >= least
            && best.is_none_or(|best| fit.worth() > best.worth())
        {
            best = Some(fit);
        }
    }
    best
}

impl Fit {
    fn worth(&self) -> f64 {
        self.coverage * self.contrast.min(0.5) * (0.3 + self.ring)
    }
}

/// Brightness along the rays, a sample a pixel.
struct Profiles {
    rays: Vec<Vec<f64>>,
}

impl Profiles {
    fn around(view: &View, x: f64, y: f64, reach: f64) -> Self {
        let rays = (0..RAYS)
            .map(|ray| {
                let (sin, cos) = (ray as f64 / RAYS as f64 * TAU).sin_cos();
                (0..reach as usize)
                    .map(|r| (x + r as f64 * cos, y + r as f64 * sin))
                    .take_while(|&(px, py)| view.holds(px, py))
                    .map(|(px, py)| view.light_at(px, py))
                    .collect()
            })
            .collect();
        Self { rays }
    }

    /// Radii at which many rays get brighter outwards, best first.
    fn likely_radii(&self, least: f64, most: f64) -> Vec<f64> {
        let last = most as usize;
        let mut rise = vec![0.0; last + 4];
        for ray in &self.rays {
            for r in 3..ray.len().saturating_sub(2).min(last + 3) {
                let step = (ray[r + 1] + ray[r + 2] - ray[r - 1] - ray[r - 2]) / 2.0;
                // One strong edge must not outweigh many plain ones.
                rise[r] += step.clamp(0.0, 0.15);
            }
        }
        // A tilt spreads the edge over some radii.
        let spread: Vec<f64> = (0..rise.len())
            .map(|r| {
                let reach = r / 10 + 1;
                rise[r.saturating_sub(reach)..(r + reach + 1).min(rise.len())].iter().sum()
            })
            .collect();
        let mut radii: Vec<usize> = (least as usize..last)
            .filter(|&r| {
                let near = r.saturating_sub(3)..(r + 4).min(spread.len());
                spread[r] > 0.0 && spread[near].iter().all(|&other| other <= spread[r])
            })
            .collect();
        radii.sort_by(|&a, &b| spread[b].total_cmp(&spread[a]));
        radii.truncate(5);
        radii.into_iter().map(|r| r as f64).collect()
    }
}

/// Moves the ellipse onto the edge: strongest rise on each ray near it, an ellipse through those
/// points, without those that lie off, again.
fn refine(view: &View, start: Ellipse) -> Option<Fit> {
    let mut ellipse = start;
    let mut seen = Vec::new();
    for (reach, off) in [(0.3, 0.14), (0.2, 0.09), (0.12, 0.06)] {
        seen = edge_points(view, &ellipse, reach);
        let mut points: Vec<(f64, f64)> = seen.iter().map(|edge| (edge.x, edge.y)).collect();
        ellipse = plausible(Ellipse::through(&points)?)?;
        points.retain(|&(x, y)| (ellipse.share_out(x, y) - 1.0).abs() < off);
        ellipse = plausible(Ellipse::through(&points)?)?;
    }
    if !view.holds(ellipse.x, ellipse.y) {
        return None;
    }
    seen.retain(|edge| (ellipse.share_out(edge.x, edge.y) - 1.0).abs() < 0.07);
    let coverage = seen.len() as f64 / RAYS as f64;
    let (contrast, ring) = ring(view, &ellipse);
    (contrast > 0.1 && coverage > 0.4).then_some(Fit { ellipse, coverage, contrast, ring })
}

/// A plug that is held to be looked into is not tilted further than this.
fn plausible(ellipse: Ellipse) -> Option<Ellipse> {
    (ellipse.short > 0.68 * ellipse.long && ellipse.size() > 4.0).then_some(ellipse)
}

struct Edge {
    x: f64,
    y: f64,
}

/// On each ray the strongest rise within `reach` of the ellipse; rays without one are left out.
fn edge_points(view: &View, ellipse: &Ellipse, reach: f64) -> Vec<Edge> {
    let step = (1.0 / ellipse.size()).min(reach / 4.0);
    let steps = (2.0 * reach / step).round() as usize;
    (0..RAYS)
        .filter_map(|ray| {
            let angle = ray as f64 / RAYS as f64 * TAU;
            let light: Vec<f64> = (0..=steps + 4)
                .map(|k| {
                    let share = 1.0 - reach + (k as f64 - 2.0) * step;
                    let (x, y) = ellipse.point(angle, share);
                    view.light_at(x, y)
                })
                .collect();
            let (rise, k) = (0..=steps)
                .map(|k| (light[k + 3] + light[k + 4] - light[k] - light[k + 1], k))
                .max_by(|a, b| a.0.total_cmp(&b.0))?;
            let (x, y) = ellipse.point(angle, 1.0 - reach + k as f64 * step);
            (rise > 0.05 && view.holds(x, y)).then_some(Edge { x, y })
        })
        .collect()
}

/// How much darker the band inside is than the ring outside, and how even the ring is.
fn ring(view: &View, ellipse: &Ellipse) -> (f64, f64) {
    let around = |share: f64| -> Vec<f64> {
        (0..RAYS)
            .map(|ray| {
                let (x, y) = ellipse.point(ray as f64 / RAYS as f64 * TAU, share);
                view.light_at(x, y)
            })
            .collect()
    };
    let middle = |values: &[f64]| crate::figures::median(values.iter().copied()).unwrap_or(0.0);
    let inside = [around(0.8), around(0.9)].concat();
    let outside = [around(1.1), around(1.2), around(1.3)].concat();
    let bright = middle(&outside);
    let off: Vec<f64> = outside.iter().map(|v| (v - bright).abs()).collect();
    let bright = bright.max(0.02);
    (1.0 - middle(&inside) / bright, (1.0 - middle(&off) / bright * 4.0).max(0.0))
}
