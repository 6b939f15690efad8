//! How sure, in words.

use borespoke_core::quantity::Probability;
use serde::Serialize;

use super::number;

/// The words for probabilities from this up: the likelihood scale of the Intergovernmental Panel
/// on Climate Change ("Guidance note on consistent treatment of uncertainties", 2010, table 1;
/// from memory). Where its bands overlap the narrower word is used.
const WORDS: [(f64, &str); 7] = [
    (0.99, "virtually certain"),
    (0.90, "very likely"),
    (0.66, "likely"),
    (0.33, "about as likely as not"),
    (0.10, "unlikely"),
    (0.01, "very unlikely"),
    (0.0, "exceptionally unlikely"),
];

/// How sure, three ways.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sureness {
    /// "very likely".
    pub words: &'static str,
    /// "93 %".
    pub percent: String,
    /// From 0 to 1, for the pointer on the scale.
    pub at: f64,
}

impl Sureness {
    /// A probability in words.
    pub fn of(p: Probability) -> Self {
        let words = WORDS.iter().find(|(from, _)| p.value() >= *from).map_or("", |(_, w)| *w);
        Self { words, percent: number::probability(p), at: p.value() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_probability_has_a_word() {
        for hundredths in 0..=100 {
            let p = Probability::new(f64::from(hundredths) / 100.0).unwrap();
            assert!(!Sureness::of(p).words.is_empty());
        }
        assert_eq!(Sureness::of(Probability::new(0.93).unwrap()).words, "very likely");
        assert_eq!(Sureness::of(Probability::new(0.5).unwrap()).words, "about as likely as not");
    }
}
