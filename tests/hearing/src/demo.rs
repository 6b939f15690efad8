//! The clips of the demonstration case, made from `demo-data/script.tsv`.

use std::path::Path;

use thiserror::Error;

use crate::clip::{self, ClipError};
use crate::noise::Noise;
use crate::seed::stream;
use crate::truth::Entry;
use crate::voice::{self, Delivery, Half, VOICES, Voice, VoiceError};

/// The seed of all that is random in the demonstration clips.
const SEED: u64 = 20_261_125;

/// One line of the script.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// File name in `demo-data/clips`. Name order is the order of the work.
    pub clip: String,
    /// Who says it.
    pub voice: Voice,
    /// How fast.
    pub delivery: Delivery,
    /// Noise, and the speech's level above it in decibels.
    pub noise: Option<(Noise, f32)>,
    /// The exact words.
    pub words: String,
    /// What must be heard.
    pub heard: Vec<Entry>,
}

/// Why the script cannot be used.
#[derive(Debug, Error)]
pub enum ScriptError {
    /// A line is not as it should be.
    #[error("script line {line}: {problem}")]
    Line {
        /// Counted from 1.
        line: usize,
        /// What is wrong.
        problem: String,
    },
    /// A clip could not be spoken.
    #[error(transparent)]
    Voice(#[from] VoiceError),
    /// A clip could not be written.
    #[error(transparent)]
    Clip(#[from] ClipError),
    /// No folder to work in.
    #[error("scratch folder: {0}")]
    Scratch(#[from] std::io::Error),
}

/// Reads a script: a heading line, then the columns clip, voice, speed, noise, `snr_db`, words,
/// heard, parted by tabs. Lines that begin with `#` are notes.
///
/// # Errors
/// [`ScriptError::Line`] naming the line.
pub fn read_script(text: &str) -> Result<Vec<Line>, ScriptError> {
    text.lines()
        .zip(1..)
        .filter(|(line, _)| !line.starts_with('#') && !line.is_empty())
        .skip(1)
        .map(|(line, number)| {
            read_line(line).map_err(|problem| ScriptError::Line { line: number, problem })
        })
        .collect()
}

fn read_line(line: &str) -> Result<Line, String> {
    let columns: Vec<&str> = line.split('\t').collect();
    let [clip, voice, speed, noise, snr, words, heard] = columns[..] else {
        return Err(format!("given {} columns, allowed are 7", columns.len()));
    };
    let noise = if noise == "-" {
        None
    } else {
        let kind = Noise::named(noise).ok_or_else(|| format!("no noise \"{noise}\""))?;
        Some((kind, snr.parse().map_err(|_| format!("snr_db: given \"{snr}\""))?))
    };
    Ok(Line {
        clip: clip.to_owned(),
        voice: voice::named(voice).map_err(|e| e.to_string())?,
        delivery: Delivery {
            speed: speed.parse().map_err(|_| format!("speed: given \"{speed}\""))?,
            ..Delivery::default()
        },
        noise,
        words: words.to_owned(),
        heard: serde_json::from_str(heard).map_err(|e| format!("heard: {e}"))?,
    })
}

/// Makes the clips of a script in a folder.
///
/// # Errors
/// [`ScriptError`] when a synthesiser is missing or a clip cannot be written.
pub fn make_clips(script: &[Line], folder: &Path) -> Result<(), ScriptError> {
    let scratch = tempfile::tempdir()?;
    let talk = background_talk(scratch.path())?;
    for line in script {
        let mut random = stream(SEED, &line.clip);
        let said = line.voice.say(&line.words, line.delivery, scratch.path())?;
        let mut sound = clip::padded(&said, 0.3, 0.4);
        let level = clip::speech_level(&sound);
        clip::scale(&mut sound, clip::from_db(-24.0) / level);
        if let Some((noise, snr)) = line.noise {
            let noise = noise.make(sound.len(), &talk, &mut random);
            clip::add_noise(&mut sound, &noise, snr);
        }
        clip::keep_from_clipping(&mut sound);
        clip::write(&folder.join(&line.clip), &sound)?;
    }
    Ok(())
}

/// What the radio in the corner says.
fn background_talk(scratch: &Path) -> Result<Vec<Vec<f32>>, VoiceError> {
    let phrases = [
        "And now the weather for the valley, with some rain in the afternoon.",
        "You are listening to the lunch hour, stay with us.",
        "Traffic is slow on the ring road this morning.",
        "Call now and get the second pair for half the price.",
    ];
    VOICES
        .into_iter()
        .filter(|voice| voice.half == Half::Tune)
        .zip(phrases)
        .map(|(voice, phrase)| voice.say(phrase, Delivery::default(), scratch))
        .collect()
}
