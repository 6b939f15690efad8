//! Sound as the recogniser wants it: 16 kHz, one channel, single precision.

mod level;
mod wav;

pub use level::Levels;
pub use wav::WavError;

use std::time::Duration;

/// A stretch of sound, at [`Clip::RATE`], one channel, full scale at 1.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Clip {
    samples: Vec<f32>,
    cut_short: bool,
}

impl Clip {
    /// Samples per second.
    pub const RATE: u32 = 16_000;

    /// The longest clip that is read, and the longest utterance that is heard: what the recogniser
    /// can take in at once. A longer recording must be cut at its pauses first.
    pub const LONGEST: Duration = Duration::from_secs(30);

    /// A clip of samples that are at [`Clip::RATE`] already. What is not a number becomes silence.
    #[must_use]
    pub fn new(mut samples: Vec<f32>) -> Self {
        for sample in &mut samples {
            if !sample.is_finite() {
                *sample = 0.0;
            }
        }
        Self { samples, cut_short: false }
    }

    /// The samples.
    #[must_use]
    pub fn samples(&self) -> &[f32] {
        &self.samples
    }

    /// How long it lasts.
    #[must_use]
    pub fn duration(&self) -> Duration {
        Duration::from_secs_f64(self.samples.len() as f64 / f64::from(Self::RATE))
    }

    /// Whether the file it came from ended before it should have.
    #[must_use]
    pub const fn was_cut_short(&self) -> bool {
        self.cut_short
    }

    /// How loud the loud and the quiet parts are.
    #[must_use]
    pub fn levels(&self) -> Levels {
        Levels::of(&self.samples)
    }
}
