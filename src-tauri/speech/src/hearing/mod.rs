//! The join: a clip and the state of the job in, what was heard out.
//!
//! The recogniser hears the clip twice, freely and held to the [`Language`]. Texts that mean the
//! same are one candidate. How sure the likeliest is, is judged from the [`Evidence`]; what is not
//! sure is asked about, and what is more likely talk than a reading stays talk.

mod candidate;
mod evidence;
mod sureness;

pub use evidence::Evidence;

use borespoke_core::quantity::Probability;

use crate::language::{Context, Decimal, Expect, Language, Meaning};
use crate::recogniser::{Effort, Reading, Recogniser, RecogniserError, Transcript};
use crate::sound::{Clip, Levels};
use candidate::{Candidate, candidates};

/// What became of a clip.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// Heard surely: it may go into the log.
    Accepted(Vec<Meaning>),
    /// One of these, and it must be asked which. The likelier comes first.
    Ask([Vec<Meaning>; 2]),
    /// Talk that is no reading; kept with its clip.
    Remark(Vec<Meaning>),
    /// Nothing that could be made out: it must be said again.
    Unheard,
}

/// What was heard in a clip.
#[derive(Debug, Clone, PartialEq)]
pub struct Heard {
    /// What became of it.
    pub outcome: Outcome,
    /// What it most likely means, taken or not. Empty when nothing was made out.
    pub likeliest: Vec<Meaning>,
    /// How sure it is that the likeliest is what was said.
    pub sureness: Probability,
    /// What was heard with nothing to hold to.
    pub text: String,
    /// What the sureness was judged from; `None` when there was nothing to judge.
    pub evidence: Option<Evidence>,
}

/// At least so sure: taken without asking. Of 113 clips so sure among those left out of the fit, 5 were
/// wrong: four times one sentence whose "dry" was not heard while wet readings were in hand.
const SURE: f64 = 0.9;
/// And so much likelier than any other reading (natural logarithm of the odds, by the sound and with
/// the job's expectation): "sixty" and "sixty-three" can both be sure of being a reading.
const CLEAR: f64 = 5.0;
/// And at least this share of what was heard freely must be in it: held to readings, the recogniser
/// finds one in any noise.
const SHARED: f64 = 0.5;
/// Where free hearing writes down a sound and no words, a reading less likely than that by this
/// (natural logarithm) is not even asked about.
const FOUND_IN_NOISE: f64 = 3.0;
/// At least so sure that it is one of the two likeliest: asked back.
const WORTH_ASKING: f64 = 0.4;
/// Less sure than this, words that were made out are talk and not a reading to be said again.
const NO_READING: f64 = 0.1;
/// Free hearing that is likelier than the best candidate by this (natural logarithm) and is no
/// reading itself is talk.
const TALK: f64 = 15.0;
/// A free text whose pieces are less likely than this in the mean (natural logarithm) was not made
/// out.
const MADE_OUT: f64 = -1.6;

/// Hears a clip in a state of the job.
///
/// # Errors
/// [`RecogniserError`]; a clip that is not understood is an outcome, not an error.
pub fn hear(
    recogniser: &Recogniser,
    clip: &Clip,
    context: &Context,
) -> Result<Heard, RecogniserError> {
    hear_in(recogniser, clip, &Language::new(context))
}

/// As [`hear`], with the language of the state already made: for many clips in one state.
///
/// # Errors
/// [`RecogniserError`].
pub fn hear_in(
    recogniser: &Recogniser,
    clip: &Clip,
    language: &Language,
) -> Result<Heard, RecogniserError> {
    if clip.levels().is_silence() {
        return Ok(nothing(String::new()));
    }
    Ok(weigh(&listen(recogniser, clip, language, Effort::default())?, &Sound::of(clip), language))
}

/// The first half of [`hear_in`]: the texts that a clip may be. [`weigh`] is the other.
///
/// # Errors
/// [`RecogniserError`].
pub fn listen(
    recogniser: &Recogniser,
    clip: &Clip,
    language: &Language,
    effort: Effort,
) -> Result<Transcript, RecogniserError> {
    let style = style(language.context().expect);
    recogniser.transcribe(clip, style, Some(language.pattern()), effort)
}

/// Lines in the style that the language's pattern is printed in. The recogniser, which was trained
/// on subtitles, then writes numbers as digits and names the units as we do. Several unlike lines
/// with the trade's words: after one alone it writes that one down again when it hears badly, and
/// puts the unit where "dry" was said.
#[must_use]
pub const fn style(expect: Expect) -> &'static str {
    match expect {
        Expect::Cranking => {
            " Cylinder 1, 152 psi dry. Number 4, 98, no, 105. Cylinder 2 reads 140 wet. About 9.5 bar."
        }
        Expect::LeakDown => {
            " Cylinder 1, 12 percent leak. Number 4, 7.5 percent after tapping. Hissing at the oil \
             filler. Air at the exhaust, the intake, the breather, the radiator."
        }
        Expect::Plugs => {
            " Plug 1, light tan, dry. Number 2 is black and sooty. Wet with oil. Glazed, blistered, \
             ash, metal specks. Gap 35 thou."
        }
        Expect::Anything => {
            " Cylinder 1, 152 psi dry. Number 4, 105 wet. Cylinder 2, 12 percent leak. Air at the \
             exhaust. Plug 3 is black and sooty."
        }
    }
}

