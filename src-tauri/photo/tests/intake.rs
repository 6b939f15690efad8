//! What comes in from a phone, and what must be refused.

use std::io::Cursor;

use borespoke_photo::colour::{difference, lab_of_srgb8};
use borespoke_photo::{Format, Hints, PictureError, PlugPicture, ProfileUsed, Region, read_plug};
use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder, Rgb, RgbImage};

/// Grey, with a tan disc left of the middle and above it.
fn drawn() -> RgbImage {
    RgbImage::from_fn(320, 200, |x, y| {
        let away = (f64::from(x) - 90.0).hypot(f64::from(y) - 60.0);
        if away < 45.0 { Rgb([210, 180, 140]) } else { Rgb([90, 90, 90]) }
    })
}

const DISC: Region = Region::Circle { x: 90.0, y: 60.0, radius: 35.0 };

fn jpeg(picture: &RgbImage, exif: Option<Vec<u8>>, icc: Option<Vec<u8>>) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = JpegEncoder::new_with_quality(&mut bytes, 95);
    if let Some(exif) = exif {
        encoder.set_exif_metadata(exif).unwrap();
    }
    if let Some(icc) = icc {
        encoder.set_icc_profile(icc).unwrap();
    }
    encoder.encode_image(picture).unwrap();
    bytes
}

fn png(picture: &RgbImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    PngEncoder::new(&mut bytes)
        .write_image(picture, picture.width(), picture.height(), ExtendedColorType::Rgb8)
        .unwrap();
    bytes
}

/// EXIF with nothing but the orientation (tag 274), big endian.
fn exif(orientation: u8) -> Vec<u8> {
    let mut bytes = b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
    bytes.extend([orientation, 0, 0, 0, 0, 0, 0]);
    bytes
}

fn read(bytes: &[u8], region: Region) -> Result<PlugPicture, PictureError> {
    read_plug(bytes, &Hints { insulator: Some(region), reference: None })
}

fn is_tan(picture: &PlugPicture, within: f64) {
    let away = difference(picture.colour, lab_of_srgb8([210, 180, 140]));
    assert!(away < within, "{away} from tan: {:?}", picture.colour);
}

#[test]
fn jpeg_and_png_give_the_colour_that_was_drawn() {
    let picture = read(&jpeg(&drawn(), None, None), DISC).unwrap();
    assert_eq!(picture.format, Format::Jpeg);
    assert_eq!(picture.profile, ProfileUsed::AssumedSrgb);
    assert_eq!((picture.width, picture.height), (320, 200));
    is_tan(&picture, 0.6);
    let picture = read(&png(&drawn()), DISC).unwrap();
    assert_eq!(picture.format, Format::Png);
    is_tan(&picture, 0.01);
    assert!(picture.spread < 0.01);
}

/// Each of the eight EXIF orientations: the drawing is stored turned by the image library's own
/// operations, and has to come out upright.
#[test]
fn every_orientation_comes_out_upright() {
    use image::imageops::{flip_horizontal, flip_vertical, rotate90, rotate180, rotate270};
    let upright = drawn();
    // How the upright picture is stored so that the tag's instruction undoes it.
    let stored = [
        upright.clone(),
        flip_horizontal(&upright),
        rotate180(&upright),
        flip_vertical(&upright),
        rotate270(&flip_horizontal(&upright)),
        rotate270(&upright),
        rotate90(&flip_horizontal(&upright)),
        rotate90(&upright),
    ];
    for (picture, orientation) in stored.iter().zip(1u8..) {
        let read = read(&jpeg(picture, Some(exif(orientation)), None), DISC).unwrap();
        assert_eq!((read.width, read.height), (320, 200), "orientation {orientation}");
        is_tan(&read, 0.6);
    }
}

#[test]
fn display_p3_is_respected() {
    // The Display P3 values of sRGB (210, 180, 140), from colour-science 0.4.7:
    // RGB_to_RGB(sRGB, Display P3) with its curves gives 205.14, 181.11, 146.16.
    let p3 = RgbImage::from_pixel(200, 200, Rgb([205, 181, 146]));
    let profile = include_bytes!("data/display-p3.icc").to_vec();
    let whole = Region::Circle { x: 100.0, y: 100.0, radius: 80.0 };
    let picture = read(&jpeg(&p3, None, Some(profile)), whole).unwrap();
    assert_eq!(picture.profile, ProfileUsed::Embedded);
    is_tan(&picture, 0.6);
    let without = read(&jpeg(&p3, None, None), whole).unwrap();
    assert!(difference(without.colour, picture.colour) > 2.0);
}

#[test]
fn a_broken_profile_is_said_and_taken_as_srgb() {
    let picture = read(&jpeg(&drawn(), None, Some(vec![7; 400])), DISC).unwrap();
    assert_eq!(picture.profile, ProfileUsed::UnreadableTakenAsSrgb);
    is_tan(&picture, 0.6);
}

/// HEIC written by another library (libheif with x265, through pillow-heif 1.8.1; see
/// `data/make_fixtures.py`), upright and turned by its `irot` property, with a Display P3 profile.
#[test]
fn heic_gives_the_colour_that_was_drawn() {
    let picture = read(include_bytes!("data/disc.heic"), DISC).unwrap();
    assert_eq!(picture.format, Format::Heic);
    assert_eq!((picture.width, picture.height), (320, 200));
    is_tan(&picture, 1.0);
    let picture = read(include_bytes!("data/disc-p3.heic"), DISC).unwrap();
    assert_eq!(picture.profile, ProfileUsed::Embedded);
    is_tan(&picture, 1.0);
}

