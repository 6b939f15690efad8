//! PNG, as a screenshot or a converted picture comes.

use std::io::Cursor;

use image::codecs::png::PngDecoder;
use image::error::ImageError;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, Limits};

use super::error::PictureError;
use super::format::Format;
use super::{Coded, limits};

pub(super) fn decode(bytes: &[u8]) -> Result<Coded, PictureError> {
    // The first chunk holds the size at a fixed place (ISO/IEC 15948, 11.2.1). Read here so that a
    // vast header is refused before the decoder sees it.
    let (Some(width), Some(height)) = (field(bytes, 16), field(bytes, 20)) else {
        return Err(PictureError::CutShort(Format::Png));
    };
    limits::check(u64::from(width), u64::from(height))?;
    let mut most = Limits::default();
    most.max_alloc = Some(limits::MOST_PIXELS * 8);
    let mut decoder = PngDecoder::with_limits(Cursor::new(bytes), most).map_err(|e| damaged(&e))?;
    if !decoder.color_type().has_color() {
        return Err(PictureError::Colourless);
    }
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let icc = decoder.icc_profile().unwrap_or(None);
    let picture = DynamicImage::from_decoder(decoder).map_err(|e| damaged(&e))?.into_rgb8();
    Ok(Coded {
        width: picture.width() as usize,
        height: picture.height() as usize,
        rgb: picture.into_raw(),
        orientation,
        icc,
    })
}

fn field(bytes: &[u8], at: usize) -> Option<u32> {
    bytes.get(at..at + 4)?.try_into().ok().map(u32::from_be_bytes)
}

fn damaged(error: &ImageError) -> PictureError {
    let detail = error.to_string();
    // The png crate words it so wherever the data stops early; it has no kind of its own for it.
    if detail.contains("end of file") || detail.contains("eof") || detail.contains("EOF") {
        PictureError::CutShort(Format::Png)
    } else {
        PictureError::Damaged { format: Format::Png, detail }
    }
}
