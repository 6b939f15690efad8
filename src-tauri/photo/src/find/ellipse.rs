//! Ellipses, and fitting one to points.

use crate::region::Region;

/// An ellipse in pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Ellipse {
    pub x: f64,
    pub y: f64,
    pub long: f64,
    pub short: f64,
    /// From the x axis to the long axis.
    pub turn: f64,
}

impl Ellipse {
    /// Geometric mean of the half axes.
    pub fn size(&self) -> f64 {
        (self.long * self.short).sqrt()
    }

    /// 0 at the centre, 1 on the ellipse.
    pub fn share_out(&self, px: f64, py: f64) -> f64 {
        let (sin, cos) = self.turn.sin_cos();
        let (dx, dy) = (px - self.x, py - self.y);
        ((dx * cos + dy * sin) / self.long).hypot((dy * cos - dx * sin) / self.short)
    }

    /// The point `share` of the way out, at `angle` of the ellipse's own parameter.
    pub fn point(&self, angle: f64, share: f64) -> (f64, f64) {
        let (sin, cos) = self.turn.sin_cos();
        let (u, v) = (self.long * share * angle.cos(), self.short * share * angle.sin());
        (self.x + u * cos - v * sin, self.y + u * sin + v * cos)
    }

    /// About the origin of the picture.
    pub fn scaled(&self, by: f64) -> Self {
        Self {
            x: self.x * by,
            y: self.y * by,
            long: self.long * by,
            short: self.short * by,
            turn: self.turn,
        }
    }

    /// About its own centre.
    pub fn grown(&self, by: f64) -> Self {
        Self { long: self.long * by, short: self.short * by, ..*self }
    }

    pub fn region(&self, scale: f64) -> Region {
        let e = self.scaled(scale);
        Region::Ellipse { x: e.x, y: e.y, long: e.long, short: e.short, turn: e.turn }
    }

    /// Least squares through points (the conic a x² + b x y + c y² + d x + e y = 1 about their
    /// centre); `None` when that is no ellipse.
    pub fn through(points: &[(f64, f64)]) -> Option<Self> {
        let count = points.len() as f64;
        if points.len() < 8 {
            return None;
        }
        let mean_x = points.iter().map(|p| p.0).sum::<f64>() / count;
        let mean_y = points.iter().map(|p| p.1).sum::<f64>() / count;
        let scale = points.iter().map(|p| (p.0 - mean_x).hypot(p.1 - mean_y)).sum::<f64>() / count;
        let mut normal = [[0.0; 6]; 5];
        for p in points {
            let (x, y) = ((p.0 - mean_x) / scale, (p.1 - mean_y) / scale);
            let terms = [x * x, x * y, y * y, x, y];
            for (row, term) in normal.iter_mut().zip(terms) {
                for (cell, other) in row.iter_mut().zip(terms) {
                    *cell += term * other;
                }
                row[5] += term;
            }
        }
        let [a, b, c, along_x, along_y] = solve(normal)?;
        let determinant = 4.0 * a * c - b * b;
        if determinant <= 1e-9 {
            return None;
        }
        let (cx, cy) = (
            (b * along_y - 2.0 * c * along_x) / determinant,
            (b * along_x - 2.0 * a * along_y) / determinant,
        );
        let rest = 1.0 - f64::midpoint(along_x * cx, along_y * cy);
        let spread = ((a - c).powi(2) + b * b).sqrt();
        let (steep, flat) = (f64::midpoint(a + c, spread), f64::midpoint(a + c, -spread));
        if flat <= 0.0 || rest <= 0.0 {
            return None;
        }
        Some(Self {
            x: mean_x + cx * scale,
            y: mean_y + cy * scale,
            long: (rest / flat).sqrt() * scale,
            short: (rest / steep).sqrt() * scale,
            // The long axis is where the quadratic form is flattest.
            turn: f64::atan2(-b, c - a) / 2.0,
        })
    }
}

/// Gaussian elimination with pivots.
fn solve(mut m: [[f64; 6]; 5]) -> Option<[f64; 5]> {
    for column in 0..5 {
        let pivot =
            (column..5).max_by(|&i, &j| m[i][column].abs().total_cmp(&m[j][column].abs()))?;
        if m[pivot][column].abs() < 1e-12 {
            return None;
        }
        m.swap(column, pivot);
        let top = m[column];
        for row in &mut m[column + 1..] {
            let times = row[column] / top[column];
            for (cell, above) in row.iter_mut().zip(top) {
                *cell -= times * above;
            }
        }
    }
    let mut out = [0.0; 5];
    for row in (0..5).rev() {
        let known: f64 = (row + 1..5).map(|k| m[row][k] * out[k]).sum();
        out[row] = (m[row][5] - known) / m[row][row];
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fit_gives_back_the_ellipse_its_points_lie_on() {
        for turn in [0.0, 0.4, 1.2, -0.9] {
            let ellipse = Ellipse { x: 40.0, y: 71.0, long: 20.0, short: 15.0, turn };
            let points: Vec<_> = (0..30).map(|i| ellipse.point(f64::from(i) / 5.0, 1.0)).collect();
            let fit = Ellipse::through(&points).unwrap();
            for (given, wanted) in [
                (fit.x, 40.0),
                (fit.y, 71.0),
                (fit.long, 20.0),
                (fit.short, 15.0),
                ((fit.turn - turn).sin(), 0.0),
            ] {
                assert!((given - wanted).abs() < 1e-6, "{given} {wanted} at {turn}");
            }
        }
    }

    #[test]
    fn points_on_a_line_are_no_ellipse() {
        let points: Vec<_> = (0..30).map(|i| (f64::from(i), 2.0 * f64::from(i))).collect();
        assert_eq!(Ellipse::through(&points), None);
    }
}
