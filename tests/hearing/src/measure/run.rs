//! Hearing a sample of the corpus under every condition.

use std::time::{Duration, Instant};

use indicatif::ProgressBar;

use super::{Defaults, Hearer, MeasureError};
use crate::corpus::{Condition, Studio, Utterance, sample};
use crate::noise::Noise;
use crate::phrase::Act;
use crate::score::{Answer, Verdict, judge, percentile};
use crate::voice::Half;

/// How much to measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plan {
    /// On which voices.
    pub half: Half,
    /// Utterances for the log under each condition.
    pub for_the_log: usize,
    /// Remarks, small talk and commands under each condition.
    pub talk: usize,
    /// What the sample is drawn by.
    pub seed: u64,
    /// No clip is begun after so much time.
    pub at_most: Duration,
}

/// One clip, heard.
#[derive(Debug, Clone)]
pub struct Record<'u> {
    /// What was said.
    pub utterance: &'u Utterance,
    /// How it came.
    pub condition: Condition,
    /// What was in the way.
    pub noise: Option<Noise>,
    /// What was heard.
    pub answer: Answer,
    /// What that is worth.
    pub verdict: Verdict,
}

/// Hears the sample. The conditions go round with each utterance, so that a run which is cut short
/// by the clock has as much of each.
///
/// # Errors
/// [`MeasureError`] when a clip cannot be made or the recogniser fails.
pub fn run<'u>(
    plan: Plan,
    all: &'u [Utterance],
    studio: &Studio,
    hearer: &mut dyn Hearer,
) -> Result<Vec<Record<'u>>, MeasureError> {
    let begun = Instant::now();
    let (talk, for_the_log): (Vec<Utterance>, Vec<Utterance>) =
        all.iter().cloned().partition(|utterance| utterance.act.is_talk());
    let of = |part: &[Utterance], count| -> Vec<String> {
        sample(part, plan.half, count, plan.seed).iter().map(|u| u.id.clone()).collect()
    };
    let chosen = interleave(of(&for_the_log, plan.for_the_log), of(&talk, plan.talk));
    let bar = ProgressBar::new((chosen.len() * Condition::ALL.len()) as u64);
    let mut records = Vec::new();
    for utterance in chosen.iter().filter_map(|id| all.iter().find(|u| u.id == *id)) {
        if begun.elapsed() > plan.at_most {
            break;
        }
        for condition in Condition::ALL {
            let (clip, noise) = studio.render(utterance, condition)?;
            let answer = hearer.hear(&clip, &utterance.situation)?;
            let verdict = judge(&utterance.heard, &answer);
            records.push(Record { utterance, condition, noise, answer, verdict });
            bar.inc(1);
        }
    }
    bar.finish_and_clear();
    Ok(records)
}

/// Spreads the shorter list evenly over the longer.
fn interleave(mut long: Vec<String>, mut short: Vec<String>) -> Vec<String> {
    if short.len() > long.len() {
        std::mem::swap(&mut long, &mut short);
    }
    let (count, share) = (long.len(), short.len());
    let mut short = short.into_iter();
    let mut mixed = Vec::with_capacity(count + share);
    for (i, item) in long.into_iter().enumerate() {
        mixed.push(item);
        let due = (i + 1) * share / count.max(1) - i * share / count.max(1);
        mixed.extend(short.by_ref().take(due));
    }
    mixed
}

/// The times of both on the same clips in turn, in seconds: ours, the library's defaults. On
/// readings, clean and at 10 dB.
///
/// # Errors
/// [`MeasureError`] when a clip cannot be made or a recogniser fails.
pub fn compare_times(
    clips: usize,
    all: &[Utterance],
    studio: &Studio,
    hearer: &mut dyn Hearer,
    defaults: &Defaults,
) -> Result<Vec<(f64, f64)>, MeasureError> {
    let readings: Vec<Utterance> =
        all.iter().filter(|u| matches!(u.act, Act::Cranking | Act::LeakDown)).cloned().collect();
    let conditions = [Condition::ALL[0], Condition::ALL[2]];
    sample(&readings, Half::Check, clips, 1)
        .into_iter()
        .zip(conditions.into_iter().cycle())
        .map(|(utterance, condition)| {
            let (clip, _) = studio.render(utterance, condition)?;
            let ours = hearer.hear(&clip, &utterance.situation)?.took;
            let (_, theirs) = defaults.write_down(&clip)?;
            Ok((ours.as_secs_f64(), theirs.as_secs_f64()))
        })
        .collect()
}

/// Median and 95th percentile of the times to an answer, in seconds.
pub(super) fn times(records: &[&Record<'_>]) -> Option<(f64, f64)> {
    let times: Vec<f64> = records.iter().map(|r| r.answer.took.as_secs_f64()).collect();
    Some((percentile(&times, 50.0)?, percentile(&times, 95.0)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shorter_list_is_spread_and_nothing_is_lost() {
        let list = |name: &str, n: usize| (0..n).map(|i| format!("{name}{i}")).collect::<Vec<_>>();
        let mixed = interleave(list("a", 10), list("b", 3));
        assert_eq!(mixed.len(), 13);
        let first_half = mixed.iter().take(7).filter(|id| id.starts_with('b')).count();
        assert!((1..=2).contains(&first_half), "{mixed:?}");
        assert_eq!(interleave(list("a", 2), list("b", 9)).len(), 11);
        assert_eq!(interleave(list("a", 0), list("b", 0)).len(), 0);
    }
}
