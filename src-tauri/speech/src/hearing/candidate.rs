//! Texts that mean the same, as one.

use crate::language::{Language, Meaning};
use crate::recogniser::Transcript;

/// One thing that may have been meant.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Candidate {
    pub(super) meanings: Vec<Meaning>,
    /// Its likeliest text.
    pub(super) text: String,
    /// Of that text, from the sound alone.
    pub(super) log_probability: f64,
    /// Pieces of that text.
    pub(super) pieces: usize,
    /// Of all its texts together, the job's expectation included.
    pub(super) weight: f64,
    /// Its share of the weights.
    pub(super) posterior: f64,
    /// Its share by the sound alone.
    pub(super) sound_posterior: f64,
    sound_weight: f64,
}

impl Candidate {
    /// Whether a part of it is only a remark.
    pub(super) fn has_remark(&self) -> bool {
        self.meanings.iter().any(|meaning| !meaning.is_act())
    }
}

/// Texts less likely than the likeliest by this (natural logarithm) change nothing.
const FAR: f64 = 7.0;
/// And no more than so many are read.
const MOST_TEXTS: usize = 24;

/// How much the job's expectation counts against the sound.
const EXPECTATION: f64 = 0.5;

/// The candidates, the likeliest first: every text of held hearing and the free one, as far as it
/// is a voice act with nothing left open.
pub(super) fn candidates(transcript: &Transcript, language: &Language) -> Vec<Candidate> {
    let free = &transcript.free;
    let free = (!transcript.held.iter().any(|held| held.text == free.text)).then_some(free);
    let mut candidates: Vec<Candidate> = Vec::new();
    let floor = transcript.held.first().map_or(f64::NEG_INFINITY, |r| r.log_probability - FAR);
    let near = transcript.held.iter().take_while(|r| r.log_probability >= floor).take(MOST_TEXTS);
    for reading in near.chain(free) {
        let mut understood = language.understand(&reading.text);
        // The recogniser likes to say a thing twice when the clip ends soon after it.
        understood.meanings.dedup();
        if !understood.problems.is_empty() || !understood.meanings.iter().any(Meaning::is_act) {
            continue;
        }
        let expected = language.weight_of_all(&understood.meanings);
        let weight = reading.log_probability + EXPECTATION * expected;
        match candidates.iter_mut().find(|known| known.meanings == understood.meanings) {
            Some(known) => {
                known.weight = log_sum(known.weight, weight);
                known.sound_weight = log_sum(known.sound_weight, reading.log_probability);
                if reading.log_probability > known.log_probability {
                    known.log_probability = reading.log_probability;
                    known.pieces = reading.pieces;
                    known.text.clone_from(&reading.text);
                }
            }
            None => candidates.push(Candidate {
                meanings: understood.meanings,
                text: reading.text.clone(),
                log_probability: reading.log_probability,
                pieces: reading.pieces,
                weight,
                posterior: 0.0,
                sound_posterior: 0.0,
                sound_weight: reading.log_probability,
            }),
        }
    }
    let total = |weight: fn(&Candidate) -> f64| {
        candidates.iter().map(weight).fold(f64::NEG_INFINITY, log_sum)
    };
    let (all, sound) = (total(|c| c.weight), total(|c| c.sound_weight));
    for candidate in &mut candidates {
        candidate.posterior = (candidate.weight - all).exp();
        candidate.sound_posterior = (candidate.sound_weight - sound).exp();
    }
    candidates.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    candidates
}

fn log_sum(a: f64, b: f64) -> f64 {
    let (most, least) = if a > b { (a, b) } else { (b, a) };
    if least == f64::NEG_INFINITY { most } else { most + (least - most).exp().ln_1p() }
}
