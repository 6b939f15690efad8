//! The tables.

use std::collections::BTreeMap;
use std::fmt;

use super::run::{Record, times};
use crate::corpus::Condition;
use crate::phrase::Act;
use crate::score::{
    Calibration, Tally, Verdict, WordErrors, percentile, same_entries, word_errors,
};
use crate::truth::Kind;

/// What was measured.
#[derive(Debug)]
pub struct Report<'r, 'u> {
    /// The clips.
    pub records: &'r [Record<'u>],
    /// From nothing loaded to the first answer, seconds.
    pub cold_start: f64,
    /// Peak resident memory while hearing, megabytes, where the system tells.
    pub peak_memory: Option<f64>,
    /// Times on the same clips, seconds: ours, the library's defaults.
    pub compared: Vec<(f64, f64)>,
}

impl Report<'_, '_> {
    /// How well sureness tells right from wrong, over all clips in which something for the log was
    /// said or heard.
    #[must_use]
    pub fn calibration(&self) -> Calibration {
        let mut calibration = Calibration::default();
        for record in self.records {
            let heard = &record.answer.entries;
            let something = heard.iter().any(|entry| entry.kind != Kind::Remark);
            if something {
                let right = same_entries(&record.utterance.heard, heard);
                calibration.add(record.answer.sureness, right);
            }
        }
        calibration
    }

    fn under(&self, condition: Condition) -> Vec<&Record<'_>> {
        self.records.iter().filter(|r| r.condition == condition).collect()
    }

    fn free_text_errors(&self, condition: Condition) -> WordErrors {
        let mut errors = WordErrors::default();
        for record in self.under(condition) {
            // Numbers are printed in digits and said in words; talk without them compares fairly.
            let talk = matches!(record.utterance.act, Act::Remark | Act::SmallTalk);
            if talk && !record.answer.text.contains(|c: char| c.is_ascii_digit()) {
                errors.merge(word_errors(&record.utterance.words, &record.answer.text));
            }
        }
        errors
    }
}

fn tally<'a>(records: impl IntoIterator<Item = &'a Record<'a>>) -> Tally {
    let mut tally = Tally::default();
    for record in records {
        tally.add(record.verdict);
    }
    tally
}

fn row(f: &mut fmt::Formatter<'_>, name: &str, tally: &Tally) -> fmt::Result {
    use Verdict::{AcceptedWrong, Exact, Missed, RightOffered, TalkAskedAbout, TalkTurnedReading};
    let rate = |verdicts: &[Verdict]| tally.rate(verdicts);
    writeln!(
        f,
        "{name:<18} {:>5} | {:<22} {:<22} {:<20} {:<20} | {:>4} {:<20} {}",
        rate(&[Exact]).trials,
        rate(&[Exact]),
        rate(&[Exact, RightOffered]),
        rate(&[AcceptedWrong]),
        rate(&[Missed]),
        rate(&[TalkTurnedReading]).trials,
        rate(&[TalkTurnedReading]),
        rate(&[TalkAskedAbout]),
    )
}

fn heading(f: &mut fmt::Formatter<'_>, first: &str) -> fmt::Result {
    writeln!(
        f,
        "\n{first:<18} {:>5} | {:<22} {:<22} {:<20} {:<20} | {:>4} {:<20} asked about",
        "clips",
        "exact",
        "exact after asking",
        "accepted wrong",
        "not heard",
        "talk",
        "became a reading"
    )
}

impl fmt::Display for Report<'_, '_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "Shares with their 95 % intervals (Wilson).")?;
        heading(f, "condition")?;
        for condition in Condition::ALL {
            row(f, &condition.name(), &tally(self.under(condition)))?;
        }
        row(f, "all", &tally(self.records))?;
        self.by(f, "noise, 10 dB", |r| {
            (r.condition == Condition::ALL[2]).then(|| r.noise.map_or("", |n| n.name()).to_owned())
        })?;
        self.by(f, "clean, by act", |r| {
            (r.condition == Condition::ALL[0]).then(|| r.utterance.act.name().to_owned())
        })?;
        self.by(f, "voice", |r| Some(r.utterance.voice.clone()))?;
        self.calibration_table(f)?;
        self.times_table(f)
    }
}

impl Report<'_, '_> {
    fn by(
        &self,
        f: &mut fmt::Formatter<'_>,
        name: &str,
        key: impl Fn(&Record<'_>) -> Option<String>,
    ) -> fmt::Result {
        let mut groups: BTreeMap<String, Tally> = BTreeMap::new();
        for record in self.records {
            if let Some(key) = key(record) {
                groups.entry(key).or_default().add(record.verdict);
            }
        }
        heading(f, name)?;
        groups.iter().try_for_each(|(name, tally)| row(f, name, tally))
    }

    fn calibration_table(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let calibration = self.calibration();
        writeln!(f, "\nsureness      mean   clips  right")?;
        for bin in calibration.curve() {
            writeln!(
                f,
                "{:.1} to {:.1}   {:.3}   {:>5}  {}",
                bin.from, bin.to, bin.sureness, bin.right.trials, bin.right
            )?;
        }
        writeln!(
            f,
            "expected calibration error {:.4}, Brier score {:.4}",
            calibration.expected_error(),
            calibration.brier()
        )
    }

    fn times_table(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(
            f,
            "\ncondition          median ms   p95 ms   p95/median   word errors of free text"
        )?;
        for condition in Condition::ALL {
            if let Some((median, high)) = times(&self.under(condition)) {
                let errors = self.free_text_errors(condition);
                writeln!(
                    f,
                    "{:<18} {:>9.0} {:>8.0} {:>12.2}   {:.1} % of {}",
                    condition.name(),
                    1e3 * median,
                    1e3 * high,
                    high / median,
                    100.0 * errors.rate(),
                    errors.words
                )?;
            }
        }
        let part =
            |pick: fn(&(f64, f64)) -> f64| -> Vec<f64> { self.compared.iter().map(pick).collect() };
        let median = |values: &[f64]| percentile(values, 50.0);
        let (ours, theirs) = (part(|pair| pair.0), part(|pair| pair.1));
        let ratios = part(|pair| pair.1 / pair.0);
        if let (Some(ours), Some(theirs), Some(ratio)) =
            (median(&ours), median(&theirs), median(&ratios))
        {
            writeln!(
                f,
                "\non {} clips in turn: ours {:.0} ms, library defaults {:.0} ms (medians); median ratio {ratio:.1}",
                self.compared.len(),
                1e3 * ours,
                1e3 * theirs
            )?;
        }
        writeln!(f, "cold start to the first answer: {:.2} s", self.cold_start)?;
        if let Some(peak) = self.peak_memory {
            writeln!(f, "peak memory: {peak:.0} MB")?;
        }
        writeln!(f, "{} clips heard", self.records.len())
    }
}
