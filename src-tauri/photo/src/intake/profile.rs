//! What the coded values mean: the embedded colour profile.

use moxcms::{ColorProfile, DataColorSpace, Layout, ToneReprCurve, TransformOptions};
use serde::{Deserialize, Serialize};

/// Which colour space the file's values were taken to be in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ProfileUsed {
    /// The embedded profile.
    Embedded,
    /// None embedded: sRGB, as the web and the phones take it.
    AssumedSrgb,
    /// One is embedded that cannot be read: sRGB all the same. Worth a word to the user.
    UnreadableTakenAsSrgb,
}

/// How to get from coded values to linear light on sRGB primaries.
pub(super) struct Encoding {
    /// For each channel, linear light of each of the 256 coded values.
    pub curves: [[f32; 256]; 3],
    /// From the file's primaries to those of sRGB, both in linear light.
    pub to_srgb: [[f32; 3]; 3],
    pub used: ProfileUsed,
}

/// Reads the profile. One with tables in place of curves has to be applied to the full-size
/// pixels, which is done in `rgb`.
pub(super) fn read(icc: Option<&[u8]>, rgb: &mut [u8]) -> Encoding {
    let Some(icc) = icc else { return srgb(ProfileUsed::AssumedSrgb) };
    let embedded = ColorProfile::new_from_slice(icc)
        .ok()
        .filter(|profile| profile.color_space == DataColorSpace::Rgb);
    embedded
        .and_then(|profile| curves_and_matrix(&profile).or_else(|| tables(&profile, rgb)))
        .unwrap_or_else(|| srgb(ProfileUsed::UnreadableTakenAsSrgb))
}

fn srgb(used: ProfileUsed) -> Encoding {
    // IEC 61966-2-1.
    let mut curve = [0.0; 256];
    for (coded, linear) in curve.iter_mut().enumerate() {
        *linear = crate::colour::srgb_to_linear(coded as f64 / 255.0) as f32;
    }
    let to_srgb = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    Encoding { curves: [curve; 3], to_srgb, used }
}

/// The common case (all sRGB and Display P3 files): a curve a channel and one matrix. Both ends
/// are relative to D50, so the adaptation to D65 is already in the product.
fn curves_and_matrix(profile: &ColorProfile) -> Option<Encoding> {
    let has_tables = profile.lut_a_to_b_perceptual.is_some()
        || profile.lut_a_to_b_colorimetric.is_some()
        || profile.lut_a_to_b_saturation.is_some();
    if has_tables {
        return None;
    }
    let curves = [
        curve(profile.red_trc.as_ref()?)?,
        curve(profile.green_trc.as_ref()?)?,
        curve(profile.blue_trc.as_ref()?)?,
    ];
    let matrix = profile.transform_matrix(&ColorProfile::new_srgb()).v;
    let to_srgb = matrix.map(|row| row.map(|value| value as f32));
    let usable = to_srgb.iter().flatten().all(|value| value.is_finite() && value.abs() < 8.0)
        && to_srgb.iter().any(|row| row.iter().any(|value| value.abs() > 0.1));
    usable.then_some(Encoding { curves, to_srgb, used: ProfileUsed::Embedded })
}

fn curve(tone: &ToneReprCurve) -> Option<[f32; 256]> {
    let evaluator = tone.make_linear_evaluator().ok()?;
    let mut curve = [0.0; 256];
    for (coded, linear) in curve.iter_mut().enumerate() {
        *linear = evaluator.evaluate_value(coded as f32 / 255.0);
    }
    curve.iter().all(|value| value.is_finite() && (-0.01..=1.01).contains(value)).then_some(curve)
}

/// Samples that are converted at a time: the library does not write over its input.
const STRIP: usize = 3 * 4096;

fn tables(profile: &ColorProfile, rgb: &mut [u8]) -> Option<Encoding> {
    let transform = profile
        .create_transform_8bit(
            Layout::Rgb,
            &ColorProfile::new_srgb(),
            Layout::Rgb,
            TransformOptions::default(),
        )
        .ok()?;
    let mut out = vec![0; STRIP];
    for strip in rgb.chunks_mut(STRIP) {
        let out = &mut out[..strip.len()];
        transform.transform(strip, out).ok()?;
        strip.copy_from_slice(out);
    }
    Some(srgb(ProfileUsed::Embedded))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::lab_of_linear;

    /// 200 random Display P3 values against colour-science 0.4.7; the profile is written by hand
    /// from the standard (both in `tests/data/make_fixtures.py`). A profile keeps its numbers to
    /// 1/65536, which leaves a hundredth or two in CIEDE2000.
    #[test]
    fn display_p3_to_lab_gives_what_a_reference_library_gives() {
        let fixture: serde_json::Value =
            serde_json::from_str(include_str!("../../tests/data/conversions.json")).unwrap();
        let profile = include_bytes!("../../tests/data/display-p3.icc");
        let encoding = read(Some(profile), &mut []);
        assert_eq!(encoding.used, ProfileUsed::Embedded);
        let wanted = fixture["Display P3"].as_array().unwrap();
        assert_eq!(wanted.len(), 200);
        for (coded, wanted) in fixture["coded"].as_array().unwrap().iter().zip(wanted) {
            let linear: Vec<f32> =
                (0..3).map(|i| encoding.curves[i][coded[i].as_u64().unwrap() as usize]).collect();
            let rgb = encoding
                .to_srgb
                .map(|row| f64::from(row[0] * linear[0] + row[1] * linear[1] + row[2] * linear[2]));
            let given = lab_of_linear(rgb);
            let value = |i: usize| wanted[i].as_f64().unwrap();
            let wanted = borespoke_core::record::Lab { l: value(0), a: value(1), b: value(2) };
            let apart = crate::colour::difference(given, wanted);
            assert!(apart < 0.03, "{coded}: given {given:?}, wanted {wanted:?}, {apart} apart");
        }
    }
}
