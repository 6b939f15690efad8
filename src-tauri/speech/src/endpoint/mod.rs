//! Where an utterance begins and ends in sound that never stops.
//!
//! A [`VoiceDetector`] scores frames; [`Endpointer`] makes utterances of the scores. It follows the
//! score that the place itself has, so that a hose that hisses or a starter that whines for minutes
//! raises what speech must come up to. What was said before speech was noticed is kept
//! ([`Timing::before`]), so the first sound of a word is not lost; a pause shorter than
//! [`Timing::pause`] does not end an utterance. Memory is bounded by [`Timing::longest`].

mod detector;

use std::collections::VecDeque;
use std::time::Duration;

pub use detector::{EarshotDetector, FRAME, VoiceDetector};

/// Samples a second that come in.
const RATE: usize = 16_000;

/// How long things take.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Timing {
    /// Kept from before speech was noticed.
    pub before: Duration,
    /// A pause that ends an utterance. An utterance is handed over this long after its last word,
    /// and at most [`Timing::SLACK`] later.
    pub pause: Duration,
    /// Less speech than this is a click or a cough.
    pub shortest: Duration,
    /// An utterance is handed over when it is so long, whether or not it has ended.
    pub longest: Duration,
}

impl Timing {
    /// How much later than [`Timing::pause`] after the last word an utterance may be handed over: a
    /// word dies away, and the score is smoothed.
    pub const SLACK: Duration = Duration::from_millis(400);
}

impl Default for Timing {
    /// For readings: "cylinder two, one forty. No, one fifty" is one utterance.
    fn default() -> Self {
        Self {
            before: Duration::from_millis(700),
            pause: Duration::from_millis(640),
            shortest: Duration::from_millis(160),
            longest: Duration::from_secs(15),
        }
    }
}

/// An utterance cut out of the sound.
#[derive(Debug, Clone, PartialEq)]
pub struct Utterance {
    /// Its first sample, counted from the first that ever came in.
    pub start: u64,
    /// Its sound at 16 kHz, with what came before it and the pause after it.
    pub samples: Vec<f32>,
    /// It was handed over before it had ended: it was too long, or the sound stopped.
    pub cut: bool,
}

/// What became of the sound that came in.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// Somebody has begun to speak: time to show that it is heard.
    Began,
    /// An utterance is over.
    Ended(Utterance),
    /// It was no speech after all.
    Dropped,
}

/// Cuts utterances out of sound that comes in piece by piece.
#[derive(Debug)]
pub struct Endpointer<D> {
    detector: D,
    timing: Timing,
    /// What came in and does not fill a frame yet.
    pending: Vec<f32>,
    /// Outside an utterance the last [`Timing::before`]; inside it, all of it.
    kept: VecDeque<f32>,
    /// The sample after the newest in `kept`.
    at: u64,
    score: Smoothed,
    speech: Option<Speech>,
}

/// The state inside an utterance, in frames.
#[derive(Debug, Clone, Copy, Default)]
struct Speech {
    voiced: usize,
    quiet: usize,
    /// The level of its loudest frames.
    loud: f32,
}

impl<D: VoiceDetector> Endpointer<D> {
    /// An endpointer with this detector.
    pub const fn new(detector: D, timing: Timing) -> Self {
        Self {
            detector,
            timing,
            pending: Vec::new(),
            kept: VecDeque::new(),
            at: 0,
            score: Smoothed::new(),
            speech: None,
        }
    }

    /// Takes in sound at 16 kHz, as much as there is.
    pub fn push(&mut self, samples: &[f32]) -> Vec<Event> {
        let mut events = Vec::new();
        for &sample in samples {
            self.pending.push(if sample.is_finite() { sample.clamp(-1.0, 1.0) } else { 0.0 });
            if self.pending.len() == FRAME {
                let frame = std::mem::take(&mut self.pending);
                self.frame(&frame, &mut events);
                self.pending = frame;
                self.pending.clear();
            }
        }
        events
    }

    /// The sound has stopped: a microphone was unplugged, or a file is at its end. What was said so
    /// far is handed over.
    pub fn finish(&mut self) -> Option<Utterance> {
        let rest = std::mem::take(&mut self.pending);
        self.keep(&rest);
        let speech = self.speech.take()?;
        let quiet = speech.quiet >= frames(self.timing.pause) / 2;
        let utterance =
            (speech.voiced >= frames(self.timing.shortest)).then(|| self.hand_over(!quiet));
        self.kept.clear();
        utterance
    }

