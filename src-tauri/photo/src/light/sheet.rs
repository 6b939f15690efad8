//! Finding a neutral reference in the picture: a large, plain, four-cornered patch without much
//! colour.

use crate::find::{Sighting, View};
use crate::region::Region;

/// A patch that could be a card or a sheet.
#[derive(Debug, Clone)]
pub(super) struct Sheet {
    /// A circle well inside it, in pixels of the view.
    pub x: f64,
    pub y: f64,
    pub radius: f64,
    /// Mean colour, linear.
    pub seen: [f64; 3],
}

/// Share of the view a reference has to cover, and may at most.
const LEAST_AREA: f64 = 0.012;
const MOST_AREA: f64 = 0.5;

/// How much a plain patch may vary from pixel to pixel, in cube root of luminance.
const PLAIN: f32 = 0.012;

/// The likeliest sheet outside the plugs.
pub(super) fn find(view: &View, plugs: &[Sighting]) -> Option<Sheet> {
    let plain = plain_places(view, plugs);
    let mut patches = patches(view, &plain);
    patches.retain(|patch| {
        let share = patch.area / (view.width * view.height) as f64;
        (LEAST_AREA..MOST_AREA).contains(&share) && patch.filled() > 0.8 && could_be_neutral(patch)
    });
    let best = patches.into_iter().max_by(|a, b| a.worth().total_cmp(&b.worth()))?;
    let (x, y, radius) = inscribed(view, &best)?;
    Some(Sheet { x, y, radius, seen: best.mean })
}

impl Sheet {
    pub fn region(&self, scale: f64) -> Region {
        Region::Circle { x: self.x * scale, y: self.y * scale, radius: self.radius * scale }
    }
}

/// Where the picture is flat and no plug is near.
fn plain_places(view: &View, plugs: &[Sighting]) -> Vec<bool> {
    let (w, h) = (view.width, view.height);
    let mut plain = vec![false; w * h];
    for y in 2..h - 2 {
        for x in 2..w - 2 {
            let place = y * w + x;
            let steep = view.slope_x[place].hypot(view.slope_y[place]);
            plain[place] = steep < PLAIN && view.light[place] > 0.1;
        }
    }
    for plug in plugs {
        let shell = plug.bore.grown(1.6);
        for y in 0..h {
            for x in 0..w {
                if shell.share_out(x as f64, y as f64) < 1.0 {
                    plain[y * w + x] = false;
                }
            }
        }
    }
    // A few grains of noise must not cut a sheet in pieces, nor a few plain threads join a cloth.
    let mut voted = vec![false; w * h];
    for y in 2..h - 2 {
        for x in 2..w - 2 {
            let yes = (y - 2..=y + 2)
                .map(|row| plain[row * w + x - 2..=row * w + x + 2].iter().filter(|&&p| p).count())
                .sum::<usize>();
            voted[y * w + x] = yes >= 20;
        }
    }
    voted
}

/// Places that hang together.
struct Patch {
    area: f64,
    /// How many places it has in each direction's extreme: the corners in eight directions.
    reach: [f64; 8],
    mean: [f64; 3],
    centre: (f64, f64),
    /// Root mean square deviation of its brightness.
    uneven: f64,
    label: u32,
    labels: std::rc::Rc<Vec<u32>>,
}

fn patches(view: &View, plain: &[bool]) -> Vec<Patch> {
    let (w, h) = (view.width, view.height);
    let mut labels = vec![0u32; w * h];
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for start in 0..w * h {
        if !plain[start] || labels[start] != 0 {
            continue;
        }
        let label = groups.len() as u32 + 1;
        labels[start] = label;
        let mut group = vec![start];
        let mut next = 0;
        while let Some(&place) = group.get(next) {
            next += 1;
            // The border of the view is never plain, so the neighbours exist.
            for other in [place - 1, place + 1, place - w, place + w] {
                let step = (view.light[place] - view.light[other]).abs();
                if plain[other] && labels[other] == 0 && step < 0.03 {
                    labels[other] = label;
                    group.push(other);
                }
            }
        }
        groups.push(group);
    }
    let labels = std::rc::Rc::new(labels);
    groups
        .into_iter()
        .zip(1u32..)
        .filter(|(group, _)| group.len() as f64 > LEAST_AREA * (w * h) as f64)
        .map(|(group, label)| Patch::of(view, &group, label, &labels))
        .collect()
}

