//! Scoring a frame: how much it sounds like a voice.

use std::fmt;

/// Samples in a frame: 16 ms at 16 kHz.
pub const FRAME: usize = 256;

/// Scores frames of sound, one after the other.
pub trait VoiceDetector {
    /// How much the newest frame sounds like a voice, from 0 to 1. The frame has [`FRAME`] samples
    /// between -1 and 1; what was scored before may count.
    fn score(&mut self, frame: &[f32]) -> f32;
}

/// The small network of the crate `earshot`.
///
/// Chosen by measurement over `nnnoiseless`: in starter whine its area under the ROC curve is 0.93,
/// 0.93, 0.87 at 10, 5, 0 dB against 0.80, 0.64, 0.47; in other steady noise the two are within
/// 0.03; and it takes a fortieth of the time.
pub struct EarshotDetector(Box<earshot::Detector>);

impl Default for EarshotDetector {
    fn default() -> Self {
        Self(earshot::Detector::default_boxed())
    }
}

impl fmt::Debug for EarshotDetector {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("EarshotDetector")
    }
}

impl VoiceDetector for EarshotDetector {
    fn score(&mut self, frame: &[f32]) -> f32 {
        self.0.predict_f32(frame).clamp(0.0, 1.0)
    }
}
