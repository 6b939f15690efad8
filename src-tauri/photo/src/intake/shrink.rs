//! Scaling down by a whole number, averaged in linear light.

use super::Coded;
use super::format::Format;
use super::profile::{Encoding, ProfileUsed};
use super::raster::Raster;

/// The longest side that is worked on. A plug fills a third of a picture or more, so its nose is
/// still some hundred pixels across.
const WORKING_SIDE: usize = 1280;

/// Coded values at and above this count as clipped: noise and JPEG rounding leave a burnt-out area
/// just below 255.
const CLIPPED: u8 = 253;

/// How many pixels go into one along each side.
pub(super) fn factor(width: usize, height: usize) -> usize {
    width.max(height).div_ceil(WORKING_SIDE)
}

pub(super) fn shrink(coded: &Coded, encoding: &Encoding, factor: usize) -> Raster {
    let width = coded.width.div_ceil(factor);
    let height = coded.height.div_ceil(factor);
    // Fixed point keeps the inner loop in integers: 16 bits of light, sums of up to 13 x 13.
    let curves = encoding.curves.map(|curve| curve.map(|value| (value * 65_535.0) as i32));
    let mut pixels = Vec::with_capacity(width * height);
    let mut clipped = Vec::with_capacity(width * height);
    let mut sums = vec![[0i32; 4]; width];
    for rows in coded.rgb.chunks(coded.width * 3 * factor) {
        sums.fill([0; 4]);
        for row in rows.chunks_exact(coded.width * 3) {
            for (block, sum) in row.chunks(3 * factor).zip(&mut sums) {
                for pixel in block.chunks_exact(3) {
                    sum[0] += curves[0][usize::from(pixel[0])];
                    sum[1] += curves[1][usize::from(pixel[1])];
                    sum[2] += curves[2][usize::from(pixel[2])];
                    sum[3] += i32::from(pixel[0].max(pixel[1]).max(pixel[2]) >= CLIPPED);
                }
            }
        }
        let tall = rows.len() / (coded.width * 3);
        for (x, sum) in sums.iter().enumerate() {
            let wide = factor.min(coded.width - x * factor);
            let count = (wide * tall) as f32;
            let scale = 1.0 / (65_535.0 * count);
            let [r, g, b] = [sum[0] as f32, sum[1] as f32, sum[2] as f32];
            pixels.push(encoding.to_srgb.map(|row| (row[0] * r + row[1] * g + row[2] * b) * scale));
            clipped.push(sum[3] as f32 > 0.5 * count);
        }
    }
    Raster {
        width,
        height,
        factor,
        full_width: coded.width,
        full_height: coded.height,
        pixels,
        clipped,
        format: Format::Jpeg,
        profile: ProfileUsed::AssumedSrgb,
    }
}
