//! Words written into a picture.

use ab_glyph::{Font, FontRef, ScaleFont, point};
use image::{Rgb, RgbImage};

/// Writes `text` with its top left corner at `x`, `y`, on a dark strip so that it reads anywhere.
///
/// # Panics
/// When the bundled fonts lack a usable one, which a build either has or has not.
pub fn write(picture: &mut RgbImage, text: &str, x: u32, y: u32, size: f32) {
    let font = typst_assets::fonts()
        .find_map(|bytes| FontRef::try_from_slice(bytes).ok())
        .expect("a bundled font");
    let font = font.as_scaled(size);
    let mut pen = x as f32 + size * 0.3;
    let base = y as f32 + font.ascent();
    let width: f32 = text.chars().map(|c| font.h_advance(font.glyph_id(c))).sum();
    for row in y..(y + font.height().ceil() as u32).min(picture.height()) {
        for column in x..(x + (width + size * 0.6).ceil() as u32).min(picture.width()) {
            picture.put_pixel(column, row, Rgb([24, 24, 24]));
        }
    }
    for c in text.chars() {
        let glyph = font.scaled_glyph(c);
        let advance = font.h_advance(glyph.id);
        let glyph = glyph.id.with_scale_and_position(size, point(pen, base));
        if let Some(outline) = font.font.outline_glyph(glyph) {
            let bounds = outline.px_bounds();
            outline.draw(|gx, gy, cover| {
                let (px, py) = (gx as f32 + bounds.min.x, gy as f32 + bounds.min.y);
                if px >= 0.0
                    && py >= 0.0
                    && let Some(pixel) = picture.get_pixel_mut_checked(px as u32, py as u32)
                {
                    let over = |v: u8| f32::from(v) * (1.0 - cover) + 240.0 * cover;
                    pixel.0 = pixel.0.map(|v| over(v).round() as u8);
                }
            });
        }
        pen += advance;
    }
}
