//! From light to a JPEG: blur, noise, the sRGB curve, compression.

use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};
use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// How the phone takes it.
#[derive(Debug, Clone, Copy)]
pub struct Camera {
    /// Standard deviation of the blur, in pixels.
    pub blur: f32,
    /// Noise of a mid grey, as a share of white in linear light.
    pub noise: f32,
    /// JPEG quality, 1 to 100.
    pub quality: u8,
}

/// A picture in linear light, row by row.
#[derive(Debug, Clone)]
pub struct Light {
    /// Width in pixels.
    pub width: usize,
    /// Height in pixels.
    pub height: usize,
    /// Linear sRGB.
    pub pixels: Vec<[f32; 3]>,
}

/// Steps of the table of the sRGB curve.
const STEPS: usize = 4096;

impl Camera {
    /// Blurs, adds noise and codes as 8-bit sRGB.
    #[must_use]
    pub fn expose(&self, mut light: Light, seed: u64) -> RgbImage {
        blur(&mut light, self.blur);
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        let table: Vec<u8> =
            (0..=STEPS).map(|i| coded((i as f32 / STEPS as f32).powi(2))).collect();
        let mut picture = RgbImage::new(light.width as u32, light.height as u32);
        for (pixel, value) in picture.pixels_mut().zip(&light.pixels) {
            *pixel = Rgb(value.map(|v| {
                // Shot noise grows with the root of the light; a floor for reading it out.
                let sigma = self.noise * (v.max(0.0) / 0.18 + 0.15).sqrt();
                // The table is laid out by the root of the light, where the curve is nearly straight.
                let noisy = (v + sigma * normal(&mut random)).clamp(0.0, 1.0);
                table[(noisy.sqrt() * STEPS as f32).round() as usize]
            }));
        }
        picture
    }

    /// The JPEG of it.
    ///
    /// # Panics
    /// Never: the encoder fails only on a failing writer, and this one is memory.
    #[must_use]
    pub fn jpeg(&self, picture: &RgbImage) -> Vec<u8> {
        let mut bytes = Vec::new();
        JpegEncoder::new_with_quality(&mut bytes, self.quality)
            .encode_image(picture)
            .expect("writing to memory");
        bytes
    }
}

/// Close enough to a normal number: the sum of three flat ones, scaled to variance 1.
fn normal(random: &mut impl Rng) -> f32 {
    (0..3).map(|_| random.random::<f32>() * 2.0 - 1.0).sum()
}

/// The sRGB curve (IEC 61966-2-1) and 8 bits.
#[must_use]
pub fn coded(linear: f32) -> u8 {
    let v = linear.clamp(0.0, 1.0);
    let coded = if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * v.powf(1.0 / 2.4) - 0.055 };
    (coded * 255.0).round() as u8
}

fn blur(light: &mut Light, sigma: f32) {
    if sigma < 0.2 {
        return;
    }
    let reach = (sigma * 2.5).ceil() as usize;
    let mut weights: Vec<f32> = (0..=2 * reach)
        .map(|i| (-(i as f32 - reach as f32).powi(2) / (2.0 * sigma * sigma)).exp())
        .collect();
    let sum: f32 = weights.iter().sum();
    for weight in &mut weights {
        *weight /= sum;
    }
    let (width, height) = (light.width, light.height);
    let mut across = vec![[0.0f32; 3]; width * height];
    for y in 0..height {
        for x in 0..width {
            let mut total = [0.0; 3];
            for (k, weight) in weights.iter().enumerate() {
                let from = (x + k).saturating_sub(reach).min(width - 1);
                add(&mut total, light.pixels[y * width + from], *weight);
            }
            across[y * width + x] = total;
        }
    }
    for y in 0..height {
        for x in 0..width {
            let mut total = [0.0; 3];
            for (k, weight) in weights.iter().enumerate() {
                let from = (y + k).saturating_sub(reach).min(height - 1);
                add(&mut total, across[from * width + x], *weight);
            }
            light.pixels[y * width + x] = total;
        }
    }
}

fn add(total: &mut [f32; 3], value: [f32; 3], weight: f32) {
    for (total, value) in total.iter_mut().zip(value) {
        *total += value * weight;
    }
}
