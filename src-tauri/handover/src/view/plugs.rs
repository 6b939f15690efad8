//! The plugs side by side, by cylinder number.

use borespoke_core::record::{CylinderRow, Lab, PlugFigures};
use palette::{FromColor, Srgb};
use serde::Serialize;

use super::number;
use crate::data::HandoverData;

/// One plug.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Plug {
    /// The maker's number of its cylinder.
    pub cylinder: u8,
    /// Where its picture stands in the list of pictures.
    pub picture: Option<usize>,
    /// Why there is no picture.
    pub no_picture: String,
    /// What was said about it.
    pub words: String,
    /// Its colour figures.
    pub colour: Option<Colour>,
    /// The picture in words.
    pub alt: String,
}

/// Colour figures of a plug.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Colour {
    /// "L* 62 a* 4 b* 14".
    pub lab: String,
    /// "spread 5".
    pub spread: String,
    /// The colour as a patch, in sRGB.
    pub patch: [u8; 3],
    /// Whether it may be compared with another.
    pub balanced: bool,
}

/// What became of the pictures: for each row of the table, where its picture stands or why not.
pub type Shown = Vec<Result<usize, String>>;

/// The plugs; empty when no plug was looked at and there is no picture.
pub fn plugs(data: &HandoverData, shown: &Shown) -> Vec<Plug> {
    let seen = |row: &CylinderRow| !row.signs.is_empty() || row.figures.is_some();
    if data.pictures.is_empty() && !data.table.rows.iter().any(seen) {
        return Vec::new();
    }
    data.table.rows.iter().zip(shown).map(|(row, shown)| plug(row, shown)).collect()
}

fn plug(row: &CylinderRow, shown: &Result<usize, String>) -> Plug {
    let words =
        if row.signs.is_empty() { "nothing said".to_owned() } else { number::listed(&row.signs) };
    Plug {
        cylinder: row.cylinder.number(),
        picture: shown.as_ref().ok().copied(),
        no_picture: shown.as_ref().err().cloned().unwrap_or_default(),
        alt: format!("Spark plug of cylinder {}: {words}.", row.cylinder),
        words,
        colour: row.figures.as_ref().map(colour),
    }
}

fn colour(figures: &PlugFigures) -> Colour {
    let Lab { l, a, b } = figures.colour;
    let figure = |value| number::fixed(value, 0);
    Colour {
        lab: format!("L* {} a* {} b* {}", figure(l), figure(a), figure(b)),
        spread: format!("spread {}", number::fixed(figures.spread, 1)),
        patch: patch(figures.colour),
        balanced: figures.balanced,
    }
}

/// The nearest sRGB colour (IEC 61966-2-1).
fn patch(Lab { l, a, b }: Lab) -> [u8; 3] {
    #[expect(clippy::cast_possible_truncation, reason = "a colour patch has 8 bits a channel")]
    let lab = palette::Lab::<palette::white_point::D65, f32>::new(l as f32, a as f32, b as f32);
    let rgb: Srgb<u8> = Srgb::<f32>::from_color(lab).into_format();
    [rgb.red, rgb.green, rgb.blue]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Outside check. Source: IEC 61966-2-1 with ISO/CIE 11664-4: white is L* 100, black L* 0 and
    /// middle grey sRGB 119 is L* 50 within half a step.
    #[test]
    fn neutral_colours_come_out_neutral() {
        let grey = |l| patch(Lab { l, a: 0.0, b: 0.0 });
        assert_eq!(grey(100.0), [255, 255, 255]);
        assert_eq!(grey(0.0), [0, 0, 0]);
        assert_eq!(grey(50.0), [119, 119, 119]);
    }
}
