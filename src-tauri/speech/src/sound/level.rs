//! How loud a clip is: its speech and what is behind it.

/// Samples in a frame of 20 ms.
const FRAME: usize = 320;

/// The level of nothing, so that no logarithm of nought is taken.
const FLOOR: f64 = 1e-10;

/// Levels of a clip, in decibels below full scale (a sine of full scale is at -3).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Levels {
    /// The loud frames: the level that one frame in ten is above.
    pub loud: f64,
    /// The quiet frames: the level that one frame in ten is below.
    pub quiet: f64,
}

impl Levels {
    /// Of samples; a clip without a whole frame is as loud as nothing.
    #[must_use]
    pub fn of(samples: &[f32]) -> Self {
        let mut frames: Vec<f64> = samples
            .chunks_exact(FRAME)
            .map(|frame| {
                // Without the mean: a constant offset is not sound.
                let mean = frame.iter().map(|&x| f64::from(x)).sum::<f64>() / FRAME as f64;
                let power = frame.iter().map(|&x| (f64::from(x) - mean).powi(2)).sum::<f64>();
                10.0 * (power / FRAME as f64).max(FLOOR).log10()
            })
            .collect();
        frames.sort_by(f64::total_cmp);
        let at = |tenths: usize| {
            frames.get((frames.len() * tenths / 10).min(frames.len().saturating_sub(1))).copied()
        };
        let nothing = 10.0 * FLOOR.log10();
        Self { loud: at(9).unwrap_or(nothing), quiet: at(1).unwrap_or(nothing) }
    }

    /// Whether there is nothing to hear: the loud parts are below -65 dB of full scale, where a
    /// 16-bit recording has only a few steps left.
    #[must_use]
    pub fn is_silence(self) -> bool {
        self.loud < -65.0
    }

    /// The loud above the quiet: an estimate of the ratio of speech to noise, in decibels. It is
    /// low for steady noise and for a clip without a pause, high for clean speech.
    #[must_use]
    pub fn contrast(self) -> f64 {
        self.loud - self.quiet
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sine(amplitude: f32, n: usize) -> impl Iterator<Item = f32> {
        (0..n).map(move |i| amplitude * (i as f32 * 0.2).sin())
    }

    #[test]
    fn a_sine_of_full_scale_is_at_minus_three() {
        let levels = Levels::of(&sine(1.0, 32_000).collect::<Vec<_>>());
        assert!((levels.loud + 3.0).abs() < 0.2, "{levels:?}");
        assert!(levels.contrast() < 0.5, "{levels:?}");
    }

    #[test]
    fn contrast_is_the_step_between_loud_and_quiet() {
        let samples: Vec<f32> = sine(0.5, 16_000).chain(sine(0.05, 16_000)).collect();
        let levels = Levels::of(&samples);
        assert!((levels.contrast() - 20.0).abs() < 0.5, "{levels:?}");
    }

    #[test]
    fn nothing_and_a_constant_are_silence() {
        assert!(Levels::of(&[]).is_silence());
        assert!(Levels::of(&[0.4; 8000]).is_silence());
        assert!(!Levels::of(&sine(0.01, 8000).collect::<Vec<_>>()).is_silence());
    }
}
