//! A clip: mono sound at 16 kHz, and what is done to it.

use std::path::Path;

use rubato::audioadapter_buffers::owned::InterleavedOwned;
use rubato::{Fft, FixedSync, Resampler};
use thiserror::Error;

/// Samples a second of every clip.
pub const RATE: u32 = 16_000;

/// Why a clip could not be read, made or written.
#[derive(Debug, Error)]
pub enum ClipError {
    /// Not a wave file, or it could not be read or written.
    #[error("clip {path}: {source}")]
    Wave {
        /// The file.
        path: String,
        /// What went wrong.
        source: hound::Error,
    },
    /// Not a kind of wave file that is used here.
    #[error("clip {path}: given {given}, allowed is 16-bit mono")]
    Format {
        /// The file.
        path: String,
        /// What it is.
        given: String,
    },
    /// It could not be brought to 16 kHz.
    #[error("clip {path}: cannot be brought from {from} Hz to 16000 Hz: {why}")]
    Rate {
        /// The file.
        path: String,
        /// Its rate.
        from: u32,
        /// What the library says.
        why: String,
    },
}

/// Reads a 16-bit mono wave file and brings it to 16 kHz.
///
/// # Errors
/// [`ClipError`] when it is not such a file.
pub fn read(path: &Path) -> Result<Vec<f32>, ClipError> {
    let name = path.display().to_string();
    let wave = |source| ClipError::Wave { path: name.clone(), source };
    let mut reader = hound::WavReader::open(path).map_err(wave)?;
    let spec = reader.spec();
    if spec.channels != 1 || spec.bits_per_sample != 16 {
        let given = format!("{} channels, {} bit", spec.channels, spec.bits_per_sample);
        return Err(ClipError::Format { path: name, given });
    }
    let samples: Vec<f32> = reader
        .samples::<i16>()
        .map(|s| s.map(|s| f32::from(s) / 32_768.0))
        .collect::<Result<_, _>>()
        .map_err(wave)?;
    if spec.sample_rate == RATE {
        return Ok(samples);
    }
    to_16k(samples, spec.sample_rate).map_err(|why| ClipError::Rate {
        path: name.clone(),
        from: spec.sample_rate,
        why,
    })
}

fn to_16k(samples: Vec<f32>, from: u32) -> Result<Vec<f32>, String> {
    let count = samples.len();
    let mut resampler = Fft::<f32>::new(from as usize, RATE as usize, 1_024, 1, FixedSync::Both)
        .map_err(|e| e.to_string())?;
    let input = InterleavedOwned::new_from(samples, 1, count).map_err(|e| e.to_string())?;
    let output = resampler.process_all(&input, count, None).map_err(|e| e.to_string())?;
    Ok(output.take_data())
}

/// Writes 16 kHz, 16-bit, mono. Samples outside -1 to 1 are cut.
///
/// # Errors
/// [`ClipError::Wave`] when the file cannot be written.
pub fn write(path: &Path, samples: &[f32]) -> Result<(), ClipError> {
    let wave = |source| ClipError::Wave { path: path.display().to_string(), source };
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: RATE,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut writer = hound::WavWriter::create(path, spec).map_err(wave)?;
    for sample in samples {
        #[expect(clippy::cast_possible_truncation, reason = "cut to the range of i16 first")]
        let whole = (sample.clamp(-1.0, 1.0) * 32_767.0).round() as i16;
        writer.write_sample(whole).map_err(wave)?;
    }
    writer.finalize().map_err(wave)
}

/// Number of samples in so many seconds.
#[must_use]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a clip's length in seconds, never negative and far below the limits"
)]
pub fn samples_in(seconds: f32) -> usize {
    (seconds * RATE as f32).round() as usize
}

/// Root mean square of the samples. 0 for none.
#[must_use]
pub fn rms(samples: &[f32]) -> f32 {
    if samples.is_empty() {
        return 0.0;
    }
    let sum: f64 = samples.iter().map(|&s| f64::from(s) * f64::from(s)).sum();
    #[expect(clippy::cast_possible_truncation, reason = "a level, six digits are plenty")]
    let level = (sum / samples.len() as f64).sqrt() as f32;
    level
}

/// Root mean square over the 20 ms frames that hold speech: those within 30 dB of the loudest.
/// Pauses would otherwise make a slow speaker count as a quiet one.
#[must_use]
pub fn speech_level(samples: &[f32]) -> f32 {
    let frames: Vec<f32> = samples.chunks(320).map(rms).collect();
    let loudest = frames.iter().copied().fold(0.0, f32::max);
    let floor = loudest * from_db(-30.0);
    let active: Vec<f32> = frames.into_iter().filter(|&level| level > floor).collect();
    rms(&active)
}

/// The factor on amplitude of so many decibels.
#[must_use]
pub fn from_db(db: f32) -> f32 {
    10.0_f32.powf(db / 20.0)
}

