//! A part of a whole.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::bounds::{Bounds, OutOfRange, Short};

/// A part of a whole, 0 to 100 %. Written in files as percent.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Share {
    percent: f64,
}

impl Share {
    const BOUNDS: Bounds = Bounds { quantity: "share", unit: "percent", min: 0.0, max: 100.0 };

    /// A share in percent.
    ///
    /// # Errors
    /// [`OutOfRange`] outside 0 to 100 percent.
    pub fn from_percent(percent: f64) -> Result<Self, OutOfRange> {
        Self::BOUNDS.check(percent).map(|percent| Self { percent })
    }

    /// A share of whole percents, for data written in code. Above 100 counts as 100.
    #[must_use]
    pub const fn whole_percent(percent: u8) -> Self {
        Self { percent: if percent > 100 { 100.0 } else { percent as f64 } }
    }

    /// In percent.
    #[must_use]
    pub const fn percent(self) -> f64 {
        self.percent
    }

    /// As a fraction of one.
    #[must_use]
    pub const fn fraction(self) -> f64 {
        self.percent / 100.0
    }
}

impl TryFrom<f64> for Share {
    type Error = OutOfRange;
    fn try_from(percent: f64) -> Result<Self, OutOfRange> {
        Self::from_percent(percent)
    }
}

impl From<Share> for f64 {
    fn from(share: Share) -> f64 {
        share.percent
    }
}

impl fmt::Display for Share {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} %", Short(self.percent))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn data_in_code_and_typed_shares_agree() {
        assert_eq!(Share::whole_percent(75), Share::from_percent(75.0).unwrap());
        assert_eq!(Share::whole_percent(200), Share::from_percent(100.0).unwrap());
    }

    #[test]
    fn a_share_of_more_than_all_is_refused() {
        let refusal = Share::from_percent(750.0).unwrap_err().to_string();
        assert_eq!(refusal, "share: given 750 percent, allowed 0 to 100 percent");
    }
}
