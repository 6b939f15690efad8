//! Makes a plug picture fit for the document: upright, small, and without what the camera wrote
//! beside it. The place a picture was taken stands in its metadata; decoding and encoding anew
//! leaves that behind.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};
use thiserror::Error;

/// Longest edge in the document, in pixels: 300 dpi at 40 mm, the largest a plug is printed.
const EDGE: u32 = 480;
/// JPEG quality; at this size a step up is not seen in print.
const QUALITY: u8 = 86;
/// Longest edge that is decoded at all. Phone cameras reach about 17,000 with a panorama.
const MOST_EDGE: u32 = 18_000;
/// Memory a decoder may take, in bytes: a 100-megapixel picture in 8-bit RGB is 300 MB.
const MOST_MEMORY: u64 = 400 << 20;

/// Why a picture cannot be shown.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PictureFault {
    /// Nothing in the file.
    #[error("the file is empty")]
    Empty,
    /// Neither JPEG nor PNG.
    #[error("not a JPEG or PNG picture")]
    Format,
    /// Starts well and breaks.
    #[error("the picture is damaged or too large")]
    Damaged,
}

/// The picture as it is printed: a JPEG file.
pub fn for_print(bytes: &[u8]) -> Result<Vec<u8>, PictureFault> {
    if bytes.is_empty() {
        return Err(PictureFault::Empty);
    }
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_EDGE);
    limits.max_image_height = Some(MOST_EDGE);
    limits.max_alloc = Some(MOST_MEMORY);
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|_| PictureFault::Format)?;
    if reader.format().is_none() {
        return Err(PictureFault::Format);
    }
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|_| PictureFault::Damaged)?;
    // A broken orientation tag must not cost the picture.
    let orientation = decoder.orientation().ok();
    let mut picture = DynamicImage::from_decoder(decoder).map_err(|_| PictureFault::Damaged)?;
    if picture.width() > EDGE || picture.height() > EDGE {
        picture = picture.thumbnail(EDGE, EDGE);
    }
    if let Some(orientation) = orientation {
        picture.apply_orientation(orientation);
    }
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, QUALITY)
        .encode_image(&on_white(&picture))
        .map_err(|_| PictureFault::Damaged)?;
    Ok(jpeg)
}

/// Lays a picture with holes in it on white; a JPEG has none.
fn on_white(picture: &DynamicImage) -> DynamicImage {
    if !picture.color().has_alpha() {
        return DynamicImage::ImageRgb8(picture.to_rgb8());
    }
    let mut sheet = image::RgbaImage::from_pixel(
        picture.width(),
        picture.height(),
        image::Rgba([255, 255, 255, 255]),
    );
    image::imageops::overlay(&mut sheet, &picture.to_rgba8(), 0, 0);
    DynamicImage::ImageRgb8(DynamicImage::ImageRgba8(sheet).to_rgb8())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = Vec::new();
        DynamicImage::new_rgba8(width, height)
            .write_to(&mut Cursor::new(&mut bytes), image::ImageFormat::Png)
            .unwrap();
        bytes
    }

    #[test]
    fn a_large_picture_comes_out_small_and_keeps_its_shape() {
        let print = image::load_from_memory(&for_print(&png(2400, 1200)).unwrap()).unwrap();
        assert_eq!((print.width(), print.height()), (480, 240));
    }

    #[test]
    fn a_small_picture_is_not_blown_up() {
        let print = image::load_from_memory(&for_print(&png(60, 40)).unwrap()).unwrap();
        assert_eq!((print.width(), print.height()), (60, 40));
    }

    #[test]
    fn what_is_clear_becomes_white_not_black() {
        let print = image::load_from_memory(&for_print(&png(8, 8)).unwrap()).unwrap().to_rgb8();
        assert!(print.get_pixel(4, 4).0.iter().all(|&channel| channel > 250));
    }

    #[test]
    fn a_broken_picture_says_what_is_wrong() {
        assert_eq!(for_print(b""), Err(PictureFault::Empty));
        assert_eq!(for_print(b"RIFF....WAVE"), Err(PictureFault::Format));
        let mut cut = png(200, 200);
        cut.truncate(60);
        assert_eq!(for_print(&cut), Err(PictureFault::Damaged));
    }

    /// The place and the camera are in an APP1 segment of the file (EXIF 2.3, JEITA CP-3451C).
    #[test]
    fn what_the_camera_wrote_beside_the_picture_is_gone() {
        let mut plain = Vec::new();
        JpegEncoder::new(&mut plain).encode_image(&DynamicImage::new_rgb8(8, 8)).unwrap();
        let secret = b"Exif\0\0 51.5007 N 0.1246 W";
        let mut tagged = plain[..2].to_vec();
        tagged.extend([0xff, 0xe1, 0, u8::try_from(secret.len() + 2).unwrap()]);
        tagged.extend(secret);
        tagged.extend(&plain[2..]);
        let print = for_print(&tagged).unwrap();
        assert!(!print.windows(4).any(|four| four == b"Exif"));
    }
}
