//! Smooth noise from a hash, the same everywhere and each time.

/// A number from -1 to 1 for a place on a grid.
fn at(seed: u32, x: i32, y: i32) -> f32 {
    let mut h = seed
        .wrapping_mul(0x9e37_79b1)
        .wrapping_add((x as u32).wrapping_mul(0x85eb_ca6b))
        .wrapping_add((y as u32).wrapping_mul(0xc2b2_ae35));
    h ^= h >> 15;
    h = h.wrapping_mul(0x2c1b_3c6d);
    h ^= h >> 12;
    h = h.wrapping_mul(0x297a_2d39);
    h ^= h >> 15;
    h as f32 / u32::MAX as f32 * 2.0 - 1.0
}

/// Noise of grain size 1, smooth between the grains.
#[must_use]
pub fn smooth(seed: u32, x: f32, y: f32) -> f32 {
    let (x0, y0) = (x.floor(), y.floor());
    let ease = |t: f32| t * t * (3.0 - 2.0 * t);
    let (tx, ty) = (ease(x - x0), ease(y - y0));
    let (i, j) = (x0 as i32, y0 as i32);
    let top = at(seed, i, j) * (1.0 - tx) + at(seed, i + 1, j) * tx;
    let bottom = at(seed, i, j + 1) * (1.0 - tx) + at(seed, i + 1, j + 1) * tx;
    top * (1.0 - ty) + bottom * ty
}

/// Three octaves.
#[must_use]
pub fn rough(seed: u32, x: f32, y: f32) -> f32 {
    smooth(seed, x, y) * 0.55
        + smooth(seed ^ 0x51, x * 2.1, y * 2.1) * 0.3
        + smooth(seed ^ 0xa7, x * 4.3, y * 4.3) * 0.15
}
