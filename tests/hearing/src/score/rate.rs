//! Shares and percentiles.

use std::fmt;

/// The standard normal deviate that 2.5 % lie above.
const Z: f64 = 1.959_963_984_540_054;

/// A share of trials, with the interval it is known to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Rate {
    /// How often it happened.
    pub hits: usize,
    /// How often it could have.
    pub trials: usize,
}

impl Rate {
    /// The share. 0 for no trials.
    #[must_use]
    pub fn share(self) -> f64 {
        if self.trials == 0 { 0.0 } else { self.hits as f64 / self.trials as f64 }
    }

    /// The 95 % interval by Wilson's score method (E. B. Wilson, J. Am. Stat. Assoc. 22, 1927).
    /// 0 to 1 for no trials.
    #[must_use]
    pub fn interval(self) -> (f64, f64) {
        if self.trials == 0 {
            return (0.0, 1.0);
        }
        let n = self.trials as f64;
        let share = self.share();
        let spread = Z * Z / n;
        let middle = share + spread / 2.0;
        let reach = Z * (share * (1.0 - share) / n + spread / (4.0 * n)).sqrt();
        let scale = 1.0 + spread;
        (((middle - reach) / scale).max(0.0), ((middle + reach) / scale).min(1.0))
    }
}

impl fmt::Display for Rate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (low, high) = self.interval();
        let text =
            format!("{:.1} % [{:.1}, {:.1}]", 100.0 * self.share(), 100.0 * low, 100.0 * high);
        f.pad(&text)
    }
}

/// The value below which so many percent of the values lie: the nearest rank. `None` for none.
#[must_use]
pub fn percentile(values: &[f64], percent: f64) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a rank in the list"
    )]
    let rank = (percent / 100.0 * sorted.len() as f64).ceil().max(1.0) as usize;
    sorted.get(rank - 1).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Outside check. Source: R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, Table I,
    /// method 3 (Wilson score without continuity correction). Values from memory.
    #[test]
    fn the_interval_agrees_with_newcombes_table() {
        let rows = [
            (81, 263, 0.2553, 0.3662),
            (15, 148, 0.0624, 0.1605),
            (0, 20, 0.0000, 0.1611),
            (1, 29, 0.0061, 0.1718),
        ];
        for (hits, trials, low, high) in rows {
            let (l, h) = Rate { hits, trials }.interval();
            assert!((l - low).abs() < 5e-5 && (h - high).abs() < 5e-5, "{hits}/{trials}: {l} {h}");
        }
    }

    #[test]
    fn nothing_tried_is_nothing_known() {
        assert_eq!(Rate::default().interval(), (0.0, 1.0));
    }

    #[test]
    fn percentiles_are_values_of_the_list() {
        let values = [15.0, 20.0, 35.0, 40.0, 50.0];
        // The worked example of the nearest-rank method.
        for (percent, value) in
            [(5.0, 15.0), (30.0, 20.0), (40.0, 20.0), (50.0, 35.0), (100.0, 50.0)]
        {
            assert_eq!(percentile(&values, percent), Some(value));
        }
        assert_eq!(percentile(&[], 50.0), None);
    }
}
