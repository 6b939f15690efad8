//! Following the network's probabilities to texts.
//!
//! Both ways of hearing walk one tree of beginnings. Where the free way stays inside the pattern
//! the held way follows it without further work, so a clearly spoken reading costs no more than its
//! own length.
//!
//! Held hearing goes down the likeliest allowed way first, and puts every other way on a list. It
//! leaves a way for one of the list when that has become the better one, longer ways being allowed
//! to be less likely. Once one text is whole, only ways that could change the answer are taken up
//! again. Where a way turns off and comes to the same state of the pattern as a way that is known
//! to the end (" 140 psi" and " 141 psi"), the end is taken from there, and only ways that may win
//! are worked out to the end themselves.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BinaryHeap, HashMap};

use regex_automata::hybrid::LazyStateID;
use serde::{Deserialize, Serialize};

use super::constraint::Constraint;
use super::network::Network;
use super::vocabulary::{Token, Vocabulary};
use super::{RecogniserError, Transcript};
use crate::sound::Clip;

/// One text that may have been said.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Reading {
    /// The text, as the recogniser prints it, without the space before it.
    pub text: String,
    /// The natural logarithm of its probability, given the sound, among all texts.
    pub log_probability: f64,
    /// Word pieces in it, the end included: to compare texts of different lengths.
    pub pieces: usize,
    /// Its share among the texts the pattern allows (1 for free hearing).
    pub posterior: f64,
}

impl Reading {
    /// The mean log probability of a piece.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.log_probability / self.pieces.max(1) as f64
    }
}

/// How much work may be done on a clip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effort {
    /// Steps of the network for held hearing once one text is whole.
    pub steps: usize,
    /// Ways that are less likely than the best whole text by more than this (natural logarithm)
    /// are not looked at.
    pub loss: f64,
    /// A turning that is less likely than the way it leaves by up to this is worked out to the end;
    /// beyond it the end is taken from that way where possible.
    pub exact: f64,
    /// And a turning that differs only in punctuation is looked at up to this: it means the same.
    pub punctuation: f64,
}

impl Default for Effort {
    fn default() -> Self {
        Self { steps: 16, loss: 6.0, exact: 2.0, punctuation: 1.0 }
    }
}

/// Pieces of text in a second of the fastest speech. Bounds every text.
const PIECES_PER_SECOND: f64 = 6.0;
/// Pieces allowed besides: a short clip may be all words.
const PIECES_AT_LEAST: usize = 10;

/// What a longer way is allowed for each piece, against a shorter one. A piece that is heard well
/// costs a tenth of it, one that does not fit several times as much.
const PER_PIECE: f64 = 1.0;
/// A way is left only for one that is better by this: going to and fro costs steps.
const MUCH_BETTER: f64 = 1.5;
/// Turnings less likely than this against the likeliest token at the same place are never taken.
const HOPELESS: f64 = 10.0;

/// What the network said about a beginning.
struct Place {
    /// Log probability of each token after it.
    row: Vec<f32>,
}

pub(super) struct Search<'r> {
    network: &'r mut Network,
    vocabulary: &'r Vocabulary,
    effort: Effort,
    places: HashMap<Vec<Token>, Place>,
    steps: usize,
}

/// A way that was turned away from.
struct Turning {
    /// How much less likely than the likeliest at the same place.
    loss: f64,
    /// The tokens, the last of them the turning.
    path: Vec<Token>,
    state: LazyStateID,
    log_probability: f64,
}

impl Turning {
    fn promise(&self) -> f64 {
        promise(self.log_probability, self.path.len())
    }
}

fn promise(log_probability: f64, pieces: usize) -> f64 {
    log_probability + PER_PIECE * pieces as f64
}

