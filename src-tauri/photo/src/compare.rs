//! The pictures of one engine against each other.

use borespoke_core::record::Lab;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::colour::difference;
use crate::figures::median;
use crate::picture::PlugPicture;

/// From this CIEDE2000 distance to its fellows on, a plug is called odd. Ours: no source gives
/// numbers.
pub const ODD_FROM: f64 = 4.5;

/// A plug also has to stand out from its fellows' own scatter this many times. Ours.
const TIMES_SCATTER: f64 = 3.0;

/// Two pictures and how far their colours are apart.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Pair {
    /// Place of the one in the list that was given.
    pub one: usize,
    /// Place of the other.
    pub other: usize,
    /// CIEDE2000.
    pub difference: f64,
}

/// A plug that does not look like its fellows.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Odd {
    /// Place in the list that was given.
    pub place: usize,
    /// CIEDE2000 to the middle of the others.
    pub difference: f64,
}

/// Why pictures must not be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error, Serialize, Deserialize)]
#[serde(tag = "why", rename_all = "kebab-case")]
pub enum WhyNot {
    /// There is nothing to compare.
    #[error("a comparison needs two pictures or more")]
    TooFew,
    /// A picture has no known light.
    #[error(
        "picture {} has no neutral reference in it; take it again with a grey card or a sheet of white paper beside the plug",
        .place + 1
    )]
    NoReference {
        /// Place in the list that was given.
        place: usize,
    },
    /// One was taken beside a grey card, another beside paper.
    #[error(
        "picture {} has another kind of neutral reference than picture 1; use the same card or paper for all",
        .place + 1
    )]
    ReferencesDiffer {
        /// The first that differs.
        place: usize,
    },
}

/// Pictures set side by side.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Comparison {
    /// Why they must not be compared; then there are neither pairs nor odd ones.
    pub not_comparable: Option<WhyNot>,
    /// Every pair.
    pub pairs: Vec<Pair>,
    /// The odd ones, the oddest first.
    pub odd: Vec<Odd>,
}

impl Comparison {
    /// Whether they may be compared.
    ///
    /// # Errors
    /// Why not.
    pub fn comparable(&self) -> Result<(), WhyNot> {
        self.not_comparable.map_or(Ok(()), Err)
    }
}

/// Sets the pictures of an engine side by side.
#[must_use]
pub fn compare(pictures: &[PlugPicture]) -> Comparison {
    if let Err(why) = may_compare(pictures) {
        return Comparison { not_comparable: Some(why), pairs: Vec::new(), odd: Vec::new() };
    }
    let colours: Vec<Lab> = pictures.iter().map(|picture| picture.colour).collect();
    Comparison { not_comparable: None, pairs: pairs(&colours), odd: odd(&colours) }
}

fn may_compare(pictures: &[PlugPicture]) -> Result<(), WhyNot> {
    if pictures.len() < 2 {
        return Err(WhyNot::TooFew);
    }
    let first = pictures[0].light.neutral();
    for (place, picture) in pictures.iter().enumerate() {
        let neutral = picture.light.neutral();
        if neutral.is_none() {
            return Err(WhyNot::NoReference { place });
        }
        if neutral != first {
            return Err(WhyNot::ReferencesDiffer { place });
        }
    }
    Ok(())
}

fn pairs(colours: &[Lab]) -> Vec<Pair> {
    let mut pairs = Vec::new();
    for one in 0..colours.len() {
        for other in one + 1..colours.len() {
            let difference = difference(colours[one], colours[other]);
            pairs.push(Pair { one, other, difference });
        }
    }
    pairs
}

/// The plugs that lie far from the middle of their fellows, against how far the fellows lie from
/// it themselves. Median and median deviation, so that up to half of the set may be odd. Of two
/// plugs alone neither can be called the odd one.
fn odd(colours: &[Lab]) -> Vec<Odd> {
    if colours.len() < 3 {
        return Vec::new();
    }
    let mut odd: Vec<Odd> = (0..colours.len())
        .filter_map(|place| {
            let others = || (0..colours.len()).filter(move |&other| other != place);
            let middle = Lab {
                l: median(others().map(|i| colours[i].l))?,
                a: median(others().map(|i| colours[i].a))?,
                b: median(others().map(|i| colours[i].b))?,
            };
            let away = difference(colours[place], middle);
            let scatter = median(others().map(|i| difference(colours[i], middle)))?;
            (away >= ODD_FROM && away >= TIMES_SCATTER * scatter)
                .then_some(Odd { place, difference: away })
        })
        .collect();
    odd.sort_by(|a, b| b.difference.total_cmp(&a.difference));
    odd
}
