//! What an answer is worth against the truth.

use std::time::Duration;

use super::Rate;
use crate::truth::{Entry, Kind};

/// What the recogniser did with a clip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Outcome {
    /// Took it.
    Accepted,
    /// Asked back, offering two readings.
    Ask,
    /// Said that it did not hear.
    Unheard,
    /// Took it for talk.
    Remark,
}

/// An answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// What it did.
    pub outcome: Outcome,
    /// The likeliest entries, taken or not.
    pub entries: Vec<Entry>,
    /// What was offered, when it asked back.
    pub offered: Vec<Vec<Entry>>,
    /// How sure it was of the likeliest.
    pub sureness: f64,
    /// The free text.
    pub text: String,
    /// From the end of the clip to the answer.
    pub took: Duration,
    /// Numbers it judged its sureness by, with their names: for fitting.
    pub features: Vec<(&'static str, f64)>,
}

/// What it is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Verdict {
    /// Taken, and right.
    Exact,
    /// Asked back, and the right one was offered.
    RightOffered,
    /// Asked back, and the right one was not offered.
    WrongOffered,
    /// Taken, and wrong: the worst.
    AcceptedWrong,
    /// Not heard, or taken for talk: it must be said again.
    Missed,
    /// Talk, and nothing was made of it.
    TalkLeftAlone,
    /// Talk, and asked about.
    TalkAskedAbout,
    /// Talk that became a reading.
    TalkTurnedReading,
}

/// Judges an answer. Talk that became a withdrawal or a correction counts as turned into a reading:
/// it changes the log.
#[must_use]
pub fn judge(truth: &[Entry], answer: &Answer) -> Verdict {
    let talk = truth.iter().all(|entry| entry.kind == Kind::Remark);
    if talk {
        let changes = |entries: &[Entry]| entries.iter().any(|entry| entry.kind != Kind::Remark);
        return match answer.outcome {
            Outcome::Accepted if changes(&answer.entries) => Verdict::TalkTurnedReading,
            Outcome::Ask => Verdict::TalkAskedAbout,
            _ => Verdict::TalkLeftAlone,
        };
    }
    match answer.outcome {
        Outcome::Accepted if same_entries(truth, &answer.entries) => Verdict::Exact,
        Outcome::Accepted => Verdict::AcceptedWrong,
        Outcome::Ask if answer.offered.iter().any(|offer| same_entries(truth, offer)) => {
            Verdict::RightOffered
        }
        Outcome::Ask => Verdict::WrongOffered,
        Outcome::Unheard | Outcome::Remark => Verdict::Missed,
    }
}

/// Whether what was heard is what was said. "About" is not compared: it does not change the number.
#[must_use]
pub fn same_entries(truth: &[Entry], heard: &[Entry]) -> bool {
    truth.len() == heard.len()
        && truth.iter().zip(heard).all(|(truth, heard)| same_entry(truth, heard))
}

fn same_entry(truth: &Entry, heard: &Entry) -> bool {
    let same_number = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() < 1e-6,
        (a, b) => a.is_none() && b.is_none(),
    };
    let sorted = |signs: &[String]| {
        let mut signs = signs.to_vec();
        signs.sort();
        signs
    };
    truth.kind == heard.kind
        && truth.cylinder == heard.cylinder
        // A withdrawal may or may not repeat what it takes back.
        && (truth.kind == Kind::Withdrawal
            || same_number(truth.value, heard.value)
                && same_number(truth.up_to, heard.up_to)
                && truth.unit == heard.unit
                && truth.wet == heard.wet
                && sorted(&truth.signs) == sorted(&heard.signs)
                && truth.at == heard.at)
}

/// Verdicts counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tally {
    counts: [usize; 8],
}

impl Tally {
    /// Counts one.
    pub const fn add(&mut self, verdict: Verdict) {
        self.counts[verdict as usize] += 1;
    }

    /// How many of a verdict.
    #[must_use]
    pub const fn count(&self, verdict: Verdict) -> usize {
        self.counts[verdict as usize]
    }

    /// How often, among the clips of its kind (things for the log, or talk).
    #[must_use]
    pub fn rate(&self, verdicts: &[Verdict]) -> Rate {
        let talk =
            verdicts.iter().any(|verdict| *verdict as usize >= Verdict::TalkLeftAlone as usize);
        let (of_talk, of_log) = (&self.counts[5..], &self.counts[..5]);
        Rate {
            hits: verdicts.iter().map(|verdict| self.count(*verdict)).sum(),
            trials: if talk { of_talk } else { of_log }.iter().sum(),
        }
    }

    /// Adds another's counts.
    pub fn merge(&mut self, other: &Self) {
        for (count, other) in self.counts.iter_mut().zip(other.counts) {
            *count += other;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(value: f64) -> Entry {
        Entry {
            cylinder: Some(3),
            value: Some(value),
            unit: Some("psi".to_owned()),
            ..Entry::of(Kind::Cranking)
        }
    }

    fn answer(outcome: Outcome, entries: Vec<Entry>, offered: Vec<Vec<Entry>>) -> Answer {
        let took = Duration::ZERO;
        let text = String::new();
        Answer { outcome, entries, offered, sureness: 0.5, text, took, features: Vec::new() }
    }

    #[test]
    fn each_verdict() {
        let truth = [reading(105.0)];
        let remark = [Entry::of(Kind::Remark)];
        let wrong = || vec![reading(150.0)];
        let right = || vec![reading(105.0)];
        let rows = [
            (&truth, answer(Outcome::Accepted, right(), vec![]), Verdict::Exact),
            (&truth, answer(Outcome::Accepted, wrong(), vec![]), Verdict::AcceptedWrong),
            (&truth, answer(Outcome::Accepted, vec![], vec![]), Verdict::AcceptedWrong),
            (&truth, answer(Outcome::Ask, wrong(), vec![wrong(), right()]), Verdict::RightOffered),
            (&truth, answer(Outcome::Ask, wrong(), vec![wrong()]), Verdict::WrongOffered),
            (&truth, answer(Outcome::Unheard, right(), vec![]), Verdict::Missed),
            (&truth, answer(Outcome::Remark, vec![], vec![]), Verdict::Missed),
            (&remark, answer(Outcome::Remark, vec![], vec![]), Verdict::TalkLeftAlone),
            (&remark, answer(Outcome::Accepted, vec![], vec![]), Verdict::TalkLeftAlone),
            (&remark, answer(Outcome::Accepted, right(), vec![]), Verdict::TalkTurnedReading),
            (&remark, answer(Outcome::Ask, right(), vec![right()]), Verdict::TalkAskedAbout),
        ];
        for (truth, answer, verdict) in rows {
            assert_eq!(judge(truth, &answer), verdict, "{answer:?}");
        }
    }

    #[test]
    fn wet_for_dry_is_wrong() {
        let wet = Entry { wet: true, ..reading(105.0) };
        assert!(!same_entries(&[reading(105.0)], &[wet]));
    }

    #[test]
    fn talk_and_readings_are_counted_apart() {
        let mut tally = Tally::default();
        for verdict in [Verdict::Exact, Verdict::Exact, Verdict::Missed, Verdict::TalkLeftAlone] {
            tally.add(verdict);
        }
        assert_eq!(tally.rate(&[Verdict::Exact]), Rate { hits: 2, trials: 3 });
        assert_eq!(tally.rate(&[Verdict::TalkTurnedReading]), Rate { hits: 0, trials: 1 });
    }
}