impl PartialEq for Turning {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Turning {}
impl PartialOrd for Turning {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Turning {
    // With equal promise always the same one first.
    fn cmp(&self, other: &Self) -> Ordering {
        self.promise().total_cmp(&other.promise()).then_with(|| other.path.cmp(&self.path))
    }
}

/// A text that the pattern allows, with its end.
struct Whole {
    path: Vec<Token>,
    log_probability: f64,
}

/// How known ways go on: by the beginning before a token, and the state after it.
type Rests = HashMap<(Vec<Token>, LazyStateID), Rest>;

struct Rest {
    tokens: Vec<Token>,
    log_probability: f64,
}

fn at(row: &[f32], token: Token) -> f64 {
    usize::try_from(token)
        .ok()
        .and_then(|i| row.get(i))
        .copied()
        .map_or(f64::NEG_INFINITY, f64::from)
}

impl<'r> Search<'r> {
    pub(super) fn new(
        network: &'r mut Network,
        vocabulary: &'r Vocabulary,
        effort: Effort,
    ) -> Self {
        Self { network, vocabulary, effort, places: HashMap::new(), steps: 0 }
    }

    pub(super) fn run(
        mut self,
        clip: &Clip,
        constraint: Option<&mut Constraint>,
    ) -> Result<Transcript, RecogniserError> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "30 s at most")]
        let by_length = (clip.duration().as_secs_f64() * PIECES_PER_SECOND) as usize;
        let most = (PIECES_AT_LEAST + by_length).min(self.network.room());
        let free = self.free(most)?;
        let (held, unresolved) = match constraint {
            Some(constraint) => self.held(constraint, most)?,
            None => (Vec::new(), 0.0),
        };
        Ok(Transcript { free, held, unresolved, steps: self.steps })
    }

    /// Makes sure that the network was asked about a beginning.
    fn visit(&mut self, path: &[Token]) -> Result<&[f32], RecogniserError> {
        if !self.places.contains_key(path) {
            let mut row = self.network.after(path)?;
            self.steps += 1;
            if path.is_empty() {
                // A text does not begin with its end; the shares of the rest grow accordingly.
                let end = usize::try_from(self.vocabulary.end).unwrap_or_default();
                let without = (1.0 - row[end].exp()).max(f32::MIN_POSITIVE).ln();
                row[end] = f32::NEG_INFINITY;
                row.iter_mut().for_each(|x| *x -= without);
            }
            self.places.insert(path.to_vec(), Place { row });
        }
        Ok(&self.places[path].row)
    }

    /// The likeliest next token at every place.
    fn free(&mut self, most: usize) -> Result<Reading, RecogniserError> {
        let end = self.vocabulary.end;
        let mut path: Vec<Token> = Vec::new();
        let mut log_probability = 0.0;
        let mut pieces = 0;
        while path.len() < most {
            if let Some(again) = repetition(&path) {
                path.truncate(path.len() - again);
                break;
            }
            let row = self.visit(&path)?;
            let Some((token, p)) =
                (0..).zip(row.iter().copied()).max_by(|a, b| a.1.total_cmp(&b.1))
            else {
                break;
            };
            log_probability += f64::from(p);
            pieces += 1;
            if token == end {
                break;
            }
            path.push(token);
        }
        let text = self.vocabulary.text(&path).trim().to_owned();
        Ok(Reading { text, log_probability, pieces, posterior: 1.0 })
    }

    fn held(
        &mut self,
        constraint: &mut Constraint,
        most: usize,
    ) -> Result<(Vec<Reading>, f64), RecogniserError> {
        let mut open = BinaryHeap::new();
        let mut wholes: Vec<Whole> = Vec::new();
        let mut rests = Rests::new();
        let mut best = f64::NEG_INFINITY;
        let start = constraint.start()?;
        open.push(Turning { loss: 0.0, path: Vec::new(), state: start, log_probability: 0.0 });
        // To the first whole text as many steps as the longest text has; from there as many as
        // the effort allows.
        let mut allowance = self.steps + most;
        let mut unresolved = 0.0;
        while let Some(turning) = open.pop() {
            if turning.log_probability < best - self.effort.loss {
                continue;
            }
            if self.steps >= allowance {
                unresolved += (turning.log_probability - best).min(0.0).exp();
                continue;
            }
            if turning.loss > self.effort.exact
                && let Some((_, before)) = turning.path.split_last()
                && let Some(rest) = rests.get(&(before.to_vec(), turning.state))
            {
                let mut path = turning.path;
                path.extend(&rest.tokens);
                let log_probability = turning.log_probability + rest.log_probability;
                wholes.push(Whole { path, log_probability });
                continue;
            }
            let floor = best - self.effort.loss;
            let way = self.follow(constraint, turning, floor, most, &mut open, &mut wholes)?;
            if let Some(way) = way {
                if best == f64::NEG_INFINITY {
                    allowance = allowance.min(self.steps + self.effort.steps);
                }
                best = best.max(way.log_probability());
                way.remember(&mut rests);
                wholes.push(way.whole());
            }
        }
        let readings = self.readings(wholes);
        let share = readings.first().map_or(0.0, |best| best.posterior);
        Ok((readings, share * unresolved))
    }

    /// Goes down the likeliest way from a turning to its end; `None` when it becomes too unlikely or
    /// too long, or when another has become much better: then it is put on the list again.
    fn follow(
        &mut self,
        constraint: &mut Constraint,
        turning: Turning,
        floor: f64,
        most: usize,
        open: &mut BinaryHeap<Turning>,
        wholes: &mut Vec<Whole>,
    ) -> Result<Option<Way>, RecogniserError> {
        let end = self.vocabulary.end;
        let mut way = Way::from(&turning);
        let mut state = turning.state;
        loop {
            if way.path.len() >= most || way.log_probability() < floor {
                return Ok(None);
            }
            let here = promise(way.log_probability(), way.path.len());
            if open.peek().is_some_and(|other| other.promise() > here + MUCH_BETTER) {
                // With no loss of its own: it is to be worked out, not to be given another's end.
                open.push(Turning {
                    loss: 0.0,
                    log_probability: way.log_probability(),
                    path: way.path,
                    state,
                });
                return Ok(None);
            }
            let allowed = constraint.allowed(state)?;
            self.visit(&way.path)?;
            let row = &self.places[&way.path].row;
            let mut choice: Option<(Token, LazyStateID, f64)> =
                allowed.end.then(|| (end, state, at(row, end)));
            for step in &allowed.steps {
                let p = at(row, step.token);
                if choice.is_none_or(|(_, _, best)| p > best) {
                    choice = Some((step.token, step.to, p));
                }
            }
            let Some((token, to, likeliest)) = choice.filter(|(_, _, p)| p.is_finite()) else {
                return Ok(None);
            };
            let so_far = way.log_probability();
            let likeliest_is_pause =
                token != end && self.vocabulary.is_pause(token) && constraint.may_end(to)?;
            let punctuation = self.effort.punctuation;
            let mut turn = |other: Token, to: LazyStateID, p: f64, same: bool| {
                let loss = likeliest - p;
                if other != token && loss <= if same { punctuation } else { HOPELESS } {
                    let mut path = way.path.clone();
                    path.push(other);
                    open.push(Turning { loss, path, state: to, log_probability: so_far + p });
                }
            };
            for step in &allowed.steps {
                let p = at(row, step.token);
                if likeliest - p > HOPELESS {
                    continue;
                }
                // A full stop that may be the last is a pause; one in a number is not.
                let same = likeliest_is_pause && self.vocabulary.is_word(step.token)
                    || self.vocabulary.is_pause(step.token) && constraint.may_end(step.to)?;
                turn(step.token, step.to, p, same);
            }
            if token != end && allowed.end {
                // To end here is a whole text by itself; it needs no further step.
                let p = at(row, end);
                if likeliest - p <= HOPELESS {
                    wholes.push(Whole { path: way.path.clone(), log_probability: so_far + p });
                }
            }
            way.take(token, to, likeliest, end);
            if token == end {
                return Ok(Some(way));
            }
            state = to;
        }
    }

    /// The texts, each once, the likeliest first.
    fn readings(&self, wholes: Vec<Whole>) -> Vec<Reading> {
        let mut by_text: BTreeMap<String, (f64, usize)> = BTreeMap::new();
        for whole in wholes {
            let text = self.vocabulary.text(&whole.path).trim().to_owned();
            let pieces = whole.path.len() + 1;
            let entry = by_text.entry(text).or_insert((f64::NEG_INFINITY, pieces));
            // The same text in other pieces adds to it.
            entry.0 = log_sum(entry.0, whole.log_probability);
        }
        let total = by_text.values().fold(f64::NEG_INFINITY, |sum, (p, _)| log_sum(sum, *p));
        let mut readings: Vec<Reading> = by_text
            .into_iter()
            .map(|(text, (log_probability, pieces))| Reading {
                text,
                log_probability,
                pieces,
                posterior: (log_probability - total).exp(),
            })
            .collect();
        readings.sort_by(|a, b| {
            b.log_probability.total_cmp(&a.log_probability).then_with(|| a.text.cmp(&b.text))
        });
        readings
    }
}