fn nothing(text: String) -> Heard {
    Heard {
        outcome: Outcome::Unheard,
        likeliest: Vec::new(),
        sureness: Probability::ZERO,
        text,
        evidence: None,
    }
}

/// What is known of the sound itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sound {
    /// How loud its loud and its quiet parts are.
    pub levels: Levels,
    /// How long it lasts, in seconds.
    pub seconds: f64,
}

impl Sound {
    /// Of a clip.
    #[must_use]
    pub fn of(clip: &Clip) -> Self {
        Self { levels: clip.levels(), seconds: clip.duration().as_secs_f64() }
    }
}

/// Decides what a transcript comes to. Alone it serves to fit the sureness on transcripts that were
/// kept, without hearing everything again.
#[must_use]
pub fn weigh(transcript: &Transcript, sound: &Sound, language: &Language) -> Heard {
    let free = &transcript.free;
    let candidates = candidates(transcript, language);
    let Some(best) = candidates.first() else { return talk(free, language) };
    let evidence = Evidence::of(transcript, &candidates, sound, language);
    let sureness = sureness::of(&evidence);
    if !evidence.free_is_reading && evidence.margin > TALK && !is_noise(&free.text) {
        return talk(free, language);
    }
    let noise = is_noise(&free.text);
    if noise && evidence.margin > FOUND_IN_NOISE {
        return nothing(free.text.clone());
    }
    let clear = evidence.odds.min(evidence.sound_odds + 1.0) >= CLEAR;
    let sure = sureness >= SURE
        && clear
        && evidence.shared >= SHARED
        && !noise
        && !best.meanings.iter().any(may_be_ten);
    let outcome = match candidates.get(1) {
        _ if sure && !best.has_remark() => Outcome::Accepted(best.meanings.clone()),
        Some(second) if worth_asking(best, second, sureness) => {
            Outcome::Ask([best.meanings.clone(), second.meanings.clone()])
        }
        // One candidate alone, not surely heard: the other answer is that it was only talk.
        None if sureness >= WORTH_ASKING => {
            Outcome::Ask([best.meanings.clone(), remark(&free.text, language)])
        }
        _ if sureness < NO_READING => return talk(free, language),
        _ => Outcome::Unheard,
    };
    Heard {
        outcome,
        likeliest: best.meanings.clone(),
        sureness: Probability::clamped(sureness),
        text: free.text.clone(),
        evidence: Some(evidence),
    }
}

/// Whether a number may be the round one below it: "sixty psi" and "sixty percent" are heard as
/// "sixty-three", the unit's first sound taken for a three, and with no doubt at all.
fn may_be_ten(meaning: &Meaning) -> bool {
    let (Meaning::State(statement) | Meaning::Correct { statement, .. }) = meaning else {
        return false;
    };
    let whole = statement.fact.number().and_then(Decimal::as_whole);
    whole.is_some_and(|n| n % 10 == 3 && n % 100 > 20)
}

fn worth_asking(best: &Candidate, second: &Candidate, sureness: f64) -> bool {
    // The second is as much less sure than the first as it is less likely.
    sureness * (1.0 + second.posterior / best.posterior) >= WORTH_ASKING
}

/// A clip without a reading: talk where words were made out.
fn talk(free: &Reading, language: &Language) -> Heard {
    if is_noise(&free.text) || free.mean() < MADE_OUT {
        return nothing(free.text.clone());
    }
    let meanings = remark(&free.text, language);
    Heard {
        outcome: Outcome::Remark(meanings.clone()),
        likeliest: meanings,
        sureness: Probability::clamped(free.mean().exp()),
        text: free.text.clone(),
        evidence: None,
    }
}

/// A text as talk, whatever else it could be.
fn remark(text: &str, language: &Language) -> Vec<Meaning> {
    let understood = language.understand(text).meanings;
    if !understood.is_empty() && !understood.iter().any(Meaning::is_act) {
        return understood;
    }
    vec![Meaning::Remark { cylinder: None, text: text.to_owned() }]
}

/// Whether a text is what the recogniser writes where nobody speaks: nothing, or a sound's name in
/// brackets or between stars.
fn is_noise(text: &str) -> bool {
    let first = text.trim_start_matches([' ', '-', '.', '>']).chars().next();
    first.is_none_or(|c| matches!(c, '(' | '[' | '*' | '♪' | '{'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_sounds_are_noise() {
        for text in
            ["", " ", "(engine revving)", "[BLANK_AUDIO]", "*hiss*", "- (air hissing)", "..."]
        {
            assert!(is_noise(text), "{text:?}");
        }
        assert!(!is_noise("Cylinder 3, 145 psi."));
    }
}