#[test]
fn a_larger_picture_is_scaled_down_and_says_its_full_size() {
    let large = image::imageops::resize(&drawn(), 3200, 2000, image::imageops::FilterType::Nearest);
    let region = Region::Circle { x: 900.0, y: 600.0, radius: 350.0 };
    let picture = read(&jpeg(&large, None, None), region).unwrap();
    assert_eq!((picture.width, picture.height), (3200, 2000));
    is_tan(&picture, 0.6);
}

#[test]
fn averages_are_taken_in_linear_light() {
    // A fine chessboard of black and white sends back half the light: L* 76.07 (CIE 15), where an
    // average of coded values would give 53.4.
    let board =
        RgbImage::from_fn(2000, 2000, |x, y| Rgb([if (x + y) % 2 == 0 { 255 } else { 0 }; 3]));
    let region = Region::Circle { x: 1000.0, y: 1000.0, radius: 800.0 };
    let picture = read(&png(&board), region).unwrap();
    assert!((picture.colour.l - 76.07).abs() < 0.02, "{:?}", picture.colour);
}

fn refused(bytes: &[u8]) -> PictureError {
    read(bytes, DISC).unwrap_err()
}

#[test]
fn nothing_and_no_picture_are_refused() {
    assert_eq!(refused(b""), PictureError::Empty);
    assert_eq!(refused(b"RIFF\x24\0\0\0WAVEfmt "), PictureError::NotAPicture);
    assert_eq!(refused(&[0xff]), PictureError::NotAPicture);
    assert_eq!(
        refused(b"").to_string(),
        "picture: given 0 bytes, allowed is a JPEG, PNG or HEIC file"
    );
}

#[test]
fn a_vast_header_is_refused_from_the_header_alone() {
    // PNG: 100,000 x 100,000 in a file of 33 bytes.
    let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
    bytes.extend(100_000u32.to_be_bytes());
    bytes.extend(100_000u32.to_be_bytes());
    bytes.extend([8, 2, 0, 0, 0, 0, 0, 0, 0]);
    let refusal = refused(&bytes);
    assert_eq!(refusal, PictureError::TooLarge { width: 100_000, height: 100_000 });
    assert_eq!(
        refusal.to_string(),
        "picture size: given 100000 x 100000 pixels, allowed up to 16000 along a side and 64 million in all"
    );
}

/// Patches the size in a JPEG's frame header (ISO/IEC 10918-1, B.2.2).
fn with_size(mut bytes: Vec<u8>, width: u16, height: u16) -> Vec<u8> {
    let at = bytes.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
    bytes[at + 5..at + 7].copy_from_slice(&height.to_be_bytes());
    bytes[at + 7..at + 9].copy_from_slice(&width.to_be_bytes());
    bytes
}

#[test]
fn a_picture_of_20000_pixels_and_one_that_lies_about_its_size_are_refused() {
    let good = jpeg(&drawn(), None, None);
    let refusal = refused(&with_size(good.clone(), 20_000, 20_000));
    assert_eq!(refusal, PictureError::TooLarge { width: 20_000, height: 20_000 });
    let refusal = refused(&with_size(good.clone(), 7_900, 7_900));
    assert_eq!(refusal, PictureError::CutShort(Format::Jpeg));
    let refusal = refused(&with_size(good, 20, 20));
    assert_eq!(refusal, PictureError::TooSmall { width: 20, height: 20 });
}

#[test]
fn a_file_cut_short_is_refused_in_every_format() {
    let heic = include_bytes!("data/disc.heic").to_vec();
    for whole in [jpeg(&drawn(), None, None), png(&drawn()), heic] {
        for share in [0.3, 0.6, 0.9] {
            let cut = &whole[..(whole.len() as f64 * share) as usize];
            let refusal = refused(cut);
            assert!(
                matches!(refusal, PictureError::CutShort(_) | PictureError::Damaged { .. }),
                "{share}: {refusal}"
            );
        }
    }
    let whole = jpeg(&drawn(), None, None);
    assert_eq!(refused(&whole[..whole.len() - 40]), PictureError::CutShort(Format::Jpeg));
}

#[test]
fn what_a_phone_hangs_behind_the_picture_does_no_harm() {
    let mut bytes = jpeg(&drawn(), None, None);
    bytes.extend(b"a short film or a depth map");
    is_tan(&read(&bytes, DISC).unwrap(), 0.6);
}

#[test]
fn shades_of_grey_are_refused() {
    let grey = image::imageops::grayscale(&drawn());
    let mut bytes = Vec::new();
    JpegEncoder::new(&mut bytes).encode_image(&grey).unwrap();
    assert_eq!(refused(&bytes), PictureError::Colourless);
    let mut bytes = Cursor::new(Vec::new());
    grey.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    assert_eq!(refused(bytes.get_ref()), PictureError::Colourless);
}

#[test]
fn a_region_outside_the_picture_is_refused() {
    let bytes = jpeg(&drawn(), None, None);
    let far = Region::Circle { x: 900.0, y: 60.0, radius: 35.0 };
    assert_eq!(
        read(&bytes, far).unwrap_err().to_string(),
        "insulator: given 70 x 70 pixels at 865, 25, the picture is 320 x 200 pixels"
    );
    let nothing = Region::Circle { x: f64::NAN, y: 60.0, radius: 35.0 };
    assert!(read(&bytes, nothing).is_err());
}
