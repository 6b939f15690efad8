//! The plugs of an engine side by side in one picture: in cylinder order, balanced alike, at one
//! scale, with the cylinder's number and a few words under each.
//!
//! Made from pixels alone, so nothing of a file's EXIF (place, time, phone) goes along.

use ab_glyph::{Font, FontRef, PxScaleFont, ScaleFont, point};
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder, Rgb, RgbImage};
use thiserror::Error;

use crate::figures::NOSE_OF_BORE;
use crate::intake::{self, PictureError, Raster};
use crate::light::{Balance, Light};
use crate::picture::PlugPicture;

/// One plug of the strip.
#[derive(Debug, Clone, Copy)]
pub struct StripPlug<'a> {
    /// The picture's file.
    pub bytes: &'a [u8],
    /// What was read from it.
    pub picture: &'a PlugPicture,
    /// The cylinder's number.
    pub cylinder: u8,
    /// A few words: what it looks like.
    pub words: &'a str,
}

/// Why there is no strip.
#[derive(Debug, Error)]
pub enum StripError {
    /// No plugs.
    #[error("strip: given no plugs, needs one or more")]
    Empty,
    /// A picture cannot be read.
    #[error("cylinder {cylinder}: {error}")]
    Picture {
        /// The cylinder.
        cylinder: u8,
        /// Why.
        error: PictureError,
    },
}

/// Side of one plug's square, in pixels.
const CELL: usize = 320;
/// Height of the words under it.
const CAPTION: usize = 76;
/// Gap between the cells.
const GAP: usize = 8;
/// Radius of the bore in the strip, in pixels: the rim and some of the shell show.
const BORE: f64 = 84.0;

const INK: [u8; 3] = [240, 240, 240];
const GROUND: [u8; 3] = [24, 24, 24];

