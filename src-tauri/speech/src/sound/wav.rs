//! Reading WAV files of any usual kind.

use std::fs;
use std::io::{self, Cursor, Read, Seek};
use std::path::Path;

use hound::{SampleFormat, WavReader, WavSpec};
use rubato::audioadapter_buffers::direct::InterleavedSlice;
use rubato::{Fft, FixedSync, Resampler as _};
use thiserror::Error;

use super::Clip;

/// Why a file could not be read as a clip.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum WavError {
    /// It could not be opened or read.
    #[error("the sound file could not be read: {0}")]
    Io(#[from] io::Error),
    /// It has no bytes.
    #[error("the sound file is empty (0 bytes)")]
    Empty,
    /// It is not a WAV file.
    #[error("this is not a WAV file{}", looks_like.map(|kind| format!(", it looks like {kind}")).unwrap_or_default())]
    NotWav {
        /// What its first bytes say it is.
        looks_like: Option<&'static str>,
    },
    /// It is a WAV file of a kind that is not read, or its header is damaged.
    #[error("the WAV file cannot be read: {0}")]
    Unreadable(String),
    /// Too many channels.
    #[error("channels: given {given}, allowed 1 or 2")]
    Channels {
        /// How many it has.
        given: u16,
    },
    /// A rate outside the range.
    #[error("sample rate: given {given} Hz, allowed {least} to {most} Hz", least = RATES.0, most = RATES.1)]
    Rate {
        /// Its rate.
        given: u32,
    },
    /// Too long to be one utterance.
    #[error("duration: given {given:.0} s, allowed up to {} s for one utterance", Clip::LONGEST.as_secs())]
    TooLong {
        /// How long it is, in seconds.
        given: f64,
    },
}

impl WavError {
    /// What can be done about it.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Io(_) => "look whether the file is there and may be read",
            Self::Empty => "record it again; nothing was written",
            Self::NotWav { .. } => "give a WAV file: 8 to 192 kHz, mono or stereo, 8 to 32 bits",
            Self::Unreadable(_) => "save it as plain PCM or float WAV",
            Self::Channels { .. } => "mix it down to mono or stereo",
            Self::Rate { .. } => "save it at 16, 44.1 or 48 kHz",
            Self::TooLong { .. } => "cut it at its pauses, one utterance to a file",
        }
    }
}

/// The rates that are read, in Hz.
const RATES: (u32, u32) = (8_000, 192_000);

impl Clip {
    /// Reads a WAV file.
    ///
    /// Eight to 32 bits, whole or floating, mono or stereo (mixed down), 8 to 192 kHz (resampled).
    /// A file that ends before its header says gives what is there, and
    /// [`Clip::was_cut_short`] says so.
    ///
    /// # Errors
    /// [`WavError`]. A file longer than [`Clip::LONGEST`] is refused from its size alone, before
    /// its sound is read.
    pub fn open(path: &Path) -> Result<Self, WavError> {
        let length = fs::metadata(path)?.len();
        Self::read(io::BufReader::new(fs::File::open(path)?), length)
    }

    /// Reads a WAV file that is in memory.
    ///
    /// # Errors
    /// As [`Clip::open`].
    pub fn from_wav(bytes: &[u8]) -> Result<Self, WavError> {
        Self::read(Cursor::new(bytes), bytes.len() as u64)
    }

    fn read(mut file: impl Read + Seek, length: u64) -> Result<Self, WavError> {
        if length == 0 {
            return Err(WavError::Empty);
        }
        let mut first = Vec::new();
        file.by_ref().take(12).read_to_end(&mut first)?;
        file.rewind()?;
        if !(first.starts_with(b"RIFF") && first.get(8..12).is_none_or(|kind| kind == b"WAVE")) {
            return Err(WavError::NotWav { looks_like: kind_of(&first) });
        }
        let reader = WavReader::new(file).map_err(unreadable)?;
        let spec = reader.spec();
        let seconds = check(spec, length)?;
        let promised = u64::from(reader.len());
        let samples = samples(reader, spec, seconds)?;
        let mono = mix_down(&samples, spec.channels);
        let mut clip = Self::new(resampled(mono, spec.sample_rate)?);
        clip.cut_short = (samples.len() as u64) < promised;
        Ok(clip)
    }
}

