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

/// Bits that hold a sum of light; the count of burnt-out samples stands above them.
const LIGHT_BITS: u32 = 24;
const LIGHT: u32 = (1 << LIGHT_BITS) - 1;

pub(super) fn shrink(coded: &Coded, encoding: &Encoding, factor: usize) -> Raster {
    let width = coded.width.div_ceil(factor);
    let height = coded.height.div_ceil(factor);
    // Of tall blocks every other row tells enough, in half the time.
    let every = if factor >= 4 { 2 } else { 1 };
    let tables = encoding.curves.map(|curve| table(&curve));
    let mut pixels = Vec::with_capacity(width * height);
    let mut clipped = Vec::with_capacity(width * height);
    let mut sums = vec![[0u32; 3]; width];
    for rows in coded.rgb.chunks(coded.width * 3 * factor) {
        sums.fill([0; 3]);
        for row in rows.chunks_exact(coded.width * 3).step_by(every) {
            for (block, sum) in row.chunks(3 * factor).zip(&mut sums) {
                let [mut red, mut green, mut blue] = *sum;
                for pixel in block.chunks_exact(3) {
                    // Cannot wrap: 13 x 13 samples of 16 bits stay below 24 bits, 169 below 8.
                    red = red.wrapping_add(tables[0][usize::from(pixel[0])]);
                    green = green.wrapping_add(tables[1][usize::from(pixel[1])]);
                    blue = blue.wrapping_add(tables[2][usize::from(pixel[2])]);
                }
                *sum = [red, green, blue];
            }
        }
        let tall = (rows.len() / (coded.width * 3)).div_ceil(every);
        for (x, sum) in sums.iter().enumerate() {
            let wide = factor.min(coded.width - x * factor);
            let count = (wide * tall) as f32;
            let scale = 1.0 / (65_535.0 * count);
            let [r, g, b] = sum.map(|sum| (sum & LIGHT) as f32);
            pixels.push(encoding.to_srgb.map(|row| (row[0] * r + row[1] * g + row[2] * b) * scale));
            clipped.push(sum.iter().any(|sum| (sum >> LIGHT_BITS) as f32 > 0.5 * count));
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

/// Linear light in 16 bits, and a count of one above it where the value is burnt out.
fn table(curve: &[f32; 256]) -> [u32; 256] {
    let mut table = [0; 256];
    for (coded, (entry, linear)) in (0u8..=255).zip(table.iter_mut().zip(curve)) {
        *entry = (linear.clamp(0.0, 1.0) * 65_535.0).round() as u32
            + (u32::from(coded >= CLIPPED) << LIGHT_BITS);
    }
    table
}
