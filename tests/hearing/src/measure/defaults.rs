//! The speech library as it comes: what the speed is compared with.

use std::path::Path;
use std::time::{Duration, Instant};

use whisper_rs::{FullParams, SamplingStrategy, WhisperContext, WhisperContextParameters};

use super::MeasureError;

/// whisper-rs with its default parameters (greedy): the whole 30 s window, no prompt, its own number of
/// threads, retries at higher temperatures.
pub struct Defaults {
    context: WhisperContext,
}

impl Defaults {
    /// Loads weights.
    ///
    /// # Errors
    /// [`MeasureError::Hearer`] when they cannot be loaded.
    pub fn load(weights: &Path) -> Result<Self, MeasureError> {
        let context = WhisperContext::new_with_params(weights, WhisperContextParameters::default())
            .map_err(|e| MeasureError::Hearer(e.to_string()))?;
        Ok(Self { context })
    }

    /// Writes down a clip. The time is that of the recognition alone, without making its state.
    ///
    /// # Errors
    /// [`MeasureError::Hearer`] when the library fails.
    pub fn write_down(&self, clip: &[f32]) -> Result<(String, Duration), MeasureError> {
        let failed = |e: whisper_rs::WhisperError| MeasureError::Hearer(e.to_string());
        let mut state = self.context.create_state().map_err(failed)?;
        let mut parameters = FullParams::new(SamplingStrategy::Greedy { best_of: 1 });
        // Only what it prints is turned off; nothing that changes its work.
        parameters.set_print_progress(false);
        parameters.set_print_realtime(false);
        parameters.set_print_timestamps(false);
        parameters.set_print_special(false);
        let begun = Instant::now();
        state.full(parameters, clip).map_err(failed)?;
        let took = begun.elapsed();
        let text = state
            .as_iter()
            .map(|segment| segment.to_str_lossy().map(|t| t.into_owned()).unwrap_or_default())
            .collect();
        Ok((text, took))
    }
}
