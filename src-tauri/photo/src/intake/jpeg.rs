//! JPEG.

use image::metadata::Orientation;
use zune_core::bytestream::ZCursor;
use zune_core::colorspace::ColorSpace;
use zune_core::options::DecoderOptions;
use zune_jpeg::JpegDecoder;
use zune_jpeg::errors::DecodeErrors;

use super::error::PictureError;
use super::format::Format;
use super::{Coded, limits};

pub(super) fn decode(bytes: &[u8]) -> Result<Coded, PictureError> {
    // The size is checked here and not by the decoder, so that the refusal is worded alike for all
    // formats.
    let options = DecoderOptions::default()
        .set_strict_mode(false)
        .set_max_width(usize::MAX)
        .set_max_height(usize::MAX)
        .jpeg_set_out_colorspace(ColorSpace::RGB);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    decoder.decode_headers().map_err(|e| damaged(&e))?;
    let (width, height) = decoder.dimensions().ok_or(PictureError::CutShort(Format::Jpeg))?;
    limits::check(width as u64, height as u64)?;
    match decoder.input_colorspace() {
        Some(ColorSpace::YCbCr | ColorSpace::RGB) => {}
        Some(ColorSpace::Luma) => return Err(PictureError::Colourless),
        other => {
            return Err(PictureError::NotReadHere {
                format: Format::Jpeg,
                detail: format!("colours coded as {other:?}"),
            });
        }
    }
    // The decoder paints what is missing grey and calls it done, so whether the file is whole has
    // to be asked first.
    if !ends_properly(bytes) || too_few_bytes(bytes.len(), width, height) {
        return Err(PictureError::CutShort(Format::Jpeg));
    }
    let orientation = decoder
        .exif()
        .and_then(|exif| Orientation::from_exif_chunk(exif))
        .unwrap_or(Orientation::NoTransforms);
    let icc = decoder.icc_profile();
    let rgb = decoder.decode().map_err(|e| damaged(&e))?;
    if rgb.len() != width * height * 3 {
        return Err(PictureError::Damaged {
            format: Format::Jpeg,
            detail: format!("{} samples for {width} x {height} pixels", rgb.len()),
        });
    }
    Ok(Coded { width, height, rgb, orientation, icc })
}

fn damaged(error: &DecodeErrors) -> PictureError {
    match error {
        DecodeErrors::ExhaustedData => PictureError::CutShort(Format::Jpeg),
        _ => PictureError::Damaged { format: Format::Jpeg, detail: error.to_string() },
    }
}

/// Every 8 x 8 block takes at least one bit (ISO/IEC 10918-1, annexes F and G), so a short file
/// with a vast header is known without decoding it.
const fn too_few_bytes(bytes: usize, width: usize, height: usize) -> bool {
    bytes < width * height / 512
}

/// Whether the end-of-image marker of the main picture is there. Phones hang other things behind
/// it and thumbnails carry their own inside a segment, so the segments have to be walked
/// (ISO/IEC 10918-1, B.1.1).
fn ends_properly(bytes: &[u8]) -> bool {
    const END: u8 = 0xd9;
    const SCAN: u8 = 0xda;
    let mut at = 2;
    while let Some(&[first, marker]) = bytes.get(at..at + 2) {
        if first != 0xff {
            return false;
        }
        match marker {
            0xff => at += 1,
            END => return true,
            // Stand alone, without a length.
            0x01 | 0xd0..=0xd8 => at += 2,
            _ => {
                let Some(&[high, low]) = bytes.get(at + 2..at + 4) else { return false };
                at += 2 + usize::from(u16::from_be_bytes([high, low]));
                if marker == SCAN {
                    match next_marker(bytes, at) {
                        Some(next) => at = next,
                        None => return false,
                    }
                }
            }
        }
    }
    false
}

/// Where the coded data that starts at `from` ends: the next marker that is not a restart.
fn next_marker(bytes: &[u8], from: usize) -> Option<usize> {
    let data = bytes.get(from..)?;
    data.windows(2)
        .position(|pair| pair[0] == 0xff && !matches!(pair[1], 0x00 | 0xd0..=0xd7 | 0xff))
        .map(|offset| from + offset)
}
