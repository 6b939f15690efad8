//! Whether a sureness of 0.9 is right nine times in ten.

use super::Rate;

/// Sureness against being right.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Calibration {
    pairs: Vec<(f64, bool)>,
}

/// The answers with a sureness in one interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bin {
    /// From this sureness.
    pub from: f64,
    /// Up to this one.
    pub to: f64,
    /// Their mean sureness.
    pub sureness: f64,
    /// How often they were right.
    pub right: Rate,
}

impl Calibration {
    /// Adds an answer.
    pub fn add(&mut self, sureness: f64, right: bool) {
        self.pairs.push((sureness, right));
    }

    /// Ten intervals of equal width; empty ones are left out.
    #[must_use]
    pub fn curve(&self) -> Vec<Bin> {
        (0..10_u8)
            .filter_map(|i| {
                let (from, to) = (f64::from(i) / 10.0, f64::from(i + 1) / 10.0);
                let inside: Vec<_> =
                    self.pairs.iter().filter(|(s, _)| *s >= from && (*s < to || i == 9)).collect();
                let trials = inside.len();
                (trials > 0).then(|| Bin {
                    from,
                    to,
                    sureness: inside.iter().map(|(s, _)| s).sum::<f64>() / trials as f64,
                    right: Rate { hits: inside.iter().filter(|(_, right)| *right).count(), trials },
                })
            })
            .collect()
    }

    /// Expected calibration error: the mean distance between sureness and share of right answers,
    /// weighted by the bins' counts (Naeini, Cooper, Hauskrecht, AAAI 2015).
    #[must_use]
    pub fn expected_error(&self) -> f64 {
        let weighted: f64 = self
            .curve()
            .iter()
            .map(|bin| bin.right.trials as f64 * (bin.sureness - bin.right.share()).abs())
            .sum();
        if self.pairs.is_empty() { 0.0 } else { weighted / self.pairs.len() as f64 }
    }

    /// Brier score: mean squared distance between sureness and outcome (G. W. Brier, Monthly
    /// Weather Review 78, 1950).
    #[must_use]
    pub fn brier(&self) -> f64 {
        let sum: f64 =
            self.pairs.iter().map(|(s, right)| (s - f64::from(u8::from(*right))).powi(2)).sum();
        if self.pairs.is_empty() { 0.0 } else { sum / self.pairs.len() as f64 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn perfect_sureness_has_no_error_and_bragging_has() {
        let mut honest = Calibration::default();
        let mut bragging = Calibration::default();
        for i in 0..100 {
            honest.add(0.8, i % 5 != 0);
            bragging.add(1.0, i % 5 != 0);
        }
        assert!(honest.expected_error() < 1e-9);
        assert!((bragging.expected_error() - 0.2).abs() < 1e-9);
        assert!((bragging.brier() - 0.2).abs() < 1e-9);
    }

    #[test]
    fn every_answer_is_in_one_bin() {
        let mut calibration = Calibration::default();
        for i in 0..=20_u8 {
            calibration.add(f64::from(i) / 20.0, true);
        }
        let total: usize = calibration.curve().iter().map(|bin| bin.right.trials).sum();
        assert_eq!(total, 21);
    }
}