/// Draws the strip as a PNG.
///
/// # Errors
/// [`StripError`] when there are no plugs or a picture cannot be read again.
pub fn strip(plugs: &[StripPlug<'_>]) -> Result<Vec<u8>, StripError> {
    if plugs.is_empty() {
        return Err(StripError::Empty);
    }
    let width = plugs.len() * (CELL + GAP) - GAP;
    let mut canvas = RgbImage::from_pixel(width as u32, (CELL + CAPTION) as u32, Rgb(GROUND));
    for (index, plug) in plugs.iter().enumerate() {
        let raster = intake::open(plug.bytes)
            .map_err(|error| StripError::Picture { cylinder: plug.cylinder, error })?;
        let left = index * (CELL + GAP);
        draw_plug(&mut canvas, left, &raster, plug.picture);
        caption(&mut canvas, left, plug);
    }
    let mut png = Vec::new();
    PngEncoder::new(&mut png)
        .write_image(&canvas, canvas.width(), canvas.height(), ExtendedColorType::Rgb8)
        .map_err(|error| StripError::Picture {
            cylinder: 0,
            error: PictureError::Damaged { format: crate::Format::Png, detail: error.to_string() },
        })?;
    Ok(png)
}

fn draw_plug(canvas: &mut RgbImage, left: usize, raster: &Raster, picture: &PlugPicture) {
    let balance = match picture.light {
        Light::Reference { reference, seen, .. } => {
            Balance::against(seen, reference.neutral.reflectance())
        }
        Light::Unknown => Balance::NONE,
    };
    let middle = |[left, top, right, bottom]: [f64; 4]| {
        (
            f64::midpoint(left, right),
            f64::midpoint(top, bottom),
            (right - left).max(bottom - top) / 2.0,
        )
    };
    let (x, y, bore) = if let Some(rim) = picture.rim {
        middle(rim.bounds())
    } else {
        let (x, y, nose) = middle(picture.insulator.bounds());
        (x, y, nose / NOSE_OF_BORE)
    };
    let factor = raster.factor as f64;
    let step = bore / BORE / factor;
    for row in 0..CELL {
        for column in 0..CELL {
            let from = |at: usize, centre: f64| {
                (at as f64 + 0.5 - CELL as f64 / 2.0) * step + centre / factor
            };
            let linear = sample(raster, from(column, x), from(row, y));
            let coded = linear.map_or(GROUND, |linear| coded(balance.apply(linear)));
            canvas.put_pixel((left + column) as u32, row as u32, Rgb(coded));
        }
    }
}

/// Between the pixels; nothing outside the picture.
fn sample(raster: &Raster, x: f64, y: f64) -> Option<[f64; 3]> {
    let (x, y) = (x - 0.5, y - 0.5);
    if x < 0.0 || y < 0.0 {
        return None;
    }
    let (i, j) = (x as usize, y as usize);
    if i + 1 >= raster.width || j + 1 >= raster.height {
        return None;
    }
    let (tx, ty) = (x - i as f64, y - j as f64);
    let at = |i: usize, j: usize| raster.pixels[j * raster.width + i].map(f64::from);
    let corners = [at(i, j), at(i + 1, j), at(i, j + 1), at(i + 1, j + 1)];
    let weights = [(1.0 - tx) * (1.0 - ty), tx * (1.0 - ty), (1.0 - tx) * ty, tx * ty];
    Some([0, 1, 2].map(|channel| {
        corners.iter().zip(weights).map(|(corner, weight)| corner[channel] * weight).sum()
    }))
}

/// 8-bit sRGB.
fn coded(linear: [f64; 3]) -> [u8; 3] {
    let [r, g, b] = linear.map(|value| value.clamp(0.0, 1.0));
    let coded = palette::Srgb::from_linear(palette::LinSrgb::new(r, g, b));
    [coded.red, coded.green, coded.blue].map(|value: f64| (value * 255.0).round() as u8)
}

fn caption(canvas: &mut RgbImage, left: usize, plug: &StripPlug<'_>) {
    let Some(font) = typst_assets::fonts().find_map(|bytes| FontRef::try_from_slice(bytes).ok())
    else {
        return;
    };
    let number = plug.cylinder.to_string();
    let large = font.as_scaled(56.0);
    let used = write(canvas, &large, &number, left as f32 + 10.0, CELL as f32 + 8.0);
    let room = (left + CELL) as f32 - used - 16.0;
    // Words too long for the cell are made smaller, not cut.
    let full = 30.0;
    let needed = width(&font.as_scaled(full), plug.words);
    let small = font.as_scaled(if needed > room { full * room / needed } else { full });
    let top = CELL as f32 + (CAPTION as f32 - small.height()) / 2.0;
    write(canvas, &small, plug.words, used + 12.0, top);
}

fn width(font: &PxScaleFont<&FontRef<'_>>, text: &str) -> f32 {
    text.chars().map(|c| font.h_advance(font.glyph_id(c))).sum()
}

/// Writes and tells where the pen stands.
fn write(
    canvas: &mut RgbImage,
    font: &PxScaleFont<&FontRef<'_>>,
    text: &str,
    x: f32,
    top: f32,
) -> f32 {
    let mut pen = x;
    for c in text.chars() {
        let id = font.glyph_id(c);
        let glyph = id.with_scale_and_position(font.scale(), point(pen, top + font.ascent()));
        if let Some(outline) = font.font.outline_glyph(glyph) {
            let bounds = outline.px_bounds();
            outline.draw(|gx, gy, cover| {
                let (px, py) = (gx as f32 + bounds.min.x, gy as f32 + bounds.min.y);
                if px >= 0.0
                    && py >= 0.0
                    && let Some(pixel) = canvas.get_pixel_mut_checked(px as u32, py as u32)
                {
                    for (value, ink) in pixel.0.iter_mut().zip(INK) {
                        let mixed = f32::from(*value) * (1.0 - cover) + f32::from(ink) * cover;
                        *value = mixed.round() as u8;
                    }
                }
            });
        }
        pen += font.h_advance(id);
    }
    pen
}
