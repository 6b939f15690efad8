//! Sets of pictures, one for each cylinder of an engine, drawn at random from a seed.

use std::f32::consts::TAU;

use borespoke_core::record::Lab;
use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use crate::camera::Camera;
use crate::light::{Lighting, lamp, through_phone};
use crate::plug::{Deposit, Plug};
use crate::scene::{Bench, Scene, Sheet};

/// What a set is made to show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// All cylinders alike.
    Uniform,
    /// One cylinder's colour is off.
    OneOdd,
    /// Alike, but two lamps of different colour light each picture.
    MixedLight,
}

/// A set with its truth.
#[derive(Debug, Clone)]
pub struct Set {
    /// What it is made to show.
    pub kind: Kind,
    /// One scene a cylinder.
    pub scenes: Vec<Scene>,
    /// The odd cylinder's place.
    pub odd: Option<usize>,
    /// How far its colour is from the others' in CIEDE2000.
    pub difference: f64,
}

/// Set number `number`: every third has an odd one, every third is uniform, every third is in
/// mixed light.
#[must_use]
pub fn set(number: u64) -> Set {
    let mut random = Pcg64Mcg::seed_from_u64(0x0b0e_5904 + number * 7919);
    let kind = match number % 3 {
        0 => Kind::OneOdd,
        1 => Kind::Uniform,
        _ => Kind::MixedLight,
    };
    let count = random.random_range(4..=8usize);
    let common = deposit(&mut random);
    let odd = (kind == Kind::OneOdd).then(|| random.random_range(0..count));
    let (odd_deposit, difference) = odd_one(&mut random, common);
    let base = Base::draw(&mut random, kind);
    let scenes = (0..count)
        .map(|place| {
            let mut own = if odd == Some(place) { odd_deposit } else { common };
            // Like plugs are alike within what the eye hardly sees.
            own.colour.l += between(&mut random, -0.6, 0.6);
            own.colour.b += between(&mut random, -0.4, 0.4);
            base.scene(&mut random, own)
        })
        .collect();
    Set { kind, scenes, odd, difference: if odd.is_some() { difference } else { 0.0 } }
}

fn between(random: &mut impl Rng, low: f64, high: f64) -> f64 {
    random.random_range(low..high)
}

fn near(random: &mut impl Rng, low: f32, high: f32) -> f32 {
    random.random_range(low..high)
}

/// A colour plugs have: tan to grey, chalk, ash, soot, oil.
fn deposit(random: &mut impl Rng) -> Deposit {
    let (l, a, b) = match random.random_range(0..6u8) {
        0 | 1 => ((55.0, 75.0), (2.0, 8.0), (10.0, 24.0)),
        2 => ((50.0, 70.0), (-1.0, 2.0), (0.0, 8.0)),
        3 => ((78.0, 88.0), (-1.0, 1.0), (0.0, 6.0)),
        4 => ((40.0, 58.0), (8.0, 16.0), (14.0, 28.0)),
        _ => ((13.0, 24.0), (-0.5, 2.5), (0.0, 5.0)),
    };
    let mut pick = |(low, high)| between(random, low, high);
    let colour = Lab { l: pick(l), a: pick(a), b: pick(b) };
    let dark = colour.l < 30.0;
    Deposit {
        colour,
        mottle: near(random, 0.03, 0.15),
        soot: if dark { 0.3 } else { near(random, 0.0, 0.15) },
        wet: if dark && random.random_bool(0.4) { near(random, 0.4, 0.9) } else { 0.0 },
    }
}

