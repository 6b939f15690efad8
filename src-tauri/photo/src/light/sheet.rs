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
    /// A circle around all of it, about the same centre.
    pub around: f64,
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
        (LEAST_AREA..MOST_AREA).contains(&share)
            && patch.filled() > 0.8
            && patch.sides_touched < 3
            && could_be_neutral(patch)
    });
    let best = patches.into_iter().max_by(|a, b| a.worth().total_cmp(&b.worth()))?;
    let (x, y, radius) = inscribed(view, &best)?;
    let around = best
        .places()
        .map(|place| ((place % view.width) as f64 - x).hypot((place / view.width) as f64 - y))
        .fold(radius, f64::max);
    Some(Sheet { x, y, radius, seen: best.mean, around })
}

impl Sheet {
    pub fn region(&self, scale: f64) -> Region {
        Region::Circle { x: self.x * scale, y: self.y * scale, radius: self.radius * scale }
    }

    pub fn surrounding(&self, scale: f64) -> Region {
        let radius = (self.around + 4.0) * scale;
        Region::Circle { x: self.x * scale, y: self.y * scale, radius }
    }
}

/// How much the tint of a plain patch may change within a few pixels, in cube root of light: a grey
/// card on wood is as bright as the wood.
const ONE_TINT: f32 = 0.03;

/// Red and blue against green, in cube root of light.
fn tints(view: &View) -> Vec<[f32; 2]> {
    let root = |value: f32| value.max(0.0).cbrt();
    view.colour.iter().map(|&[r, g, b]| [root(r) - root(g), root(b) - root(g)]).collect()
}

/// Where the picture is flat and no plug is near.
fn plain_places(view: &View, plugs: &[Sighting]) -> Vec<bool> {
    let (w, h) = (view.width, view.height);
    let tints = tints(view);
    let mut plain = vec![false; w * h];
    for y in 2..h - 2 {
        for x in 2..w - 2 {
            let place = y * w + x;
            let steep = view.slope_x[place].hypot(view.slope_y[place]);
            let one_tint = (0..2).all(|channel| {
                let change = |a: usize, b: usize| (tints[a][channel] - tints[b][channel]).abs();
                change(place - 2, place + 2) < ONE_TINT
                    && change(place - 2 * w, place + 2 * w) < ONE_TINT
            });
            plain[place] = steep < PLAIN && one_tint && view.light[place] > 0.1;
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
    /// Area of the tightest rectangle around it, upright or turned.
    rectangle: f64,
    /// How many sides of the view it runs out of.
    sides_touched: usize,
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
        let mut mean = [0.0; 3];
        let (mut light, mut squares, mut cx, mut cy) = (0.0, 0.0, 0.0, 0.0);
        for &place in group {
            let (x, y) = ((place % view.width) as f64, (place / view.width) as f64);
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
        Self {
            area,
            rectangle: rectangle(view, group),
            sides_touched: sides_touched(view, group),
            mean,
            centre: (cx, cy),
            uneven,
            label,
            labels,
        }
    }

    fn places(&self) -> impl Iterator<Item = usize> {
        self.labels.iter().enumerate().filter(|(_, label)| **label == self.label).map(|(i, _)| i)
    }

    fn filled(&self) -> f64 {
        self.area / self.rectangle
    }

    fn worth(&self) -> f64 {
        self.filled() * self.area.sqrt() / (0.01 + self.uneven)
    }
}

fn rectangle(view: &View, group: &[usize]) -> f64 {
    (0..18)
        .map(|turn| {
            let (sin, cos) = (f64::from(turn) * 5.0).to_radians().sin_cos();
            let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
            for &place in group {
                let (x, y) = ((place % view.width) as f64, (place / view.width) as f64);
                for (axis, value) in [x * cos + y * sin, y * cos - x * sin].into_iter().enumerate()
                {
                    low[axis] = low[axis].min(value);
                    high[axis] = high[axis].max(value);
                }
            }
            (high[0] - low[0] + 1.0) * (high[1] - low[1] + 1.0)
        })
        .fold(f64::INFINITY, f64::min)
}

/// A bench runs out of three sides or four. The outermost places of a view are never plain.
fn sides_touched(view: &View, group: &[usize]) -> usize {
    const NEAR: usize = 6;
    let touches = |side: &dyn Fn(usize, usize) -> bool| {
        group.iter().any(|&place| side(place % view.width, place / view.width))
    };
    [
        touches(&|x, _| x < NEAR),
        touches(&|x, _| x + NEAR >= view.width),
        touches(&|_, y| y < NEAR),
        touches(&|_, y| y + NEAR >= view.height),
    ]
    .into_iter()
    .filter(|&touched| touched)
    .count()
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
        view.holds(x, y) && patch.labels[y as usize * view.width + x as usize] == patch.label
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
