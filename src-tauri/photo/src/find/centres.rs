//! Where circles might be centred: every edge votes along its slope (D. H. Ballard, "Generalizing
//! the Hough transform to detect arbitrary shapes", Pattern Recognition 13(2), 1981, is the idea).

use super::view::View;

/// Smallest and largest radius that votes, as shares of the view's long side.
const RADII: (f64, f64) = (0.02, 0.3);

/// The places with the most votes, best first.
pub(super) fn likely(view: &View, most: usize) -> Vec<(f64, f64)> {
    let (w, h) = (view.width, view.height);
    let steepness: Vec<f32> =
        view.slope_x.iter().zip(&view.slope_y).map(|(x, y)| x.hypot(*y)).collect();
    let steep = {
        let mut sorted = steepness.clone();
        let at = sorted.len() * 82 / 100;
        *sorted.select_nth_unstable_by(at, f32::total_cmp).1
    };
    let least = steep.max(0.006);
    let long = w.max(h) as f64;
    let (first, last) = ((long * RADII.0).max(4.0) as usize, (long * RADII.1) as usize);
    let mut votes = vec![0.0f32; w * h];
    for y in 1..h - 1 {
        // Every other edge point, as on a chessboard: circles have enough of them.
        for x in (1 + y % 2..w - 1).step_by(2) {
            let steepness = &steepness[y * w + x];
            if *steepness < least {
                continue;
            }
            let (dx, dy) =
                (view.slope_x[y * w + x] / *steepness, view.slope_y[y * w + x] / *steepness);
            for side in [1.0f32, -1.0] {
                for r in first..last {
                    let (px, py) =
                        (x as f32 + side * dx * r as f32, y as f32 + side * dy * r as f32);
                    if px < 0.0 || py < 0.0 || px >= w as f32 || py >= h as f32 {
                        break;
                    }
                    // A circle has as many edge points as its radius is long.
                    votes[py as usize * w + px as usize] += 1.0 / r as f32;
                }
            }
        }
    }
    let votes = smoothed(&smoothed(&votes, w, h, 2), w, h, 2);
    peaks(&votes, w, h, most)
}

/// Box mean.
fn smoothed(values: &[f32], w: usize, h: usize, reach: usize) -> Vec<f32> {
    let mut across = vec![0.0; values.len()];
    for y in 0..h {
        for x in reach..w - reach {
            across[y * w + x] = values[y * w + x - reach..=y * w + x + reach].iter().sum();
        }
    }
    let mut out = vec![0.0; values.len()];
    for y in reach..h - reach {
        for x in 0..w {
            out[y * w + x] = (y - reach..=y + reach).map(|row| across[row * w + x]).sum();
        }
    }
    out
}

fn peaks(votes: &[f32], w: usize, h: usize, most: usize) -> Vec<(f64, f64)> {
    const APART: usize = 6;
    let mut tops: Vec<(f32, usize, usize)> = Vec::new();
    for y in 1..h - 1 {
        for x in 1..w - 1 {
            let here = votes[y * w + x];
            let rows = y.saturating_sub(APART)..(y + APART + 1).min(h);
            let columns = x.saturating_sub(APART)..(x + APART + 1).min(w);
            if here > 0.0
                && here >= votes[y * w + x + 1]
                && here >= votes[y * w + x - 1]
                && rows.flat_map(|row| &votes[row * w..][columns.clone()]).all(|&v| v <= here)
            {
                tops.push((here, x, y));
            }
        }
    }
    tops.sort_by(|a, b| b.0.total_cmp(&a.0));
    tops.truncate(most);
    tops.into_iter().map(|(_, x, y)| (x as f64 + 0.5, y as f64 + 0.5)).collect()
}