/// Checks the kind, and gives the duration that so many bytes can have at most.
fn check(spec: WavSpec, length: u64) -> Result<f64, WavError> {
    if !(1..=2).contains(&spec.channels) {
        return Err(WavError::Channels { given: spec.channels });
    }
    if !(RATES.0..=RATES.1).contains(&spec.sample_rate) {
        return Err(WavError::Rate { given: spec.sample_rate });
    }
    let frame = u64::from(spec.channels) * u64::from(spec.bits_per_sample.div_ceil(8));
    let seconds = (length / frame.max(1)) as f64 / f64::from(spec.sample_rate);
    // The header is in the length too, and is never as long as a second.
    if seconds > Clip::LONGEST.as_secs_f64() + 1.0 {
        return Err(WavError::TooLong { given: seconds });
    }
    Ok(seconds)
}

fn samples(
    mut reader: WavReader<impl Read>,
    spec: WavSpec,
    seconds: f64,
) -> Result<Vec<f32>, WavError> {
    match spec.sample_format {
        SampleFormat::Float => until_the_end(reader.samples::<f32>()),
        SampleFormat::Int => {
            let scale = 2f64.powi(1 - i32::from(spec.bits_per_sample));
            #[expect(clippy::cast_possible_truncation, reason = "single precision is wanted")]
            let scaled = |x: i32| (f64::from(x) * scale) as f32;
            until_the_end(reader.samples::<i32>().map(|x| x.map(scaled)))
        }
    }
    .map(|mut samples| {
        // Bytes behind the sound (notes of an editor) are not sound: hound stops before them when
        // the header is right; a header that promises without end reads on to the end.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "bounded by the longest clip just checked"
        )]
        let most = (seconds * f64::from(spec.sample_rate)) as usize * usize::from(spec.channels);
        samples.truncate(most);
        samples
    })
}

/// What is there: a file that ends early ends the clip.
fn until_the_end(
    samples: impl Iterator<Item = Result<f32, hound::Error>>,
) -> Result<Vec<f32>, WavError> {
    let mut all = Vec::new();
    for sample in samples {
        match sample {
            Ok(sample) => all.push(sample),
            Err(hound::Error::IoError(_)) => break,
            Err(e) => return Err(unreadable(e)),
        }
    }
    Ok(all)
}

fn unreadable(error: hound::Error) -> WavError {
    match error {
        hound::Error::FormatError(said) => WavError::Unreadable(said.to_owned()),
        hound::Error::IoError(_) => {
            WavError::Unreadable("it ends before its header is complete".to_owned())
        }
        hound::Error::Unsupported => {
            WavError::Unreadable("it is of a kind that is not supported".to_owned())
        }
        other => WavError::Unreadable(other.to_string()),
    }
}

fn mix_down(samples: &[f32], channels: u16) -> Vec<f32> {
    match channels {
        2 => samples.as_chunks().0.iter().map(|[l, r]| f32::midpoint(*l, *r)).collect(),
        _ => samples.to_vec(),
    }
}

fn resampled(samples: Vec<f32>, rate: u32) -> Result<Vec<f32>, WavError> {
    if rate == Clip::RATE || samples.is_empty() {
        return Ok(samples);
    }
    let failed = |said: String| WavError::Unreadable(format!("it cannot be resampled: {said}"));
    let mut resampler =
        Fft::<f32>::new(rate as usize, Clip::RATE as usize, 1024, 1, FixedSync::Input)
            .map_err(|e| failed(e.to_string()))?;
    let input =
        InterleavedSlice::new(&samples, 1, samples.len()).map_err(|e| failed(e.to_string()))?;
    let output =
        resampler.process_all(&input, samples.len(), None).map_err(|e| failed(e.to_string()))?;
    Ok(output.take_data())
}

/// What a file that is no WAV seems to be, from its first bytes.
fn kind_of(first: &[u8]) -> Option<&'static str> {
    const KINDS: [(&[u8], &str); 8] = [
        (b"\xff\xd8\xff", "a JPEG picture"),
        (b"\x89PNG", "a PNG picture"),
        (b"ID3", "an MP3 file"),
        (b"\xff\xfb", "an MP3 file"),
        (b"OggS", "an Ogg file"),
        (b"fLaC", "a FLAC file"),
        (b"caff", "a CAF file"),
        (b"%PDF", "a PDF document"),
    ];
    if first.get(4..8) == Some(b"ftyp") {
        return Some("an MP4, M4A or HEIC file");
    }
    KINDS.iter().find(|(magic, _)| first.starts_with(magic)).map(|&(_, kind)| kind)
}
