//! A small view of the picture in which to look for things.

use crate::intake::Raster;

/// The longest side of the view.
const SIDE: usize = 400;

/// Brightness as the eye takes it (cube root of luminance), scaled down, with its slopes.
pub(crate) struct View {
    pub width: usize,
    pub height: usize,
    /// How many pixels of the working picture go into one, along each side.
    pub factor: usize,
    pub light: Vec<f32>,
    /// Linear colour.
    pub colour: Vec<[f32; 3]>,
    pub slope_x: Vec<f32>,
    pub slope_y: Vec<f32>,
}

impl View {
    pub fn of(raster: &Raster) -> Self {
        let factor = raster.width.max(raster.height).div_ceil(SIDE);
        let (width, height) = (raster.width / factor, raster.height / factor);
        let mut colour = Vec::with_capacity(width * height);
        let mut light = Vec::with_capacity(width * height);
        let share = 1.0 / (factor * factor) as f32;
        for y in 0..height {
            for x in 0..width {
                let mut sum = [0.0f32; 3];
                for row in y * factor..(y + 1) * factor {
                    let start = row * raster.width + x * factor;
                    for pixel in &raster.pixels[start..start + factor] {
                        for (sum, value) in sum.iter_mut().zip(pixel) {
                            *sum += value;
                        }
                    }
                }
                let mean = sum.map(|value| value * share);
                let luminance = 0.2126 * mean[0] + 0.7152 * mean[1] + 0.0722 * mean[2];
                colour.push(mean);
                light.push(luminance.max(0.0).cbrt());
            }
        }
        let mut view = Self {
            width,
            height,
            factor,
            light,
            colour,
            slope_x: vec![0.0; width * height],
            slope_y: vec![0.0; width * height],
        };
        view.take_slopes();
        view
    }

    /// Sobel's operator.
    fn take_slopes(&mut self) {
        let w = self.width;
        for y in 1..self.height - 1 {
            for x in 1..w - 1 {
                let at = |dx: usize, dy: usize| self.light[(y + dy - 1) * w + x + dx - 1];
                let right = at(2, 0) + 2.0 * at(2, 1) + at(2, 2);
                let left = at(0, 0) + 2.0 * at(0, 1) + at(0, 2);
                let below = at(0, 2) + 2.0 * at(1, 2) + at(2, 2);
                let above = at(0, 0) + 2.0 * at(1, 0) + at(2, 0);
                self.slope_x[y * w + x] = (right - left) / 8.0;
                self.slope_y[y * w + x] = (below - above) / 8.0;
            }
        }
    }

    /// Brightness at a point, between the pixels; the edge goes on outside.
    pub fn light_at(&self, x: f64, y: f64) -> f64 {
        let (x, y) = ((x - 0.5).max(0.0), (y - 0.5).max(0.0));
        let (i, j) = ((x as usize).min(self.width - 2), (y as usize).min(self.height - 2));
        let (tx, ty) = ((x - i as f64).min(1.0), (y - j as f64).min(1.0));
        let at = |i: usize, j: usize| f64::from(self.light[j * self.width + i]);
        (at(i, j) * (1.0 - tx) + at(i + 1, j) * tx) * (1.0 - ty)
            + (at(i, j + 1) * (1.0 - tx) + at(i + 1, j + 1) * tx) * ty
    }

    pub fn holds(&self, x: f64, y: f64) -> bool {
        x >= 1.0 && y >= 1.0 && x < self.width as f64 - 1.0 && y < self.height as f64 - 1.0
    }
}