impl Patch {
    fn of(view: &View, group: &[usize], label: u32, labels: &std::rc::Rc<Vec<u32>>) -> Self {
        let area = group.len() as f64;
        let mut reach = [f64::NEG_INFINITY; 8];
        let mut mean = [0.0; 3];
        let (mut light, mut squares, mut cx, mut cy) = (0.0, 0.0, 0.0, 0.0);
        for &place in group {
            let (x, y) = ((place % view.width) as f64, (place / view.width) as f64);
            for (reach, direction) in reach.iter_mut().zip(directions()) {
                *reach = reach.max(x * direction.0 + y * direction.1);
            }
            for (mean, value) in mean.iter_mut().zip(view.colour[place]) {
                *mean += f64::from(value) / area;
            }
            let value = f64::from(view.light[place]);
            light += value / area;
            squares += value * value / area;
            cx += x / area;
            cy += y / area;
        }
        let uneven = (squares - light * light).max(0.0).sqrt();
        let labels = labels.clone();
        Self { area, reach, mean, centre: (cx, cy), uneven, label, labels }
    }

    /// Area over that of the tightest rectangle around it, upright or turned.
    fn filled(&self) -> f64 {
        let (w, h) = (self.reach[0] + self.reach[4] + 1.0, self.reach[2] + self.reach[6] + 1.0);
        // The octagon around it: the rectangle less its cut corners.
        let root = std::f64::consts::SQRT_2;
        let mut octagon = w * h;
        for corner in [1, 3, 5, 7] {
            let (a, b) = (self.reach[corner - 1], self.reach[(corner + 1) % 8]);
            let cut = ((a + b) - self.reach[corner] * root).max(0.0);
            octagon -= cut * cut / 2.0;
        }
        self.area / octagon.max(1.0)
    }

    fn worth(&self) -> f64 {
        self.filled() * self.area.sqrt() / (0.01 + self.uneven)
    }
}

fn directions() -> [(f64, f64); 8] {
    let d = std::f64::consts::FRAC_1_SQRT_2;
    [(1.0, 0.0), (d, d), (0.0, 1.0), (-d, d), (-1.0, 0.0), (-d, -d), (0.0, -1.0), (d, -d)]
}

/// Whether lamp light on something without colour may look so: from candle to shade, the red and
/// the blue go opposite ways around the green. Bounds are ours, wide enough for 2000 K in a phone
/// that corrects nothing.
fn could_be_neutral(patch: &Patch) -> bool {
    let [r, g, b] = patch.mean.map(|value| value.max(1e-4).ln());
    let warm = (r - b) / 2.0;
    let green = g - f64::midpoint(r, b);
    (-0.45..=1.3).contains(&warm) && (-0.28..=0.28).contains(&(green - 0.12 * warm.max(0.0)))
}

/// The largest circle around a place near the middle that stays inside.
fn inscribed(view: &View, patch: &Patch) -> Option<(f64, f64, f64)> {
    let inside = |x: f64, y: f64| {
        view.holds(x, y)
            && patch.labels[y as usize * view.width + x as usize] == patch.label
    };
    let (cx, cy) = patch.centre;
    let mut best = (cx, cy, 0.0);
    let reach = patch.area.sqrt() / 4.0;
    for dx in [-1.0, -0.5, 0.0, 0.5, 1.0] {
        for dy in [-1.0, -0.5, 0.0, 0.5, 1.0] {
            let (x, y) = (cx + dx * reach, cy + dy * reach);
            let mut radius = 0.0;
            while (0..16).all(|k| {
                let (sin, cos) = (f64::from(k) * std::f64::consts::PI / 8.0).sin_cos();
                inside(x + (radius + 1.0) * cos, y + (radius + 1.0) * sin)
            }) {
                radius += 1.0;
            }
            if radius > best.2 {
                best = (x, y, radius);
            }
        }
    }
    (best.2 >= 5.0).then_some((best.0, best.1, best.2 * 0.95))
}
