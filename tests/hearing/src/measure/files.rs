//! What is written beside the tables: features for fitting, and what went wrong.

use std::fmt::Write;
use std::path::Path;

use super::MeasureError;
use super::run::Record;
use crate::score::{Verdict, same_entries};
use crate::truth::Entry;

fn write(path: &Path, text: &str) -> Result<(), MeasureError> {
    std::fs::write(path, text)
        .map_err(|source| MeasureError::File { path: path.to_owned(), source })
}

/// One line per clip: id, act, voice, condition, noise, whether the likeliest entries are right,
/// whether talk was said, sureness, and the features.
///
/// # Errors
/// [`MeasureError::File`].
pub fn write_features(path: &Path, records: &[Record<'_>]) -> Result<(), MeasureError> {
    let names: Vec<&str> = records
        .iter()
        .map(|r| &r.answer.features)
        .find(|features| !features.is_empty())
        .map(|features| features.iter().map(|(name, _)| *name).collect())
        .unwrap_or_default();
    let mut text = String::from("id\tact\tvoice\tcondition\tnoise\tright\ttalk\tsureness");
    for name in &names {
        text.push('\t');
        text.push_str(name);
    }
    text.push('\n');
    for record in records {
        let answer = &record.answer;
        let right = same_entries(&record.utterance.heard, &answer.entries);
        let _ = write!(
            text,
            "{}\t{}\t{}\t{}\t{}\t{}\t{}\t{:.6}",
            record.utterance.id,
            record.utterance.act.name(),
            record.utterance.voice,
            record.condition.name(),
            record.noise.map_or("-", |noise| noise.name()),
            u8::from(right),
            u8::from(record.utterance.act.is_talk()),
            answer.sureness,
        );
        for name in &names {
            let value = answer.features.iter().find(|(n, _)| n == name).map(|(_, v)| *v);
            let _ = write!(text, "\t{}", value.map_or_else(String::new, |v| format!("{v:.6}")));
        }
        text.push('\n');
    }
    write(path, &text)
}

/// One line per clip that did not go well, the worst kind first.
///
/// # Errors
/// [`MeasureError::File`].
pub fn write_errors(path: &Path, records: &[Record<'_>]) -> Result<(), MeasureError> {
    let order = |verdict| match verdict {
        Verdict::AcceptedWrong => 0,
        Verdict::TalkTurnedReading => 1,
        Verdict::WrongOffered => 2,
        Verdict::Missed => 3,
        Verdict::TalkAskedAbout => 4,
        Verdict::RightOffered => 5,
        Verdict::Exact | Verdict::TalkLeftAlone => 6,
    };
    let mut bad: Vec<&Record<'_>> = records.iter().filter(|r| order(r.verdict) < 6).collect();
    bad.sort_by_key(|r| order(r.verdict));
    let mut text = String::from(
        "verdict\tid\tcondition\tnoise\tvoice\tsureness\twords\tfree text\ttruth\theard\toffered\n",
    );
    for record in bad {
        let json = |entries: &[Entry]| serde_json::to_string(entries).unwrap_or_default();
        let offered: Vec<String> = record.answer.offered.iter().map(|offer| json(offer)).collect();
        let _ = writeln!(
            text,
            "{:?}\t{}\t{}\t{}\t{}\t{:.3}\t{}\t{}\t{}\t{}\t{}",
            record.verdict,
            record.utterance.id,
            record.condition.name(),
            record.noise.map_or("-", |noise| noise.name()),
            record.utterance.voice,
            record.answer.sureness,
            record.utterance.words,
            record.answer.text.trim().replace(['\t', '\n'], " "),
            json(&record.utterance.heard),
            json(&record.answer.entries),
            offered.join(" / "),
        );
    }
    write(path, &text)
}
