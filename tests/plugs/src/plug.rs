//! A spark plug seen end-on: what each part returns of the light that falls on it.
//!
//! Sizes in millimetres, of a plug with a 14 mm thread (ISO 28741 names the size; the inner
//! measures are common practice, no source). Height is along the plug, 0 at the rim, up to the eye.

use borespoke_core::record::Lab;

use crate::noise::{rough, smooth};

/// What lies on the insulator.
#[derive(Debug, Clone, Copy)]
pub struct Deposit {
    /// Its colour in daylight.
    pub colour: Lab,
    /// How uneven it is, as a share of its brightness.
    pub mottle: f32,
    /// Share of it under patches of black soot.
    pub soot: f32,
    /// Wetness: darkens, and shines back the lamp in blotches. 0 to 1.
    pub wet: f32,
}

/// A plug, and how it is held.
#[derive(Debug, Clone, Copy)]
pub struct Plug {
    /// Centre of the rim in the picture, in pixels.
    pub x: f32,
    /// Centre of the rim in the picture, in pixels.
    pub y: f32,
    /// Pixels per millimetre.
    pub scale: f32,
    /// Tilt away from the eye, in radians.
    pub tilt: f32,
    /// Direction in the picture in which the near end leans, in radians.
    pub lean: f32,
    /// Direction from which the ground strap reaches in, in radians.
    pub strap: f32,
    /// Radius of the insulator's end face.
    pub nose: f32,
    /// Inner radius of the rim.
    pub bore: f32,
    /// How bright the bare metal is, 0 to 1.
    pub metal: f32,
    /// How far a film of oil and heat has turned the metal brown, 0 to 1.
    pub film: f32,
    /// What lies on the insulator.
    pub deposit: Deposit,
    /// For the grain.
    pub seed: u32,
}

/// Outer radius of the rim.
pub const RIM: f32 = 7.0;
/// Radius of the centre electrode.
const ELECTRODE: f32 = 1.25;
/// Half the width of the ground strap.
const STRAP: f32 = 1.3;
/// Height of the insulator's end face.
pub const FACE: f32 = -0.4;
/// How far from the centre anything of the plug may be seen.
pub const REACH: f32 = 19.0;

/// What a place returns: `diffuse` of the light, and the lamp itself by `shine`.
#[derive(Debug, Clone, Copy)]
pub struct Surface {
    /// Reflectance, linear sRGB.
    pub diffuse: [f32; 3],
    /// Mirror-like share, without colour.
    pub shine: f32,
}

impl Surface {
    fn cover(&mut self, over: Self, cover: f32) {
        let cover = cover.clamp(0.0, 1.0);
        for (under, over) in self.diffuse.iter_mut().zip(over.diffuse) {
            *under += (over - *under) * cover;
        }
        self.shine += (over.shine - self.shine) * cover;
    }

    fn grey(value: f32) -> Self {
        Self { diffuse: [value; 3], shine: 0.0 }
    }
}

/// 0 below `low`, 1 above `high`, smooth between.
fn step(low: f32, high: f32, value: f32) -> f32 {
    let t = ((value - low) / (high - low)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// A plug with the sines of its angles taken once, for drawing.
pub struct Posed<'a> {
    plug: &'a Plug,
    tilt: (f32, f32),
    lean: (f32, f32),
    strap: (f32, f32),
}

impl Plug {
    /// Ready to be drawn.
    #[must_use]
    pub fn posed(&self) -> Posed<'_> {
        Posed {
            plug: self,
            tilt: self.tilt.sin_cos(),
            lean: self.lean.sin_cos(),
            strap: self.strap.sin_cos(),
        }
    }

    /// The insulator's outline as an ellipse in pixels: centre, half axes, turn of the long axis.
    #[must_use]
    pub fn nose_ellipse(&self) -> (f64, f64, f64, f64, f64) {
        let shift = FACE * self.tilt.sin() * self.scale;
        let long = self.nose * self.scale;
        (
            f64::from(self.x + shift * self.lean.cos()),
            f64::from(self.y + shift * self.lean.sin()),
            f64::from(long),
            f64::from(long * self.tilt.cos()),
            f64::from(self.lean) + std::f64::consts::FRAC_PI_2,
        )
    }
}

impl std::ops::Deref for Posed<'_> {
    type Target = Plug;
    fn deref(&self) -> &Plug {
        self.plug
    }
}

