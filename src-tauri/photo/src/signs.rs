//! What a look may mean: how well a picture fits each published description.
//!
//! The descriptions are words. No source gives numbers for them, so each bound here is ours, and
//! the result is a likelihood to be weighed with everything else, never a verdict.

use borespoke_core::record::PlugSign;
use serde::Serialize;

use crate::picture::PlugPicture;

/// How well a picture fits a description.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Likelihood {
    /// The description.
    pub sign: PlugSign,
    /// How likely such a picture is on a plug that looks so, against the picture that fits best:
    /// 0 to 1.
    pub likelihood: f64,
    /// Where the description comes from.
    pub source: &'static str,
}

/// No description is ruled out by a picture alone.
const LEAST: f64 = 0.02;

/// The descriptions that colour and shine can speak for or against. What shows in shape only
/// (bridged, melted, cracked, worn, metal specks) is left out: a colour says nothing about it. Empty
/// when the picture's light is not known or the picture has a fault.
#[must_use]
pub fn likely_signs(picture: &PlugPicture) -> Vec<Likelihood> {
    if picture.light.neutral().is_none() || !picture.faults.is_empty() {
        return Vec::new();
    }
    let look = Look::of(picture);
    let of = |sign, fit: f64, source| Likelihood { sign, likelihood: fit.max(LEAST), source };
    vec![
        of(
            PlugSign::Normal,
            look.light(44.0, 80.0) * look.tint(3.0, 26.0) * look.red_below(11.0) * look.no_shine(),
            "light tan or gray: TM 5-4210-230-14&P-1 fig. 4; brown to grayish-tan: \
             TM 10-3930-653-14&P; gray, tan or light brown: Lycoming IO-390-D 74-20 table 1",
        ),
        of(
            PlugSign::DryCarbon,
            look.light(0.0, 32.0) * look.tint(0.0, 10.0) * look.no_shine(),
            "black, dry fluffy carbon: TM 10-3930-633-12 table 4-3",
        ),
        of(
            PlugSign::OilWet,
            look.light(0.0, 42.0) * look.shine(),
            "wet, black on insulator, bore, electrodes: TM 10-3930-633-12 table 4-3",
        ),
        of(
            PlugSign::BlisteredWhite,
            look.light(78.0, 101.0) * look.tint(0.0, 9.0),
            "white or light gray insulator: TM 10-3930-653-14&P; dead white or gray: \
             TM 5-4210-230-14&P-1 fig. 7",
        ),
        of(
            PlugSign::Glazed,
            look.light(38.0, 95.0) * look.shine(),
            "fused glazed coating: TM 10-3930-633-12 table 4-3 (lead); glaze if melted: \
             NAVEDTRA 14273 fig. 2-50",
        ),
        of(
            PlugSign::Ash,
            look.light(35.0, 95.0) * look.red_or_yellow() * look.no_shine(),
            "red, brown, yellow or white powder: NAVEDTRA 14273 fig. 2-50",
        ),
    ]
}

/// Soft answers, 0 to 1, to the questions the descriptions ask.
struct Look {
    l: f64,
    chroma: f64,
    a: f64,
    b: f64,
    shine: f64,
    /// How soft the bounds are, in CIELAB units: 3 of our own and the error bar.
    soft: f64,
}

impl Look {
    fn of(picture: &PlugPicture) -> Self {
        let colour = picture.colour;
        Self {
            l: colour.l,
            chroma: colour.a.hypot(colour.b),
            a: colour.a,
            b: colour.b,
            shine: picture.surface.wet + picture.surface.glaze,
            soft: 3f64.hypot(picture.uncertainty),
        }
    }

    fn above(&self, value: f64, bound: f64) -> f64 {
        1.0 / (1.0 + ((bound - value) / self.soft * 2.0).exp())
    }

    fn between(&self, value: f64, low: f64, high: f64) -> f64 {
        self.above(value, low) * (1.0 - self.above(value, high))
    }

    fn light(&self, low: f64, high: f64) -> f64 {
        let low = if low <= 0.0 { 1.0 } else { self.above(self.l, low) };
        low * (1.0 - self.above(self.l, high))
    }

    fn tint(&self, low: f64, high: f64) -> f64 {
        if low <= 0.0 {
            1.0 - self.above(self.chroma, high)
        } else {
            // Grey counts as normal too, but fits less well than tan.
            0.4 + 0.6 * self.between(self.chroma, low, high)
        }
    }

    fn red_below(&self, bound: f64) -> f64 {
        1.0 - self.above(self.a, bound)
    }

    fn red_or_yellow(&self) -> f64 {
        let (red, yellow) = (self.above(self.a, 12.0), self.above(self.b, 26.0));
        1.0 - (1.0 - red) * (1.0 - yellow)
    }

    /// Highlights on a twentieth of the insulator are shine enough.
    fn shine(&self) -> f64 {
        (self.shine / 0.05).min(1.0)
    }

    fn no_shine(&self) -> f64 {
        1.0 - 0.9 * self.shine()
    }
}