/// A way being followed.
struct Way {
    path: Vec<Token>,
    /// Log probability up to and with each token of the path, and the end when it is come to.
    sums: Vec<f64>,
    /// State after each token that was followed, by the length of the path then.
    states: Vec<(usize, LazyStateID)>,
}

impl Way {
    fn from(turning: &Turning) -> Self {
        Self {
            path: turning.path.clone(),
            sums: vec![turning.log_probability],
            states: vec![(turning.path.len(), turning.state)],
        }
    }

    fn log_probability(&self) -> f64 {
        self.sums.last().copied().unwrap_or(f64::NEG_INFINITY)
    }

    fn take(&mut self, token: Token, to: LazyStateID, p: f64, end: Token) {
        self.sums.push(self.log_probability() + p);
        if token != end {
            self.path.push(token);
            self.states.push((self.path.len(), to));
        }
    }

    fn remember(&self, rests: &mut Rests) {
        let whole = self.log_probability();
        for (&(length, state), sum) in self.states.iter().zip(&self.sums) {
            let Some(before) = length.checked_sub(1) else { continue };
            rests.entry((self.path[..before].to_vec(), state)).or_insert_with(|| Rest {
                tokens: self.path[length..].to_vec(),
                log_probability: whole - sum,
            });
        }
    }

