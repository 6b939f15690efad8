//! The network itself, over whisper-rs: sound in, then a row of log probabilities for what may
//! follow any beginning of a text.

use std::fmt::Display;
use std::fs::File;
use std::io::Cursor;
use std::num::NonZeroUsize;
use std::path::Path;
use std::time::Instant;

use whisper_rs::{
    FullParams, SamplingStrategy, WhisperContext, WhisperContextParameters, WhisperError,
    WhisperState,
};

use super::RecogniserError;
use super::pace::Pace;
use super::vocabulary::{Token, Vocabulary};
use super::weights_file;
use crate::sound::Clip;

/// Samples behind one frame of the network's inner picture of the sound (20 ms).
const SAMPLES_PER_FRAME: usize = 320;

/// Frames of silence kept behind the sound. The network was trained on pictures of 30 s; one that
/// ends with the last word makes it repeat itself.
const FRAMES_BEHIND: usize = 32;

/// The fewest frames shown, however short the clip: with fewer it invents text.
const FEWEST_FRAMES: usize = 96;

/// The least sound the network takes, in samples (100 ms); less is filled up with silence.
const FEWEST_SAMPLES: usize = 1_600;

pub(super) struct Network {
    context: WhisperContext,
    state: WhisperState,
    pace: Pace,
    /// The tokens before every text: the style line, and what kind of work this is.
    lead: Vec<Token>,
    /// The tokens that the network's memory holds now, the lead included.
    memory: Vec<Token>,
    end: Token,
}

fn failed(error: WhisperError) -> RecogniserError {
    RecogniserError::Failed(error.to_string())
}

fn bad(path: &Path, why: &dyn Display) -> RecogniserError {
    RecogniserError::BadWeights { path: path.to_path_buf(), why: why.to_string() }
}

impl Network {
    pub(super) fn load(path: &Path) -> Result<Self, RecogniserError> {
        quieten();
        File::open(path).and_then(weights_file::check).map_err(|error| bad(path, &error))?;
        let context = WhisperContext::new_with_params(path, WhisperContextParameters::default())
            .map_err(|error| bad(path, &error))?;
        Self::new(context)
    }

    pub(super) fn from_bytes(weights: &[u8]) -> Result<Self, RecogniserError> {
        quieten();
        let in_memory = Path::new("(in memory)");
        weights_file::check(Cursor::new(weights)).map_err(|error| bad(in_memory, &error))?;
        let context = WhisperContext::new_from_buffer_with_params(
            weights,
            WhisperContextParameters::default(),
        )
        .map_err(|error| bad(in_memory, &error))?;
        Self::new(context)
    }

    fn new(context: WhisperContext) -> Result<Self, RecogniserError> {
        let state = context.create_state().map_err(failed)?;
        let end = context.token_eot();
        // A phone has four fast cores at most.
        let four = NonZeroUsize::MIN.saturating_add(3);
        let most = std::thread::available_parallelism().map_or(NonZeroUsize::MIN, |n| n.min(four));
        Ok(Self {
            context,
            state,
            pace: Pace::new(most),
            lead: Vec::new(),
            memory: Vec::new(),
            end,
        })
    }

    pub(super) fn set_threads(&mut self, threads: NonZeroUsize) {
        self.pace = Pace::new(threads);
    }

    /// The text tokens.
    pub(super) fn vocabulary(&self) -> Result<Vocabulary, RecogniserError> {
        let bytes = (0..self.end)
            .map(|token| self.context.token_to_bytes(token).map(Into::into))
            .collect::<Result<Vec<Box<[u8]>>, _>>()
            .map_err(failed)?;
        Ok(Vocabulary::new(bytes, self.end))
    }

