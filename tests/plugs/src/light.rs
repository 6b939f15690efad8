//! The light a scene is in.

/// One or two lamps, falling off across the picture.
#[derive(Debug, Clone, Copy)]
pub struct Lighting {
    /// What a white surface returns, linear sRGB.
    pub colour: [f32; 3],
    /// A second lamp, of another colour, from the far side: its colour.
    pub second: Option<[f32; 3]>,
    /// Direction in which the light changes across the picture, in radians.
    pub from: f32,
    /// By how much it changes from one side to the other, as a share.
    pub falloff: f32,
}

impl Lighting {
    /// The light at a place; `x` and `y` from -1 to 1 across the picture.
    #[must_use]
    pub fn at(&self, x: f32, y: f32) -> [f32; 3] {
        let along = x * self.from.cos() + y * self.from.sin();
        let strength = 1.0 + self.falloff * 0.5 * along;
        let mix = f32::midpoint(along * 0.8, 1.0).clamp(0.05, 0.95);
        let colour = match self.second {
            Some(second) => [0, 1, 2].map(|i| self.colour[i] * (1.0 - mix) + second[i] * mix),
            None => self.colour,
        };
        colour.map(|value| value * strength)
    }
}

/// Linear sRGB of a lamp of this colour temperature, relative to daylight, with luminance 1.
///
/// Chromaticity of the black body by the cubic of Kim et al. (US patent 7,024,034; the values are
/// from memory and only have to look like lamps here).
#[must_use]
pub fn lamp(kelvin: f64) -> [f32; 3] {
    let t = kelvin;
    let (t2, t3) = (t * t, t * t * t);
    let x = if t < 4000.0 {
        -0.266_123_9e9 / t3 - 0.234_358_9e6 / t2 + 0.877_695_6e3 / t + 0.179_910
    } else {
        -3.025_846_9e9 / t3 + 2.107_037_9e6 / t2 + 0.222_634_7e3 / t + 0.240_390
    };
    let (x2, x3) = (x * x, x * x * x);
    let y = if t < 2222.0 {
        -1.106_381_4 * x3 - 1.348_110_2 * x2 + 2.185_558_32 * x - 0.202_196_83
    } else if t < 4000.0 {
        -0.954_947_6 * x3 - 1.374_185_93 * x2 + 2.091_370_15 * x - 0.167_488_67
    } else {
        3.081_758 * x3 - 5.873_386_7 * x2 + 3.751_129_97 * x - 0.370_014_83
    };
    let (big_x, big_z) = (x / y, (1.0 - x - y) / y);
    let rgb = [
        3.2406 * big_x - 1.5372 - 0.4986 * big_z,
        -0.9689 * big_x + 1.8758 + 0.0415 * big_z,
        0.0557 * big_x - 0.2040 + 1.0570 * big_z,
    ];
    rgb.map(|value| value.max(0.02) as f32)
}

/// A lamp after the phone's own white balance has taken out the share `corrected` of its tint.
#[must_use]
pub fn through_phone(lamp: [f32; 3], corrected: f32) -> [f32; 3] {
    lamp.map(|value| value.powf(1.0 - corrected))
}
