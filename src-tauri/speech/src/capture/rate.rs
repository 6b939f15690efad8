//! Bringing a stream to 16 kHz.

use rubato::audioadapter_buffers::owned::InterleavedOwned;
use rubato::{Fft, FixedSync, Resampler};

use super::CaptureError;

/// Frames that are brought over at once.
const CHUNK: usize = 1_024;
/// Samples a second that come out.
const RATE: u32 = 16_000;

/// Brings a stream of any rate to 16 kHz, piece by piece.
pub struct To16k {
    resampler: Option<Fft<f32>>,
    pending: Vec<f32>,
}

impl To16k {
    /// From this rate.
    ///
    /// # Errors
    /// [`CaptureError::Unsupported`] for a rate that no microphone has: below 4 or above 384 kHz.
    pub fn from(rate: u32) -> Result<Self, CaptureError> {
        let unsupported =
            || CaptureError::Unsupported { given: format!("{rate} samples a second") };
        if !(4_000..=384_000).contains(&rate) {
            return Err(unsupported());
        }
        let resampler = (rate != RATE)
            .then(|| Fft::new(rate as usize, RATE as usize, CHUNK, 1, FixedSync::Input))
            .transpose()
            .map_err(|_| unsupported())?;
        Ok(Self { resampler, pending: Vec::new() })
    }

    /// Takes in a piece and gives what is ready.
    ///
    /// # Errors
    /// [`CaptureError::System`] when the resampler refuses, which it does not for chunks of its own
    /// size.
    pub fn push(&mut self, samples: &[f32]) -> Result<Vec<f32>, CaptureError> {
        let Some(resampler) = &mut self.resampler else { return Ok(samples.to_vec()) };
        self.pending.extend_from_slice(samples);
        let mut ready = Vec::new();
        loop {
            let wanted = resampler.input_frames_next();
            if self.pending.len() < wanted {
                return Ok(ready);
            }
            let rest = self.pending.split_off(wanted);
            let chunk = std::mem::replace(&mut self.pending, rest);
            let system = |problem: String| CaptureError::System(problem);
            let chunk =
                InterleavedOwned::new_from(chunk, 1, wanted).map_err(|e| system(e.to_string()))?;
            let brought = resampler.process(&chunk, None).map_err(|e| system(e.to_string()))?;
            ready.extend(brought.take_data());
        }
    }

    /// What is left at the end of the stream: the last, unfilled chunk and what is still inside.
    ///
    /// # Errors
    /// As [`To16k::push`].
    pub fn finish(&mut self) -> Result<Vec<f32>, CaptureError> {
        let Some(resampler) = &self.resampler else { return Ok(Vec::new()) };
        let silence = 2 * resampler.input_frames_next();
        self.push(&vec![0.0; silence])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tone(rate: u32, count: u32) -> Vec<f32> {
        let turn = f64::from(std::f32::consts::TAU) * 440.0 / f64::from(rate);
        #[expect(clippy::cast_possible_truncation, reason = "a test tone")]
        (0..count).map(|i| (turn * f64::from(i)).sin() as f32 * 0.5).collect()
    }

    /// A 440 Hz tone stays one, at its height, whatever the rate and the pieces.
    #[test]
    fn a_tone_stays_a_tone() {
        for rate in [8_000, 16_000, 22_050, 44_100, 48_000, 96_000] {
            for piece in [1, 160, 5_000] {
                let mut to = To16k::from(rate).unwrap();
                let mut out = Vec::new();
                for part in tone(rate, rate).chunks(piece) {
                    out.extend(to.push(part).unwrap());
                }
                out.extend(to.finish().unwrap());
                assert!(out.len() >= 15_900, "{rate}: {}", out.len());
                let middle = &out[2_000..14_000];
                let crossings = middle.windows(2).filter(|w| w[0] < 0.0 && w[1] >= 0.0).count();
                assert!(crossings.abs_diff(330) <= 1, "{rate}: {crossings}");
                let peak = middle.iter().fold(0.0_f32, |peak, s| peak.max(s.abs()));
                assert!((peak - 0.5).abs() < 0.01, "{rate}: {peak}");
            }
        }
    }

    #[test]
    fn a_rate_no_microphone_has_is_refused_by_name() {
        let refusal = To16k::from(0).err().unwrap().to_string();
        assert_eq!(refusal, "the microphone gives 0 samples a second, which cannot be read");
    }
}