    /// Takes in a clip; what came before is forgotten.
    pub(super) fn open(&mut self, samples: &[f32], style: &str) -> Result<(), RecogniserError> {
        let longest = Clip::LONGEST.as_secs() as usize * Clip::RATE as usize;
        let mut sound = samples[..samples.len().min(longest)].to_vec();
        sound.resize(sound.len().max(FEWEST_SAMPLES), 0.0);
        let all = usize::try_from(self.context.n_audio_ctx()).unwrap_or(1500);
        let frames =
            (sound.len().div_ceil(SAMPLES_PER_FRAME) + FRAMES_BEHIND).max(FEWEST_FRAMES).min(all);

        // There is no call of its own to set how many frames are looked at. This one sets it and
        // takes the sound in, and then finds a tenth of a second too short to do anything with.
        let mut params = FullParams::new(SamplingStrategy::Greedy { best_of: 1 });
        params.set_audio_ctx(i32::try_from(frames).unwrap_or(0));
        params.set_duration_ms(100);
        params.set_no_context(true);
        let threads = self.pace.threads();
        params.set_n_threads(i32::try_from(threads).unwrap_or(1));
        params.set_print_progress(false);
        params.set_print_realtime(false);
        self.state.full(params, &sound).map_err(failed)?;
        self.state.encode(0, threads).map_err(failed)?;

        self.memory.clear();
        self.lead.clear();
        if !style.is_empty() {
            let style = self.context.tokenize(style, 200).map_err(failed)?;
            self.lead.push(self.context.token_prev());
            self.lead.extend(style);
        }
        self.lead.push(self.context.token_sot());
        if self.context.is_multilingual() {
            let english = whisper_rs::get_lang_id("en").unwrap_or(0);
            self.lead.push(self.context.token_lang(english));
            self.lead.push(self.context.token_transcribe());
        }
        self.lead.push(self.context.token_not());
        Ok(())
    }

    /// How many text tokens fit behind the lead.
    pub(super) fn room(&self) -> usize {
        usize::try_from(self.context.n_text_ctx()).unwrap_or(448).saturating_sub(self.lead.len())
    }

    /// For every text token and the end, how likely it is to follow a text, as a log probability
    /// among those. What the network's memory holds already is not worked out again, so go on
    /// from the last text where possible.
    pub(super) fn after(&mut self, text: &[Token]) -> Result<Vec<f32>, RecogniserError> {
        let whole: Vec<Token> = self.lead.iter().chain(text).copied().collect();
        let known = self.memory.iter().zip(&whole).take_while(|(a, b)| a == b).count();
        // The last token is always given alone: of a longer row only the first token's answer can
        // be had.
        let last = whole.len() - 1;
        let known = known.min(last);
        if known < last {
            let threads = self.pace.threads();
            self.state.decode(&whole[known..last], known, threads).map_err(failed)?;
        }
        let threads = self.pace.next();
        let begun = Instant::now();
        self.state.decode(&whole[last..], last, threads).map_err(failed)?;
        self.pace.took(threads, begun.elapsed());
        self.memory = whole;
        let end = usize::try_from(self.end).unwrap_or_default();
        let logits = self.state.get_logits().map_err(failed)?;
        Ok(log_probabilities(&logits[..=end]))
    }
}

fn log_probabilities(logits: &[f32]) -> Vec<f32> {
    let most = logits.iter().copied().fold(f32::NEG_INFINITY, f32::max);
    let total = logits.iter().map(|x| (x - most).exp()).sum::<f32>().ln();
    // The largest first: next to a large number the small logarithm would lose its digits.
    logits.iter().map(|x| (x - most) - total).collect()
}

/// The library underneath writes to standard error unless its words are taken elsewhere.
fn quieten() {
    whisper_rs::install_logging_hooks();
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn log_probabilities_sum_to_one() {
        let row = log_probabilities(&[1000.0, 1001.0, -1000.0]);
        let sum: f32 = row.iter().map(|x| x.exp()).sum();
        assert!((sum - 1.0).abs() < 1e-5, "{row:?}");
    }
}