/// A deposit whose colour is 6 to 25 away in CIEDE2000.
fn odd_one(random: &mut impl Rng, common: Deposit) -> (Deposit, f64) {
    loop {
        let other = deposit(random);
        let towards = between(random, 0.2, 1.0);
        let mix = |from: f64, to: f64| from + (to - from) * towards;
        let colour = Lab {
            l: mix(common.colour.l, other.colour.l),
            a: mix(common.colour.a, other.colour.a),
            b: mix(common.colour.b, other.colour.b),
        };
        let difference = borespoke_photo::colour::difference(common.colour, colour);
        if (6.0..25.0).contains(&difference) {
            let wet = if colour.l < 30.0 { other.wet } else { 0.0 };
            return (Deposit { colour, soot: common.soot, wet, ..other }, difference);
        }
    }
}

/// What the pictures of a set have in common: one afternoon, one bench, one phone.
struct Base {
    bench: Bench,
    kelvin: f64,
    second: Option<f64>,
    corrected: f32,
    white: f32,
    from: f32,
    reflectance: f32,
    blur: f32,
    noise: f32,
    quality: u8,
    nose: f32,
    bore: f32,
    metal: f32,
}

impl Base {
    fn draw(random: &mut impl Rng, kind: Kind) -> Self {
        let kelvin = between(random, 2700.0, 7500.0);
        // A lamp and a window: 1800 K apart at least as reciprocal megakelvins go (120 mired).
        let second = (kind == Kind::MixedLight).then(|| {
            let mired = 1.0e6 / kelvin;
            1.0e6 / if mired > 230.0 { mired - 150.0 } else { mired + 150.0 }
        });
        Self {
            bench: Bench::ALL[random.random_range(0..Bench::ALL.len())],
            kelvin,
            second,
            corrected: near(random, 0.2, 0.9),
            white: near(random, 0.55, 0.85),
            from: near(random, 0.0, TAU),
            reflectance: if random.random_bool(0.7) { 0.18 } else { 0.85 },
            blur: near(random, 0.4, 1.2),
            noise: near(random, 0.002, 0.012),
            quality: random.random_range(75..=95),
            nose: near(random, 2.7, 3.4),
            bore: near(random, 4.4, 5.0),
            metal: near(random, 0.45, 1.0),
        }
    }

    fn scene(&self, random: &mut impl Rng, deposit: Deposit) -> Scene {
        let (width, height) = (800usize, 600usize);
        let scale = near(random, 13.0, 20.0);
        let left = random.random_bool(0.5);
        let plug_x = if left { near(random, 500.0, 560.0) } else { near(random, 240.0, 300.0) };
        let sheet_x = if left { near(random, 110.0, 130.0) } else { near(random, 670.0, 690.0) };
        let dark = deposit.colour.l < 30.0;
        // The phone decides anew for each picture.
        let corrected = (self.corrected + near(random, -0.1, 0.1)).clamp(0.0, 1.0);
        let exposure = self.white * near(random, 0.85, 1.12);
        let seen = |kelvin: f64| through_phone(lamp(kelvin), corrected).map(|v| v * exposure);
        Scene {
            width,
            height,
            bench: self.bench,
            scale: 6.0,
            plugs: vec![Plug {
                x: plug_x,
                y: near(random, 250.0, 350.0),
                scale,
                tilt: near(random, 0.0, 0.5),
                lean: near(random, 0.0, TAU),
                strap: near(random, 0.0, TAU),
                nose: self.nose,
                bore: self.bore,
                metal: self.metal * if dark { 0.5 } else { 1.0 },
                film: near(random, 0.0, 1.0),
                deposit,
                seed: random.random(),
            }],
            sheet: Some(Sheet {
                x: sheet_x,
                y: near(random, 250.0, 350.0),
                half_width: near(random, 65.0, 95.0),
                half_height: near(random, 110.0, 170.0),
                turn: near(random, -0.15, 0.15),
                reflectance: self.reflectance,
            }),
            lighting: Lighting {
                colour: seen(self.kelvin),
                second: self.second.map(seen),
                from: self.from + near(random, -0.3, 0.3),
                falloff: near(random, 0.0, 0.12),
            },
            camera: Camera { blur: self.blur, noise: self.noise, quality: self.quality },
            seed: random.random(),
        }
    }
}