    /// Whether somebody is speaking now.
    #[must_use]
    pub const fn is_speech(&self) -> bool {
        self.speech.is_some()
    }

    fn keep(&mut self, samples: &[f32]) {
        self.kept.extend(samples);
        self.at += samples.len() as u64;
        if self.speech.is_none() {
            let surplus = self.kept.len().saturating_sub(samples_in(self.timing.before));
            self.kept.drain(..surplus);
        }
    }

    fn frame(&mut self, frame: &[f32], events: &mut Vec<Event>) {
        self.keep(frame);
        let score = self.detector.score(frame);
        let level = self.score.follow(score, self.speech.is_some());
        let Some(mut speech) = self.speech else {
            if level == Level::Speech {
                self.speech = Some(Speech { voiced: 1, quiet: 0, loud: level_of(frame) });
                events.push(Event::Began);
            }
            return;
        };
        // A radio in the corner is a voice as well, but far below the one at the phone.
        let near = level_of(frame);
        speech.loud = near.max(speech.loud * LOUD_FALL);
        if level == Level::Quiet || near < speech.loud * FAR {
            speech.quiet += 1;
        } else {
            speech.voiced += 1;
            speech.quiet = 0;
        }
        self.speech = Some(speech);
        let ended = speech.quiet >= frames(self.timing.pause);
        if ended || self.kept.len() >= samples_in(self.timing.longest) {
            self.speech = None;
            if speech.voiced < frames(self.timing.shortest) {
                events.push(Event::Dropped);
            } else {
                events.push(Event::Ended(self.hand_over(!ended)));
            }
            // After a pause it is what may come before the next word; after a cut it went out.
            let keep = if ended { samples_in(self.timing.pause) / 2 } else { 0 };
            let surplus = self.kept.len().saturating_sub(keep);
            self.kept.drain(..surplus);
        }
    }

    fn hand_over(&self, cut: bool) -> Utterance {
        let samples: Vec<f32> = self.kept.iter().copied().collect();
        Utterance { start: self.at - samples.len() as u64, samples, cut }
    }
}

const fn samples_in(time: Duration) -> usize {
    time.as_millis() as usize * RATE / 1_000
}

const fn frames(time: Duration) -> usize {
    samples_in(time).div_ceil(FRAME)
}

/// Of an utterance's loudest frames, what a frame must come up to so that it counts: 18 dB less.
const FAR: f32 = 0.126;
/// How the loudest level is forgotten, a frame: by half in about 3 s.
const LOUD_FALL: f32 = 0.996_3;

/// Root mean square.
fn level_of(frame: &[f32]) -> f32 {
    let power: f32 = frame.iter().map(|sample| sample * sample).sum();
    (power / frame.len().max(1) as f32).sqrt()
}

/// What a frame counts as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Level {
    Quiet,
    /// Not enough to begin an utterance, enough to go on with one.
    Between,
    Speech,
}

/// The score, smoothed, against the score of the place without speech.
#[derive(Debug, Clone, Copy)]
struct Smoothed {
    score: f32,
    floor: f32,
}

/// How far the smoothed score goes towards a frame's: about 50 ms.
const FOLLOW: f32 = 0.28;
/// How far the floor falls towards a lower score with a frame (about 0.6 s), and rises towards a
/// higher one outside (about 3 s) and inside an utterance (about 30 s).
const FALL: f32 = 0.027;
const RISE: f32 = 0.005;
const RISE_IN_SPEECH: f32 = 0.000_5;
/// Speech is this share of the way from the floor to 1, or above it; to go on takes less.
const BEGIN: f32 = 0.55;
const GO_ON: f32 = 0.35;

impl Smoothed {
    const fn new() -> Self {
        Self { score: 0.0, floor: 0.3 }
    }

    fn follow(&mut self, score: f32, in_speech: bool) -> Level {
        self.score += FOLLOW * (score - self.score);
        let toward = if self.score < self.floor {
            FALL
        } else if in_speech {
            RISE_IN_SPEECH
        } else {
            RISE
        };
        self.floor += toward * (self.score - self.floor);
        let height = (self.score - self.floor) / (1.0 - self.floor).max(0.05);
        if height >= BEGIN {
            Level::Speech
        } else if height >= GO_ON {
            Level::Between
        } else {
            Level::Quiet
        }
    }
}

#[cfg(test)]
mod tests;
