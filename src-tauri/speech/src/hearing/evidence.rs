//! What speaks for and against the likeliest candidate.

use super::Sound;
use super::candidate::Candidate;
use crate::language::{Language, Meaning};
use crate::recogniser::Transcript;

/// What the sureness of a hearing is judged from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evidence {
    /// Log odds of the likeliest candidate among all, the job's expectation included; within ±8.
    pub odds: f64,
    /// The same from the sound alone.
    pub sound_odds: f64,
    /// How much likelier the free text is than the likeliest text of the candidate (natural
    /// logarithm); 0 when it is no likelier. Up to 30.
    pub margin: f64,
    /// The mean log probability of the pieces of the candidate's likeliest text.
    pub mean: f64,
    /// Whether the free text is a voice act at all.
    pub free_is_reading: bool,
    /// Whether the free text means the same.
    pub free_agrees: bool,
    /// The share of the free text's words that are in the candidate's likeliest text, in order.
    pub shared: f64,
    /// How many words longer the free text is: what the candidate leaves unsaid.
    pub unsaid: f64,
    /// Whether every reading says its cylinder.
    pub named: bool,
    /// The loud parts of the clip above the quiet ones, decibels, up to 50.
    pub contrast: f64,
    /// How likely the job makes it, by meaning (natural logarithm).
    pub expectation: f64,
    /// How many things were said in one breath.
    pub acts: f64,
    /// Seconds of sound.
    pub seconds: f64,
    /// The share of likelihood that was not looked at.
    pub unresolved: f64,
}

fn log_odds(p: f64) -> f64 {
    (p / (1.0 - p)).ln().clamp(-8.0, 8.0)
}

impl Evidence {
    pub(super) fn of(
        transcript: &Transcript,
        candidates: &[Candidate],
        sound: &Sound,
        language: &Language,
    ) -> Self {
        let free = language.understand(&transcript.free.text);
        let free_is_reading = free.problems.is_empty() && free.meanings.iter().any(Meaning::is_act);
        let best = &candidates[0];
        let acts = best.meanings.len().max(1) as f64;
        Self {
            odds: log_odds(best.posterior),
            sound_odds: log_odds(best.sound_posterior),
            margin: (transcript.free.log_probability - best.log_probability).clamp(0.0, 30.0),
            mean: best.log_probability / best.pieces.max(1) as f64,
            free_is_reading,
            free_agrees: free_is_reading && free.meanings == best.meanings,
            shared: shared(&transcript.free.text, &best.text),
            unsaid: (word_count(&transcript.free.text) - word_count(&best.text)).clamp(0.0, 8.0),
            named: best.meanings.iter().all(|meaning| match meaning {
                Meaning::State(statement) | Meaning::Correct { statement, .. } => statement.named,
                _ => true,
            }),
            contrast: sound.levels.contrast().min(50.0),
            expectation: language.weight_of_all(&best.meanings),
            acts,
            seconds: sound.seconds,
            unresolved: transcript.unresolved.min(10.0),
        }
    }

    /// The numbers with their names, for fitting.
    #[must_use]
    pub fn named(&self) -> [(&'static str, f64); 14] {
        [
            ("odds", self.odds),
            ("sound_odds", self.sound_odds),
            ("margin", self.margin),
            ("mean", self.mean),
            ("free_is_reading", f64::from(u8::from(self.free_is_reading))),
            ("free_agrees", f64::from(u8::from(self.free_agrees))),
            ("shared", self.shared),
            ("unsaid", self.unsaid),
            ("named", f64::from(u8::from(self.named))),
            ("contrast", self.contrast),
            ("expectation", self.expectation),
            ("acts", self.acts),
            ("seconds", self.seconds),
            ("unresolved", self.unresolved),
        ]
    }
}

fn plain_words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric() && c != '.')
        .map(|word| word.trim_matches('.').to_lowercase())
        .filter(|word| !word.is_empty())
        .collect()
}

fn word_count(text: &str) -> f64 {
    plain_words(text).len() as f64
}

/// The longest common subsequence of words, as a share of the words of `free`.
fn shared(free: &str, candidate: &str) -> f64 {
    let (free, candidate) = (plain_words(free), plain_words(candidate));
    if free.is_empty() {
        return 0.0;
    }
    let mut row = vec![0_usize; candidate.len() + 1];
    for word in &free {
        let mut diagonal = 0;
        for (at, other) in candidate.iter().enumerate() {
            let above = row[at + 1];
            row[at + 1] = if word == other { diagonal + 1 } else { above.max(row[at]) };
            diagonal = above;
        }
    }
    row[candidate.len()] as f64 / free.len() as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shared_words_are_counted_in_order() {
        for (free, candidate, share) in [
            ("Cylinder 3, 145 psi.", "cylinder 3 145 psi", 1.0),
            ("The path comes at 27 pounds.", "2, 27 pounds", 2.0 / 6.0),
            ("145 psi, cylinder 3", "Cylinder 3, 145 psi", 0.5),
            ("9.5 percent", "9 5 percent", 0.5),
            ("", "3", 0.0),
        ] {
            assert!((shared(free, candidate) - share).abs() < 1e-9, "{free}: {candidate}");
        }
    }
}
