//! HEIC, as phones write it: HEVC pictures, mostly a grid of tiles.

use heifer::Options;
use heifer::heifer_isobmff::HeifFile;
use image::metadata::Orientation;

use super::error::PictureError;
use super::format::Format;
use super::{Coded, limits};

pub(super) fn decode(bytes: &[u8]) -> Result<Coded, PictureError> {
    let file = HeifFile::parse(bytes).map_err(|e| damaged(&e))?;
    let size = file.image_size(file.primary_id).map_err(|e| damaged(&e))?;
    let (width, height) = size.ok_or_else(|| damaged(&"the main picture has no size"))?;
    limits::check(u64::from(width), u64::from(height))?;
    let icc = file.icc_profile(file.primary_id).map_err(|e| damaged(&e))?.map(<[u8]>::to_vec);
    let options = Options { max_threads: 2, max_pixels: limits::MOST_PIXELS };
    // Without an embedded profile the colours are described by code points, which the library
    // knows how to turn into sRGB.
    let decoded = if icc.is_some() {
        heifer::decode_rgba8(bytes, &options)
    } else {
        heifer::decode_srgb_rgba8(bytes, &options)
    };
    let picture = decoded.map_err(|error| match error {
        heifer::Error::Unsupported(detail) => {
            PictureError::NotReadHere { format: Format::Heic, detail: detail.clone() }
        }
        other => damaged(&other),
    })?;
    limits::check(u64::from(picture.width), u64::from(picture.height))?;
    Ok(Coded {
        width: picture.width as usize,
        height: picture.height as usize,
        rgb: picture.into_rgb8(),
        // The turn is a property of the picture and is applied; the copy of it in EXIF must not be
        // applied again (ISO/IEC 23008-12, 6.5.10).
        orientation: Orientation::NoTransforms,
        icc,
    })
}

fn damaged(error: &dyn std::fmt::Display) -> PictureError {
    PictureError::Damaged { format: Format::Heic, detail: error.to_string() }
}
