//! A number of at most three digits behind the point, exactly.

use std::fmt;

/// A number as it is said: exact, in thousandths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Decimal {
    thousandths: i64,
}

impl Decimal {
    /// More digits before the point than this are not a reading.
    const MOST_DIGITS: usize = 6;

    /// A whole number.
    #[must_use]
    pub const fn whole(value: u32) -> Self {
        Self { thousandths: value as i64 * 1000 }
    }

    /// So many thousandths.
    #[must_use]
    pub const fn from_thousandths(thousandths: i64) -> Self {
        Self { thousandths }
    }

    /// In thousandths.
    #[must_use]
    pub const fn thousandths(self) -> i64 {
        self.thousandths
    }

    /// From the digits before and behind the point; `None` when there are none, or too many to be
    /// a reading.
    #[must_use]
    pub fn from_digits(whole: &str, broken: &str) -> Option<Self> {
        let broken = broken.trim_end_matches('0');
        if whole.len() > Self::MOST_DIGITS || broken.len() > 3 {
            return None;
        }
        let digits = |text: &str| if text.is_empty() { Some(0) } else { text.parse::<i64>().ok() };
        let scale = [1000, 100, 10, 1][broken.len()];
        Some(Self { thousandths: digits(whole)? * 1000 + digits(broken)? * scale })
    }

    /// The number nearest to `value`.
    #[must_use]
    pub const fn nearest(value: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, reason = "the cast saturates")]
        let thousandths = (value * 1000.0).round() as i64;
        Self { thousandths }
    }

    /// The number, nearest double.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.thousandths as f64 / 1000.0
    }

    /// The number as a whole one, when it is one and not below zero.
    #[must_use]
    pub fn as_whole(self) -> Option<u32> {
        (self.thousandths % 1000 == 0)
            .then(|| u32::try_from(self.thousandths / 1000).ok())
            .flatten()
    }

    /// The same number below zero.
    #[must_use]
    pub const fn negated(self) -> Self {
        Self { thousandths: -self.thousandths }
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.value())
    }
}