/// Multiplies all samples.
pub fn scale(samples: &mut [f32], factor: f32) {
    for sample in samples {
        *sample *= factor;
    }
}

/// Cuts the silence at both ends, more than 45 dB below the loudest 10 ms.
pub fn trim(samples: &mut Vec<f32>) {
    let levels: Vec<f32> = samples.chunks(160).map(rms).collect();
    let floor = levels.iter().copied().fold(0.0, f32::max) * from_db(-45.0);
    let Some(first) = levels.iter().position(|&level| level > floor) else {
        samples.clear();
        return;
    };
    let last = levels.iter().rposition(|&level| level > floor).unwrap_or(first);
    samples.truncate((last + 1) * 160);
    samples.drain(..first * 160);
}

/// The same with silence before and after.
#[must_use]
pub fn padded(samples: &[f32], before: f32, after: f32) -> Vec<f32> {
    let mut all = vec![0.0; samples_in(before)];
    all.extend_from_slice(samples);
    all.resize(all.len() + samples_in(after), 0.0);
    all
}

/// Adds `noise` so that the speech in `clip` is `snr_db` above it. Speech is measured by
/// [`speech_level`], noise over its whole length. `noise` is repeated when it is shorter.
pub fn add_noise(clip: &mut [f32], noise: &[f32], snr_db: f32) {
    let level = rms(noise);
    if level <= 0.0 {
        return;
    }
    let factor = speech_level(clip) / level / from_db(snr_db);
    for (sample, noise) in clip.iter_mut().zip(noise.iter().cycle()) {
        *sample += noise * factor;
    }
}

/// Turns the whole down where it would be cut on writing.
pub fn keep_from_clipping(samples: &mut [f32]) {
    let peak = samples.iter().fold(0.0_f32, |peak, s| peak.max(s.abs()));
    if peak > 0.98 {
        scale(samples, 0.98 / peak);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tone(hertz: f32, rate: f32, seconds: f32, height: f32) -> Vec<f32> {
        let turn = std::f32::consts::TAU * hertz / rate;
        (0_u16..)
            .take(samples_in(seconds * rate / RATE as f32))
            .map(|i| (turn * f32::from(i)).sin() * height)
            .collect()
    }

    #[test]
    fn a_sine_has_the_level_of_a_sine() {
        let level = rms(&tone(400.0, 16_000.0, 1.0, 0.5));
        assert!((level - 0.5 / 2.0_f32.sqrt()).abs() < 1e-4, "{level}");
    }

    #[test]
    fn pauses_do_not_change_the_speech_level() {
        let speech = tone(400.0, 16_000.0, 1.0, 0.5);
        let with_pauses = padded(&speech, 1.0, 1.0);
        assert!((speech_level(&speech) - speech_level(&with_pauses)).abs() < 1e-4);
    }

    #[test]
    fn noise_comes_in_at_the_ratio_asked_for() {
        let speech = padded(&tone(400.0, 16_000.0, 1.0, 0.5), 0.5, 0.5);
        for snr in [20.0, 10.0, 0.0] {
            let mut mixed = speech.clone();
            add_noise(&mut mixed, &tone(1_777.0, 16_000.0, 0.7, 0.1), snr);
            let added: Vec<f32> = mixed.iter().zip(&speech).map(|(m, s)| m - s).collect();
            let measured = 20.0 * (speech_level(&speech) / rms(&added)).log10();
            assert!((measured - snr).abs() < 0.1, "{measured} for {snr}");
        }
    }

    #[test]
    fn a_tone_stays_a_tone_when_brought_to_16_khz() {
        let mut brought = to_16k(tone(1_000.0, 22_050.0, 1.0, 0.5), 22_050).unwrap();
        assert!(brought.len().abs_diff(16_000) <= 1, "{}", brought.len());
        brought.truncate(15_000);
        let crossings = brought.windows(2).filter(|w| w[0] < 0.0 && w[1] >= 0.0).count();
        assert!(crossings.abs_diff(937) <= 1, "{crossings}");
    }

    #[test]
    fn trimming_leaves_the_speech_and_no_more() {
        let speech = tone(400.0, 16_000.0, 0.5, 0.5);
        let mut clip = padded(&speech, 0.3, 0.4);
        trim(&mut clip);
        assert!(clip.len().abs_diff(speech.len()) <= 160, "{}", clip.len());
    }

    #[test]
    fn what_is_written_is_read_back() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.wav");
        let clip = tone(440.0, 16_000.0, 0.1, 0.5);
        write(&path, &clip).unwrap();
        let back = read(&path).unwrap();
        assert_eq!(back.len(), clip.len());
        assert!(back.iter().zip(&clip).all(|(a, b)| (a - b).abs() < 1e-4));
    }
}
