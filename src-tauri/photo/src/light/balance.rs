//! White balance and exposure from a neutral reference.

use borespoke_core::record::Lab;

use crate::colour::matrix::{self, Matrix};
use crate::colour::{SRGB_TO_XYZ, lab_of_linear};

/// Cone responses of the Bianco and Schettini chromatic adaptation (S. Bianco, R. Schettini, "Two
/// new von Kries based chromatic adaptation transforms found by numerical optimization", Color
/// Research and Application 35(3), 2010, 184-192). Chosen over Bradford because it brings the chart
/// back to 3 CIEDE2000 or less under all of A, D50, D65, F2, F11 and LED-B3, where Bradford leaves
/// 3.3 under F2; see the test `white_balance`.
const CONES: Matrix =
    [[0.8752, 0.2787, -0.1539], [-0.8904, 1.8709, 0.0195], [-0.0061, 0.0162, 0.9899]];

/// Takes a picture's colours to what they would be in daylight (D65) at the right exposure.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Balance {
    /// In linear light on sRGB primaries.
    matrix: Matrix,
}

impl Balance {
    /// Leaves colours as they are.
    pub const NONE: Self = Self { matrix: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]] };

    /// The balance that makes a reference, seen as `seen`, neutral with luminance factor
    /// `reflectance`.
    pub fn against(seen: [f64; 3], reflectance: f64) -> Self {
        let to_cones = matrix::product(&CONES, &SRGB_TO_XYZ);
        let cones_seen = matrix::times(&to_cones, seen);
        let cones_wanted = matrix::times(&to_cones, [reflectance; 3]);
        let mut scaled = to_cones;
        for (row, (wanted, seen)) in scaled.iter_mut().zip(cones_wanted.into_iter().zip(cones_seen))
        {
            // A black reference tells nothing; the floor keeps the result finite.
            let gain = wanted / seen.max(1e-6);
            *row = row.map(|value| value * gain);
        }
        Self { matrix: matrix::product(&matrix::inverse(&to_cones), &scaled) }
    }

    /// The balanced colour in linear light.
    pub fn apply(&self, linear: [f64; 3]) -> [f64; 3] {
        matrix::times(&self.matrix, linear)
    }

    /// The balanced colour.
    pub fn lab(&self, linear: [f64; 3]) -> Lab {
        lab_of_linear(self.apply(linear))
    }
}
