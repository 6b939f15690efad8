//! The insulator's nose inside the bore, and the ground strap across it.

use std::f64::consts::TAU;

use super::ellipse::Ellipse;
use super::view::View;
use crate::figures::{NOSE_OF_BORE, median};

const RAYS: usize = 72;

/// How far the nose's share of the bore varies. Common practice, no source.
const VARIES: f64 = 0.10;

/// The nose: where the edge is clearest, or at its usual size where soot hides the edge.
pub(super) fn find(view: &View, bore: &Ellipse) -> Ellipse {
    let mut best = (bore.grown(NOSE_OF_BORE), f64::NEG_INFINITY);
    let size = bore.size();
    for k in 0..=22 {
        let share = 0.42 + 0.02 * f64::from(k);
        let prior = ((share - NOSE_OF_BORE) / VARIES).powi(2) * 0.5;
        // The nose stands a little below or above the rim, so a tilt moves it.
        for (dx, dy) in [(0.0, 0.0), (0.06, 0.0), (-0.06, 0.0), (0.0, 0.06), (0.0, -0.06)] {
            let moved = if dx == 0.0 && dy == 0.0 { 0.0 } else { 0.3 };
            let nose =
                Ellipse { x: bore.x + dx * size, y: bore.y + dy * size, ..bore.grown(share) };
            let worth = 40.0 * edge(view, &nose) - prior - moved;
            if worth > best.1 {
                best = (nose, worth);
            }
        }
    }
    best.0
}

/// How much brighter it is just inside than just outside, at most of the rays.
fn edge(view: &View, nose: &Ellipse) -> f64 {
    let falls = (0..RAYS).map(|ray| {
        let angle = ray as f64 / RAYS as f64 * TAU;
        let at = |share: f64| {
            let (x, y) = nose.point(angle, share);
            view.light_at(x, y)
        };
        (at(0.88) - at(1.12)).clamp(-0.1, 0.25)
    });
    median(falls).unwrap_or(0.0)
}

/// Half the width of the strap between nose and bore, in rays: some forty-five degrees in all.
const HALF: usize = 4;

/// The direction in which the dark between nose and bore is bridged.
pub(super) fn strap(view: &View, bore: &Ellipse, nose: &Ellipse) -> Option<f64> {
    let inner = nose.size() / bore.size();
    let light: Vec<f64> = (0..RAYS)
        .map(|ray| {
            let angle = ray as f64 / RAYS as f64 * TAU;
            let shares = [0.35, 0.55, 0.75].map(|t| (inner + 0.06) + (0.95 - inner) * t);
            shares
                .iter()
                .map(|&s| {
                    let (x, y) = bore.point(angle, s);
                    view.light_at(x, y)
                })
                .sum::<f64>()
                / 3.0
        })
        .collect();
    let window = |ray: usize| -> f64 {
        (0..=2 * HALF).map(|k| light[(ray + RAYS + k - HALF) % RAYS]).sum::<f64>()
            / (2 * HALF + 1) as f64
    };
    let (bright, ray) =
        (0..RAYS).map(|ray| (window(ray), ray)).max_by(|a, b| a.0.total_cmp(&b.0))?;
    let usual = median(light.iter().copied())?;
    if bright - usual < 0.04 {
        return None;
    }
    let (x, y) = bore.point(ray as f64 / RAYS as f64 * TAU, 1.0);
    Some((y - bore.y).atan2(x - bore.x))
}
