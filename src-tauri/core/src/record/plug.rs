//! What a plug looks like: in a mechanic's words, and in figures from a picture.

use std::fmt;

use serde::{Deserialize, Serialize};

/// What a plug is said to look like. Sources for what each is taken to mean stand with the causes
/// in `judgement`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PlugSign {
    /// Light tan to grey, dry, electrodes whole.
    Normal,
    /// Dry, fluffy black carbon.
    DryCarbon,
    /// Wet and black with oil.
    OilWet,
    /// Wet with fuel.
    FuelWet,
    /// Dead white or blistered insulator: ran too hot.
    BlisteredWhite,
    /// A shiny glaze on the insulator.
    Glazed,
    /// The gap bridged by a deposit.
    Bridged,
    /// Powdery ash, red, brown, yellow or white.
    Ash,
    /// Melted electrodes.
    Melted,
    /// Cracked or broken insulator nose.
    Cracked,
    /// Specks of metal on the insulator.
    MetalSpecks,
    /// Electrodes worn round, gap wide.
    Worn,
}

impl PlugSign {
    /// Every sign.
    pub const ALL: [Self; 12] = [
        Self::Normal,
        Self::DryCarbon,
        Self::OilWet,
        Self::FuelWet,
        Self::BlisteredWhite,
        Self::Glazed,
        Self::Bridged,
        Self::Ash,
        Self::Melted,
        Self::Cracked,
        Self::MetalSpecks,
        Self::Worn,
    ];

    /// The name, as written on screens and in the handover.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Normal => "normal",
            Self::DryCarbon => "dry soot",
            Self::OilWet => "wet with oil",
            Self::FuelWet => "wet with fuel",
            Self::BlisteredWhite => "burnt white",
            Self::Glazed => "glazed",
            Self::Bridged => "gap bridged",
            Self::Ash => "ash",
            Self::Melted => "melted",
            Self::Cracked => "cracked",
            Self::MetalSpecks => "metal specks",
            Self::Worn => "worn",
        }
    }
}

impl fmt::Display for PlugSign {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A colour in CIELAB (ISO/CIE 11664-4), D65.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Lab {
    /// Lightness, 0 black to 100 white.
    pub l: f64,
    /// Green (negative) to red (positive).
    pub a: f64,
    /// Blue (negative) to yellow (positive).
    pub b: f64,
}

/// Colour figures of the insulator in one picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PlugFigures {
    /// Mean colour of the insulator.
    pub colour: Lab,
    /// Root mean square distance of its pixels from the mean, in CIELAB units.
    pub spread: f64,
    /// Whether the picture was white-balanced against a neutral reference, so that it may be
    /// compared with another.
    pub balanced: bool,
}
