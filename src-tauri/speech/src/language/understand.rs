//! Text to meanings: which runs of words are acts, and which of several readings is meant.

use super::context::Context;
use super::grammar::{Event, Mark, Parsed, english, parse};
use super::meaning::Meaning;
use super::number::{cylinder_at, numbers_at};
use super::problem::Problem;
use super::settle::Settled;
use super::words::{Word, words};

/// What a text was understood to mean.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Understood {
    /// The acts and remarks, in the order they were said.
    pub meanings: Vec<Meaning>,
    /// Why something did not become an act. Where there are any, nothing of the utterance should
    /// be taken without asking.
    pub problems: Vec<Problem>,
}

impl Understood {
    /// Whether it is one or more acts and nothing is left open.
    #[must_use]
    pub fn is_clear(&self) -> bool {
        self.problems.is_empty()
            && !self.meanings.is_empty()
            && self.meanings.iter().all(Meaning::is_act)
    }
}

/// An utterance of more words than this is talk, not readings: some two minutes.
const MOST_WORDS: usize = 300;
/// A run of words is read as one up to this length: a dozen readings in one breath.
const LONGEST_RUN: usize = 80;
/// What a sentence costs that is left as a remark, and a run that is read.
const REMARK: f64 = 10.0;
const RUN: f64 = 1.0;
/// A reading more forced than this is not trusted. A run of clauses may be a little more so with
/// each.
const MOST_FORCED: f64 = 2.6;
const MORE_PER_CLAUSE: f64 = 2.6;
/// Two readings whose costs differ by less than this are both possible.
const TOO_CLOSE: f64 = 0.7;
/// What it costs a reading that its values cannot be.
const WITH_PROBLEM: f64 = 3.0;

pub(super) fn understand(context: &Context, text: &str) -> Understood {
    let words = words(text);
    let mut settled = Settled::new(context);
    if words.is_empty() {
        return Understood::default();
    }
    if words.len() > MOST_WORDS {
        settled.problems.push(Problem::TooLong { words: words.len(), most: MOST_WORDS });
        settled.meanings.push(remark(context, text, &words));
        return Understood { meanings: settled.meanings, problems: settled.problems };
    }
    // Said to be a remark, it is one, whatever numbers are in it.
    if words[0].is("note") || words[0].is("remark") {
        settled.meanings.push(remark(context, text, &words));
        return Understood { meanings: settled.meanings, problems: settled.problems };
    }
    let mut at = 0;
    for run in runs(&words) {
        let piece = &words[at..at + run.length];
        at += run.length;
        if let Some(ways) = run.ways {
            settled = likeliest(settled, &ways, piece, text, context);
        } else {
            settled.meanings.push(remark(context, text, piece));
            settled.unread |= (0..piece.len()).any(|at| !numbers_at(piece, at).is_empty());
        }
    }
    Understood { meanings: settled.meanings, problems: settled.problems }
}

/// A run of whole sentences: the ways to read it, or none.
struct Run {
    length: usize,
    ways: Option<Vec<Parsed>>,
}

/// Cuts the words into runs that can be read and sentences that cannot, so that the whole costs
/// least.
fn runs(words: &[Word]) -> Vec<Run> {
    let mut borders: Vec<usize> =
        (0..words.len()).filter(|&at| at == 0 || words[at].stop).collect();
    borders.push(words.len());
    let count = borders.len() - 1;
    // From the last sentence to the first: the cheapest way to cut what begins there.
    let mut best: Vec<(f64, usize, Option<Vec<Parsed>>)> = vec![(0.0, 0, None); count + 1];
    for from in (0..count).rev() {
        let remark_cost = REMARK + best[from + 1].0;
        best[from] = (remark_cost, from + 1, None);
        let window_end = (borders[from] + LONGEST_RUN).min(words.len());
        let window = &words[borders[from]..window_end];
        for (length, ways) in parse(english(), window) {
            let Ok(to) = borders.binary_search(&(borders[from] + length)) else { continue };
            let Some(first) = ways.first() else { continue };
            if to <= from {
                continue;
            }
            let cost = first.cost.min(REMARK / 2.0) + RUN + best[to].0;
            if cost < best[from].0 {
                best[from] = (cost, to, Some(ways));
            }
        }
    }
    let mut runs: Vec<Run> = Vec::new();
    let mut at = 0;
    while at < count {
        let (_, next, ways) = std::mem::take(&mut best[at]);
        let length = borders[next] - borders[at];
        match (ways, runs.last_mut()) {
            // Sentences that make no sense, one after the other, are one remark.
            (None, Some(Run { length: before, ways: None })) => *before += length,
            (ways, _) => runs.push(Run { length, ways }),
        }
        at = next;
    }
    runs
}

/// Takes the likeliest of the ways; two that are close make a problem.
fn likeliest<'c>(
    settled: Settled<'c>,
    ways: &[Parsed],
    piece: &[Word],
    text: &str,
    context: &Context,
) -> Settled<'c> {
    let before = settled.problems.len();
    let mut tried: Vec<(f64, usize, Settled<'c>)> = ways
        .iter()
        .map(|way| {
            let mut next = settled.clone();
            next.take(&way.events);
            let with_problem = if next.problems.len() > before { WITH_PROBLEM } else { 0.0 };
            let clauses =
                way.events.iter().filter(|event| **event == Event::Mark(Mark::Clause)).count();
            (way.cost + with_problem, clauses, next)
        })
        .collect();
    tried.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut tried = tried.into_iter();
    let Some((cost, clauses, mut best)) = tried.next() else { return settled };
    let most_forced = MOST_FORCED + MORE_PER_CLAUSE * clauses.saturating_sub(1) as f64;
    let clean = best.problems.len() == before;
    let rivals: Vec<Vec<Meaning>> = tried
        .take_while(|(other, _, _)| other - cost < TOO_CLOSE)
        .filter(|(_, _, other)| other.problems.len() == before && other.meanings != best.meanings)
        .map(|(_, _, other)| other.meanings)
        .collect();
    if clean && !rivals.is_empty() {
        let mut between = vec![best.meanings.clone()];
        for rival in rivals {
            if !between.contains(&rival) {
                between.push(rival);
            }
        }
        best = settled.clone();
        best.problems.push(Problem::Ambiguous(between));
    } else if clean && cost > most_forced {
        best = settled.clone();
        best.problems.push(Problem::Unlikely(shown(text, piece).to_owned()));
    }
    if best.problems.len() > before {
        // A run that is in doubt gives nothing, not even those of its clauses that are clear.
        best.meanings.truncate(settled.meanings.len());
        best.meanings.push(remark(context, text, piece));
    }
    best
}

fn shown<'t>(text: &'t str, piece: &[Word]) -> &'t str {
    match (piece.first(), piece.last()) {
        (Some(first), Some(last)) => &text[first.span.start..last.span.end],
        _ => "",
    }
}

fn remark(context: &Context, text: &str, piece: &[Word]) -> Meaning {
    const NAMES: [&str; 2] = ["cylinder", "plug"];
    let mut named = (0..piece.len())
        .filter(|&at| NAMES.iter().any(|name| piece[at].is(name)))
        .flat_map(|at| cylinder_at(piece, at + 1))
        .filter_map(|heard| context.engine.cylinder(heard.value.as_whole()?).ok());
    // Two cylinders named: it is about neither alone.
    let cylinder = match (named.next(), named.next()) {
        (Some(one), None) => Some(one),
        _ => None,
    };
    Meaning::Remark { cylinder, text: shown(text, piece).trim().to_owned() }
}
