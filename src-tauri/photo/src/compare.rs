//! The pictures of one engine against each other.

use borespoke_core::record::Lab;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::colour::difference;
use crate::faults::Fault;
use crate::figures::median;
use crate::picture::PlugPicture;

/// From this CIEDE2000 distance to its fellows on, a plug is called odd. Ours: no source gives
/// numbers.
pub const ODD_FROM: f64 = 4.5;

/// A plug also has to stand out this many times from its fellows' own scatter, and from the error
/// bar of the comparison. Ours.
const TIMES_SCATTER: f64 = 3.0;
const TIMES_ERROR: f64 = 2.0;

/// Two pictures and how far their colours are apart.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Pair {
    /// Place of the one in the list that was given.
    pub one: usize,
    /// Place of the other.
    pub other: usize,
    /// CIEDE2000.
    pub difference: f64,
    /// One standard deviation of that difference.
    pub error: f64,
}

/// A plug that does not look like its fellows.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Odd {
    /// Place in the list that was given.
    pub place: usize,
    /// CIEDE2000 to the middle of the others.
    pub difference: f64,
    /// One standard deviation of that difference.
    pub error: f64,
}

/// How a set looks as a whole; for what it means this counts for more than any one colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Pattern {
    /// All alike.
    AllAlike,
    /// Most alike, and some odd.
    SomeOdd,
    /// No look that at least half of them share.
    NoCommonLook,
}

/// Why pictures must not be compared.
#[derive(Debug, Clone, Copy, PartialEq, Error, Serialize, Deserialize)]
#[serde(tag = "why", rename_all = "kebab-case")]
pub enum WhyNot {
    /// There is nothing to compare.
    #[error("a comparison needs two pictures or more")]
    TooFew,
    /// A picture has to be taken again.
    #[error("picture {}: {fault}", .place + 1)]
    TakeAgain {
        /// Place in the list that was given.
        place: usize,
        /// What is wrong with it.
        fault: Fault,
    },
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
    /// The odd ones, the oddest first; none when there is no common look to be odd against.
    pub odd: Vec<Odd>,
    /// How the set looks as a whole; `None` for fewer than three, or when not comparable.
    pub pattern: Option<Pattern>,
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
    let mut comparison = Comparison {
        not_comparable: may_compare(pictures).err(),
        pairs: Vec::new(),
        odd: Vec::new(),
        pattern: None,
    };
    if comparison.not_comparable.is_none() {
        let plugs: Vec<Measured> = pictures
            .iter()
            .map(|picture| Measured { colour: picture.colour, error: picture.uncertainty })
            .collect();
        comparison.pairs = pairs(&plugs);
        (comparison.odd, comparison.pattern) = odd(&plugs);
    }
    comparison
}

/// A colour with its error bar.
#[derive(Debug, Clone, Copy)]
struct Measured {
    colour: Lab,
    error: f64,
}

