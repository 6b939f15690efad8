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

#[cfg(test)]
mod tests {
    use borespoke_core::record::Lab;
    use serde_json::Value;

    use super::*;
    use crate::colour::difference;

    fn three(value: &Value) -> [f64; 3] {
        [0, 1, 2].map(|i| value[i].as_f64().unwrap())
    }

    /// Mean CIEDE2000 of a chart's 24 patches under a lamp, balanced on its grey patch alone.
    fn left_over(lamp: &str) -> f64 {
        let fixture: Value =
            serde_json::from_str(include_str!("../../tests/data/charts.json")).unwrap();
        let patches = fixture["linear"][lamp].as_array().unwrap();
        let grey = three(&patches[fixture["grey"].as_u64().unwrap() as usize]);
        let balance = Balance::against(grey, fixture["grey_reflectance"].as_f64().unwrap());
        let sum: f64 = patches
            .iter()
            .zip(fixture["lab"].as_array().unwrap())
            .map(|(patch, lab)| {
                let [l, a, b] = three(lab);
                difference(balance.lab(three(patch)), Lab { l, a, b })
            })
            .sum();
        sum / patches.len() as f64
    }

    /// Spectral reflectances of a chart under published lamps, computed with colour-science 0.4.7
    /// (`tests/data/make_fixtures.py`). The lamps differ in which colours they show at all, so a
    /// grey patch cannot bring all back; 3 is what is asked.
    #[test]
    fn white_balance_brings_the_chart_back_under_seven_lamps() {
        for lamp in ["A", "D50", "D65", "F2", "F11", "LED-B3", "LED-B1"] {
            let left = left_over(lamp);
            println!("{lamp}: {left:.2}");
            assert!(left <= 3.0, "{lamp}: {left}");
        }
    }

    /// A lamp of three narrow colours is beyond a grey card. It stands here so that a change that
    /// helps, or one that makes it worse, is seen.
    #[test]
    fn white_balance_does_not_help_enough_under_a_three_colour_lamp() {
        let left = left_over("LED-RGB1");
        assert!((4.0..7.0).contains(&left), "{left}");
    }

    #[test]
    fn a_black_reference_gives_finite_colours() {
        let lab = Balance::against([0.0; 3], 0.18).lab([0.1, 0.2, 0.3]);
        assert!(lab.l.is_finite() && lab.a.is_finite() && lab.b.is_finite());
    }
}