impl Posed<'_> {
    /// A place in the picture as seen on the plane at height `z`: millimetres along and across the
    /// lean.
    fn on_plane(&self, px: f32, py: f32, z: f32) -> (f32, f32) {
        let (dx, dy) = ((px - self.x) / self.scale, (py - self.y) / self.scale);
        let (sin, cos) = self.lean;
        let along = dx * cos + dy * sin - z * self.tilt.0;
        let across = dy * cos - dx * sin;
        (along / self.tilt.1, across)
    }

    fn radius(&self, px: f32, py: f32, z: f32) -> f32 {
        let (u, v) = self.on_plane(px, py, z);
        u.hypot(v)
    }

    /// How much of the pixel lies inside radius `r` at height `z`.
    fn disc(&self, px: f32, py: f32, z: f32, r: f32) -> f32 {
        ((r - self.radius(px, py, z)) * self.scale + 0.5).clamp(0.0, 1.0)
    }

    /// How much of the pixel lies on a round body from height `low` to `high`.
    fn body(&self, px: f32, py: f32, low: f32, high: f32, r: f32) -> f32 {
        let (u, v) = self.on_plane(px, py, 0.0);
        if v.abs() >= r {
            return 0.0;
        }
        let (sin, cos) = self.tilt;
        let (along, half) = (u * cos, (r * r - v * v).sqrt() * cos);
        let inside = (along - (low * sin - half)).min(high * sin + half - along);
        (inside * self.scale + 0.5).clamp(0.0, 1.0)
    }

    /// Lays the plug over what is behind it, and the shadow it throws.
    pub fn draw(&self, px: f32, py: f32, under: &mut Surface) {
        let out = self.radius(px, py, -14.0);
        if out > 16.0 && self.radius(px, py, 0.0) > RIM + 0.5 && self.radius(px, py, 2.2) > 8.0 {
            return;
        }
        let shade = 1.0 - 0.45 * (1.0 - step(9.5, 16.0, out));
        under.diffuse = under.diffuse.map(|v| v * shade);
        if self.radius(px, py, 0.0) > self.bore + 0.2 {
            self.shell(px, py, under);
        } else {
            self.down_the_bore(px, py, under);
        }
        if self.radius(px, py, 0.0) < self.bore + 1.0 || self.radius(px, py, -7.0) < self.bore {
            self.insulator(px, py, under);
        }
        self.strap(px, py, under);
    }

    /// Bare metal that returns this much, under its film.
    fn steel(&self, value: f32) -> [f32; 3] {
        [1.0 + 0.03 * self.film, 1.0, 1.0 - 0.1 * self.film].map(|tint| tint * value)
    }

    fn shell(&self, px: f32, py: f32, under: &mut Surface) {
        // Hexagon and seat, well below the rim.
        let (u, v) = self.on_plane(px, py, -15.0);
        let turn = std::f32::consts::FRAC_PI_3;
        let sector = (v.atan2(u) + 10.0 * turn) % turn - turn / 2.0;
        let flat = u.hypot(v) * sector.cos();
        let brushed = 1.0 + 0.15 * smooth(self.seed ^ 3, u * 0.7, v * 6.0);
        let hex = Surface { diffuse: self.steel(0.28 * self.metal * brushed), shine: 0.0 };
        under.cover(hex, (9.6 - flat) * self.scale);
        let seat = self.radius(px, py, -13.0);
        let ring = 0.32 * self.metal * (1.0 - 0.4 * step(8.4, 9.2, seat));
        under.cover(Surface::grey(ring), self.disc(px, py, -13.0, 9.2));
        // The thread.
        let (along, _) = self.on_plane(px, py, 0.0);
        let groove = 0.6 + 0.4 * (along * self.tilt.1 / self.tilt.0.max(0.05) * 5.0).sin();
        under.cover(Surface::grey(0.2 * self.metal * groove), self.body(px, py, -12.0, 0.0, RIM));
        // The rim, turned on a lathe: bright towards the lamp and away from it.
        let (u, v) = self.on_plane(px, py, 0.0);
        let r = u.hypot(v);
        let glint = (v.atan2(u) - self.plug.strap * 0.5).cos().abs().powi(8);
        let lathe = 1.0 + 0.12 * smooth(self.seed ^ 5, r * 9.0, 0.0);
        let rim = Surface {
            diffuse: self.steel(0.42 * self.metal * lathe * (1.0 + 0.1 * rough(self.seed, u, v))),
            shine: 0.22 * self.metal * glint,
        };
        under.cover(rim, self.disc(px, py, 0.0, RIM));
        self.down_the_bore(px, py, under);
    }

    fn down_the_bore(&self, px: f32, py: f32, under: &mut Surface) {
        let r = self.radius(px, py, 0.0);
        let wall = 0.012 + 0.03 * step(self.bore * 0.55, self.bore, r) * self.metal;
        under.cover(Surface::grey(wall), self.disc(px, py, 0.0, self.bore));
    }

    fn insulator(&self, px: f32, py: f32, under: &mut Surface) {
        // Its cone, from the depth up; the light fails with the depth. Only what shows through
        // the bore shows.
        let through = self.disc(px, py, 0.0, self.bore);
        for level in 0..5u8 {
            let share = f32::from(level) / 4.0;
            let z = -6.0 + (FACE + 6.0) * share;
            let r = self.bore * 0.8 * (1.0 - share) + self.nose * share;
            let (u, v) = self.on_plane(px, py, z);
            let mut cone = self.covered(u, v);
            let lit = 0.06 + 0.5 * share * share;
            cone.diffuse = cone.diffuse.map(|value| value * lit);
            cone.shine *= lit * 0.5;
            under.cover(cone, self.disc(px, py, z, r) * through);
        }
        let (u, v) = self.on_plane(px, py, FACE);
        let mut face = self.covered(u, v);
        // The strap keeps some light off; the rest of the face is lit alike.
        let (along, across) = self.in_strap_direction(px - self.scale * 0.5, py, FACE);
        let under_strap = step(STRAP + 0.9, STRAP - 0.4, across.abs()) * step(-2.2, -0.8, along);
        face.diffuse = face.diffuse.map(|value| value * (1.0 - 0.35 * under_strap));
        under.cover(face, self.disc(px, py, FACE, self.nose));
        // The centre electrode stands out of it.
        let dark = 1.0 - 0.8 * self.deposit.soot.max(self.deposit.wet * 0.6);
        let side = Surface::grey(0.12 * self.metal * dark);
        under.cover(side, self.body(px, py, FACE, FACE + 1.2, ELECTRODE));
        let (u, v) = self.on_plane(px, py, FACE + 1.2);
        let top = 0.25 * self.metal * dark * (1.0 + 0.2 * rough(self.seed ^ 9, u * 2.0, v * 2.0));
        under.cover(
            Surface { diffuse: [top; 3], shine: 0.05 * self.metal },
            self.disc(px, py, FACE + 1.2, ELECTRODE),
        );
    }

    /// The insulator's surface at a place of its own plane.
    fn covered(&self, u: f32, v: f32) -> Surface {
        let Deposit { colour, mottle, soot, wet } = self.deposit;
        let grain = 1.0 + mottle * rough(self.seed ^ 0x11, u * 1.3, v * 1.3);
        let damp = 1.0 - 0.35 * wet;
        let mut diffuse = linear(colour).map(|value| (value * grain * damp).max(0.003));
        if soot > 0.0 {
            // `rough` is roughly bell shaped with deviation 0.3.
            let level = 0.9 - 1.8 * soot;
            let patch = step(level - 0.08, level + 0.08, rough(self.seed ^ 0x1d, u * 0.8, v * 0.8));
            diffuse = diffuse.map(|value| value * (1.0 - patch) + 0.012 * patch);
        }
        let blotch = step(0.28, 0.5, rough(self.seed ^ 0x29, u * 1.1, v * 1.1));
        Surface { diffuse, shine: wet * 0.45 * blotch }
    }

    fn in_strap_direction(&self, px: f32, py: f32, z: f32) -> (f32, f32) {
        let (u, v) = self.on_plane(px, py, z);
        let (sin, cos) = self.strap;
        (u * cos + v * sin, v * cos - u * sin)
    }

    fn strap(&self, px: f32, py: f32, under: &mut Surface) {
        for (z, bright) in [(0.6, 0.15), (1.4, 0.2), (2.2, 0.34)] {
            let (along, across) = self.in_strap_direction(px, py, z);
            let inside = (STRAP - across.abs()).min(along + 1.4).min(6.8 - along);
            let brushed = 1.0 + 0.12 * smooth(self.seed ^ 0x0b, along * 0.8, across * 8.0);
            let dark = 1.0 - 0.7 * self.deposit.soot.max(self.deposit.wet * 0.5);
            under.cover(
                Surface {
                    diffuse: [bright * self.metal * brushed * dark; 3],
                    shine: 0.08 * self.metal * dark,
                },
                inside * self.scale + 0.5,
            );
        }
    }
}

/// Linear sRGB of a colour in daylight.
#[must_use]
pub fn linear(colour: Lab) -> [f32; 3] {
    let inverse =
        |t: f64| if t > 6.0 / 29.0 { t * t * t } else { (t - 4.0 / 29.0) * 108.0 / 841.0 };
    let y = (colour.l + 16.0) / 116.0;
    let x = 0.950_456 * inverse(y + colour.a / 500.0);
    let z = 1.089_058 * inverse(y - colour.b / 200.0);
    let y = inverse(y);
    [
        3.2406 * x - 1.5372 * y - 0.4986 * z,
        -0.9689 * x + 1.8758 * y + 0.0415 * z,
        0.0557 * x - 0.2040 * y + 1.0570 * z,
    ]
    .map(|value| value as f32)
}
