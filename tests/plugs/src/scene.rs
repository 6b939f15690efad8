//! A picture to be taken: plugs on a bench, a reference beside them, in some light.

use image::RgbImage;

use crate::camera::{Camera, Light};
use crate::light::Lighting;
use crate::noise::{rough, smooth};
use crate::plug::{Plug, Posed, REACH, Surface};

/// What the plugs lie on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bench {
    /// A shop rag.
    BlueCloth,
    /// A wooden board.
    Wood,
    /// A steel tray.
    Steel,
    /// Brown card.
    Cardboard,
    /// A rubber mat.
    Rubber,
}

impl Bench {
    /// Every kind.
    pub const ALL: [Self; 5] =
        [Self::BlueCloth, Self::Wood, Self::Steel, Self::Cardboard, Self::Rubber];

    fn at(self, seed: u32, x: f32, y: f32) -> [f32; 3] {
        match self {
            Self::BlueCloth => {
                let weave = 1.0 + 0.12 * ((x * 2.1).sin() * (y * 2.1).sin());
                let fold = 1.0 + 0.35 * smooth(seed, x * 0.05, y * 0.04);
                [0.06, 0.10, 0.22].map(|v| v * weave * fold)
            }
            Self::Wood => {
                let grain = 1.0 + 0.3 * rough(seed, x * 0.04, y * 0.6);
                [0.36, 0.22, 0.11].map(|v| v * grain)
            }
            Self::Steel => {
                let brushed = 1.0
                    + 0.08 * smooth(seed, x * 0.03, y * 3.0)
                    + 0.2 * smooth(seed ^ 2, x * 0.02, y * 0.02);
                [0.33, 0.34, 0.35].map(|v| v * brushed)
            }
            Self::Cardboard => {
                let fibre = 1.0 + 0.06 * rough(seed, x * 0.8, y * 0.8);
                [0.44, 0.31, 0.19].map(|v| v * fibre)
            }
            Self::Rubber => {
                let ribs = 1.0 + 0.3 * (x * 0.9).sin().powi(4) + 0.15 * rough(seed, x, y);
                [0.028, 0.028, 0.030].map(|v| v * ribs)
            }
        }
    }
}

/// A neutral sheet in the picture: centre and half sizes in pixels, turned by `turn`.
#[derive(Debug, Clone, Copy)]
pub struct Sheet {
    /// Centre.
    pub x: f32,
    /// Centre.
    pub y: f32,
    /// Half the width.
    pub half_width: f32,
    /// Half the height.
    pub half_height: f32,
    /// Turned by, in radians.
    pub turn: f32,
    /// Share of light it returns.
    pub reflectance: f32,
}

/// A scene.
#[derive(Debug, Clone)]
pub struct Scene {
    /// Width of the picture, in pixels.
    pub width: usize,
    /// Height of the picture, in pixels.
    pub height: usize,
    /// What the plugs lie on.
    pub bench: Bench,
    /// Pixels per millimetre of the bench.
    pub scale: f32,
    /// The plugs.
    pub plugs: Vec<Plug>,
    /// The neutral sheet.
    pub sheet: Option<Sheet>,
    /// The light.
    pub lighting: Lighting,
    /// The camera.
    pub camera: Camera,
    /// For the grain and the noise.
    pub seed: u32,
}

impl Scene {
    /// Takes the picture.
    #[must_use]
    pub fn render(&self) -> RgbImage {
        let plugs: Vec<Posed<'_>> = self.plugs.iter().map(Plug::posed).collect();
        let mut pixels = Vec::with_capacity(self.width * self.height);
        for row in 0..self.height {
            for column in 0..self.width {
                let (px, py) = (column as f32 + 0.5, row as f32 + 0.5);
                let surface = self.surface(&plugs, px, py);
                let light = self
                    .lighting
                    .at(px / self.width as f32 * 2.0 - 1.0, py / self.height as f32 * 2.0 - 1.0);
                pixels.push([0, 1, 2].map(|i| light[i] * (surface.diffuse[i] + surface.shine)));
            }
        }
        let light = Light { width: self.width, height: self.height, pixels };
        self.camera.expose(light, u64::from(self.seed) << 8)
    }

    /// Takes the picture as a file.
    #[must_use]
    pub fn jpeg(&self) -> Vec<u8> {
        self.camera.jpeg(&self.render())
    }

    fn surface(&self, plugs: &[Posed<'_>], px: f32, py: f32) -> Surface {
        let (x, y) = (px / self.scale, py / self.scale);
        let mut surface = Surface { diffuse: self.bench.at(self.seed, x, y), shine: 0.0 };
        if let Some(sheet) = &self.sheet {
            let (sin, cos) = sheet.turn.sin_cos();
            let (dx, dy) = (px - sheet.x, py - sheet.y);
            let inside = (sheet.half_width - (dx * cos + dy * sin).abs())
                .min(sheet.half_height - (dy * cos - dx * sin).abs());
            let cover = (inside + 0.5).clamp(0.0, 1.0);
            let value =
                sheet.reflectance * (1.0 + 0.012 * rough(self.seed ^ 0x4d, x * 3.0, y * 3.0));
            surface.diffuse = surface.diffuse.map(|v| v + (value - v) * cover);
        }
        for plug in plugs {
            if (px - plug.x).hypot(py - plug.y) < REACH * plug.scale {
                plug.draw(px, py, &mut surface);
            }
        }
        surface
    }
}
