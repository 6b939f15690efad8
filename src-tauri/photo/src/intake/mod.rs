//! From the bytes of a file to an upright picture in linear light, small enough to work on.
//!
//! Sizes are checked against [`limits`] before a pixel is allocated. The full-size pixels live
//! only inside [`open`]: they are averaged down in linear light, because averages of coded values
//! are too dark wherever the picture has texture.

mod error;
mod format;
mod heic;
mod jpeg;
pub mod limits;
mod png;
mod profile;
mod raster;
mod shrink;

pub use error::PictureError;
pub use format::Format;
pub use profile::ProfileUsed;
pub(crate) use raster::Raster;

use image::metadata::Orientation;

/// A decoded file: 8-bit samples as coded, three a pixel, not turned upright yet.
struct Coded {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
    orientation: Orientation,
    icc: Option<Vec<u8>>,
}

/// Decodes, checks, linearises, scales down and turns upright.
pub(crate) fn open(bytes: &[u8]) -> Result<Raster, PictureError> {
    let format = Format::of(bytes)?;
    let mut coded = match format {
        Format::Jpeg => jpeg::decode(bytes),
        Format::Png => png::decode(bytes),
        Format::Heic => heic::decode(bytes),
    }?;
    let encoding = profile::read(coded.icc.as_deref(), &mut coded.rgb);
    let factor = shrink::factor(coded.width, coded.height);
    let mut raster = shrink::shrink(&coded, &encoding, factor);
    raster.turn_upright(coded.orientation);
    raster.format = format;
    raster.profile = encoding.used;
    Ok(raster)
}