fn may_compare(pictures: &[PlugPicture]) -> Result<(), WhyNot> {
    if pictures.len() < 2 {
        return Err(WhyNot::TooFew);
    }
    for (place, picture) in pictures.iter().enumerate() {
        if let Some(&fault) = picture.faults.first() {
            return Err(WhyNot::TakeAgain { place, fault });
        }
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

fn pairs(plugs: &[Measured]) -> Vec<Pair> {
    let mut pairs = Vec::new();
    for (one, first) in plugs.iter().enumerate() {
        for (other, second) in plugs.iter().enumerate().skip(one + 1) {
            pairs.push(Pair {
                one,
                other,
                difference: difference(first.colour, second.colour),
                error: first.error.hypot(second.error),
            });
        }
    }
    pairs
}

/// The plugs that lie far from the middle of their fellows, against how far the fellows lie from
/// it themselves and against the error bar. Median and median deviation, so that somewhat less than
/// half of the set may be odd. Of two plugs alone neither can be called the odd one.
fn odd(plugs: &[Measured]) -> (Vec<Odd>, Option<Pattern>) {
    if plugs.len() < 3 {
        return (Vec::new(), None);
    }
    let mut odd: Vec<Odd> = (0..plugs.len()).filter_map(|place| stands_out(plugs, place)).collect();
    if odd.len() * 2 > plugs.len() || scattered(plugs) {
        return (Vec::new(), Some(Pattern::NoCommonLook));
    }
    odd.sort_by(|a, b| b.difference.total_cmp(&a.difference));
    let pattern = if odd.is_empty() { Pattern::AllAlike } else { Pattern::SomeOdd };
    (odd, Some(pattern))
}

/// Whether even the closer half lies too far from the middle to be called alike.
fn scattered(plugs: &[Measured]) -> bool {
    middle(plugs.iter())
        .and_then(|middle| median(plugs.iter().map(|plug| difference(plug.colour, middle))))
        .is_some_and(|scatter| scatter > ODD_FROM)
}

fn stands_out(plugs: &[Measured], place: usize) -> Option<Odd> {
    let others = || plugs.iter().enumerate().filter(|(i, _)| *i != place).map(|(_, plug)| plug);
    let middle = middle(others())?;
    let away = difference(plugs[place].colour, middle);
    let scatter = median(others().map(|plug| difference(plug.colour, middle)))?;
    // The error of a median of n is about 1.25 / sqrt(n) times that of one.
    let own = median(others().map(|plug| plug.error))?;
    let error = plugs[place].error.hypot(1.25 * own / (plugs.len() as f64 - 1.0).sqrt());
    (away >= ODD_FROM && away >= TIMES_SCATTER * scatter && away >= TIMES_ERROR * error)
        .then_some(Odd { place, difference: away, error })
}

fn middle<'a>(plugs: impl Iterator<Item = &'a Measured> + Clone) -> Option<Lab> {
    Some(Lab {
        l: median(plugs.clone().map(|plug| plug.colour.l))?,
        a: median(plugs.clone().map(|plug| plug.colour.a))?,
        b: median(plugs.map(|plug| plug.colour.b))?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(colours: &[(f64, f64, f64)]) -> Vec<Measured> {
        let measured =
            |&(l, a, b): &(f64, f64, f64)| Measured { colour: Lab { l, a, b }, error: 1.0 };
        colours.iter().map(measured).collect()
    }

    fn places(colours: &[(f64, f64, f64)]) -> (Vec<usize>, Option<Pattern>) {
        let (odd, pattern) = odd(&set(colours));
        (odd.iter().map(|odd| odd.place).collect(), pattern)
    }

    const TAN: (f64, f64, f64) = (66.0, 5.0, 18.0);
    const SOOT: (f64, f64, f64) = (15.0, 0.5, 1.0);
    const OIL: (f64, f64, f64) = (22.0, 4.0, 7.0);

    #[test]
    fn one_black_among_tan_is_named() {
        assert_eq!(places(&[TAN, TAN, SOOT, TAN]), (vec![2], Some(Pattern::SomeOdd)));
    }

    #[test]
    fn two_odd_of_six_are_named_the_odder_first() {
        let set = [TAN, TAN, OIL, TAN, SOOT, TAN];
        assert_eq!(places(&set), (vec![4, 2], Some(Pattern::SomeOdd)));
    }

    #[test]
    fn all_black_are_alike() {
        assert_eq!(places(&[SOOT; 6]), (vec![], Some(Pattern::AllAlike)));
    }

    #[test]
    fn half_and_half_has_no_common_look() {
        let set = [TAN, SOOT, TAN, SOOT];
        assert_eq!(places(&set), (vec![], Some(Pattern::NoCommonLook)));
    }

    #[test]
    fn of_two_neither_is_odd() {
        assert_eq!(places(&[TAN, SOOT]), (vec![], None));
    }

    #[test]
    fn a_scattered_set_hides_a_small_difference() {
        let scattered = [
            (60.0, 5.0, 18.0),
            (63.0, 5.0, 18.0),
            (66.0, 5.0, 18.0),
            (69.0, 5.0, 18.0),
            (61.0, 5.0, 18.0),
            (71.0, 5.0, 18.0),
        ];
        assert_eq!(places(&scattered), (vec![], Some(Pattern::AllAlike)));
    }
}
