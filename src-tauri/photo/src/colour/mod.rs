//! Colour arithmetic: linear light to CIELAB, and how far two colours are apart.
//!
//! The sRGB curve and CIELAB come from the `palette` library, the constants do not: its D65 white is
//! rounded from another table than the white of IEC 61966-2-1, and CIELAB of saturated colours comes
//! out up to 0.02 away from the standard's. CIEDE2000 is our own; its file says why.
//! `tests/colour_checks.rs` has the outside tables.

mod ciede2000;
pub(crate) mod matrix;

use borespoke_core::record::Lab;
use palette::white_point::{Any, WhitePoint};
use palette::{FromColor, Xyz};

/// From linear light on sRGB primaries to XYZ under D65 (IEC 61966-2-1, its rounded digits).
pub(crate) const SRGB_TO_XYZ: matrix::Matrix =
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];

/// The sRGB curve (IEC 61966-2-1) for one coded value, 0 to 1.
pub(crate) fn srgb_to_linear(coded: f64) -> f64 {
    palette::Srgb::new(coded, coded, coded).into_linear().red
}

/// D65 by its chromaticity x = 0.3127, y = 0.3290 (IEC 61966-2-1), Y = 1.
struct StandardD65;

impl WhitePoint<f64> for StandardD65 {
    fn get_xyz() -> Xyz<Any, f64> {
        Xyz::new(0.3127 / 0.3290, 1.0, (1.0 - 0.3127 - 0.3290) / 0.3290)
    }
}

/// CIELAB under D65 of linear light on sRGB primaries, white at 1.
#[must_use]
pub fn lab_of_linear(rgb: [f64; 3]) -> Lab {
    let [x, y, z] = matrix::times(&SRGB_TO_XYZ, rgb);
    let lab = palette::Lab::<StandardD65, f64>::from_color(Xyz::new(x, y, z));
    Lab { l: lab.l, a: lab.a, b: lab.b }
}

/// CIELAB under D65 of 8-bit sRGB.
#[must_use]
pub fn lab_of_srgb8(rgb: [u8; 3]) -> Lab {
    lab_of_linear(rgb.map(|coded| srgb_to_linear(f64::from(coded) / 255.0)))
}

/// CIEDE2000 (ISO/CIE 11664-6) between two colours, with all weights 1.
#[must_use]
pub fn difference(one: Lab, other: Lab) -> f64 {
    ciede2000::difference(one, other)
}
