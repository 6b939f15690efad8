//! The answer of one limit for one cylinder, before its source is added.

use super::evaluation::{Verdict, WhyNot};
use super::limit::{AtLimit, Band};

/// Verdict and words; no source yet.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Answer {
    pub(super) verdict: Verdict,
    pub(super) says: String,
    pub(super) band: Option<&'static str>,
    pub(super) asks: Option<&'static str>,
    pub(super) why_not: Option<WhyNot>,
}

impl Answer {
    pub(super) fn not_tested(why: WhyNot) -> Self {
        let says = why.words().to_owned();
        Self { verdict: Verdict::NotTested, says, band: None, asks: None, why_not: Some(why) }
    }

    pub(super) const fn plain(verdict: Verdict, says: String) -> Self {
        Self { verdict, says, band: None, asks: None, why_not: None }
    }

    /// The answer of a graded table for a value between `best` and `worst`. `amount` gives the end
    /// of a band in the unit of the two; the last band has no end.
    pub(super) fn graded<Q: Copy>(
        bands: &'static [Band<Q>],
        (best, worst): (f64, f64),
        amount: impl Fn(Q) -> f64,
        said: &str,
    ) -> Self {
        let holds = |band: &&'static Band<Q>, value: f64| {
            band.up_to.is_none_or(|end| at_most(value, amount(end), band.at_end))
        };
        let of = |value| bands.iter().find(|band| holds(band, value));
        let (Some(low), Some(high)) = (of(best), of(worst)) else {
            // Every table ends in a band without an end; a test holds them to it.
            return Self::plain(Verdict::Outside, said.to_owned());
        };
        let verdict = from_ends(low.acceptable, high.acceptable);
        if low.name == high.name {
            let says = format!("{said}: {}", low.name);
            return Self {
                band: Some(low.name),
                asks: Some(low.asks),
                ..Self::plain(verdict, says)
            };
        }
        Self::plain(verdict, format!("{said}: {} to {}", low.name, high.name))
    }
}

/// The verdict of a range from those of its two ends.
pub(super) const fn from_ends(one: bool, other: bool) -> Verdict {
    match (one, other) {
        (true, true) => Verdict::Inside,
        (false, false) => Verdict::Outside,
        _ => Verdict::OnTheLine,
    }
}

/// Two figures that differ by less are the same figure in other units.
const SAME: f64 = 1e-9;

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * a.abs().max(b.abs())
}

pub(super) fn at_most(value: f64, limit: f64, at_limit: AtLimit) -> bool {
    if same(value, limit) { at_limit == AtLimit::Inside } else { value < limit }
}

pub(super) fn at_least(value: f64, limit: f64, at_limit: AtLimit) -> bool {
    if same(value, limit) { at_limit == AtLimit::Inside } else { value > limit }
}