    fn whole(self) -> Whole {
        Whole { log_probability: self.log_probability(), path: self.path }
    }
}

fn log_sum(a: f64, b: f64) -> f64 {
    let (most, least) = if a > b { (a, b) } else { (b, a) };
    if least == f64::NEG_INFINITY { most } else { most + (least - most).exp().ln_1p() }
}

/// Whether a text has begun to go round: its last pieces twice over when they are many, three times
/// when they are few. How many pieces to take away then, to have them once.
fn repetition(path: &[Token]) -> Option<usize> {
    let round = |n: usize, times: usize| {
        let start = path.len().checked_sub(n * times)?;
        let (first, rest) = path[start..].split_at(n);
        rest.chunks(n).all(|again| again == first).then_some(n * (times - 1))
    };
    (6..=path.len() / 2).find_map(|n| round(n, 2)).or_else(|| (2..6).find_map(|n| round(n, 3)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn going_round_is_noticed() {
        assert_eq!(repetition(&[9, 1, 2, 1, 2, 1, 2]), Some(4));
        assert_eq!(repetition(&[1, 2, 1, 2, 1]), None);
        assert_eq!(repetition(&[0, 1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5, 6]), Some(6));
        // "six six six" is a reading.
        assert_eq!(repetition(&[6, 6, 6]), None);
    }

    #[test]
    fn log_sum_adds_probabilities() {
        let sum = log_sum(0.25f64.ln(), 0.5f64.ln());
        assert!((sum.exp() - 0.75).abs() < 1e-12);
        assert!((log_sum(f64::NEG_INFINITY, -1.0) + 1.0).abs() < f64::EPSILON);
    }
}
