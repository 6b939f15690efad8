//! The mel filters that the recogniser reads from its weights file.

use libm::{exp, log};

/// Filters.
pub const FILTERS: usize = 80;
/// Bins of a spectrum of 400 samples.
pub const BINS: usize = 201;

const RATE: f64 = 16_000.0;

// Slaney's scale: straight to 1 kHz, logarithmic above.
const HZ_PER_MEL: f64 = 200.0 / 3.0;
const BREAK_HZ: f64 = 1000.0;
const BREAK_MEL: f64 = BREAK_HZ / HZ_PER_MEL;

fn log_step() -> f64 {
    log(6.4) / 27.0
}

fn to_mel(hz: f64) -> f64 {
    if hz < BREAK_HZ { hz / HZ_PER_MEL } else { BREAK_MEL + log(hz / BREAK_HZ) / log_step() }
}

fn to_hz(mel: f64) -> f64 {
    if mel < BREAK_MEL { mel * HZ_PER_MEL } else { BREAK_HZ * exp(log_step() * (mel - BREAK_MEL)) }
}

/// The filters, [`FILTERS`] rows of [`BINS`]: triangles on Slaney's mel scale from 0 to 8 kHz, each
/// of unit area. Pure-Rust `exp` and `log`, so that every machine makes the same bytes.
#[must_use]
#[expect(clippy::cast_possible_truncation, reason = "the file holds single precision")]
pub fn filters() -> Vec<f32> {
    let top = to_mel(RATE / 2.0);
    let edges: Vec<f64> =
        (0..FILTERS + 2).map(|i| to_hz(top * i as f64 / (FILTERS + 1) as f64)).collect();
    let mut rows = Vec::with_capacity(FILTERS * BINS);
    for edge in edges.windows(3) {
        let (low, centre, high) = (edge[0], edge[1], edge[2]);
        for bin in 0..BINS {
            let hz = RATE / 2.0 * bin as f64 / (BINS - 1) as f64;
            let rising = (hz - low) / (centre - low);
            let falling = (high - hz) / (high - centre);
            rows.push((rising.min(falling).max(0.0) * 2.0 / (high - low)) as f32);
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    // `mel_filters.npz` of openai/whisper (made by `librosa.filters.mel(sr=16000, n_fft=400,
    // n_mels=80)`): its first filter has one bin, 0.02486. Value from memory.
    #[test]
    fn first_filter_has_one_bin() {
        let all = filters();
        let first: Vec<f32> = all[..BINS].iter().copied().filter(|&x| x > 0.0).collect();
        assert_eq!(first.len(), 1);
        assert!((first[0] - 0.024_862_6).abs() < 1e-6, "{first:?}");
    }

    #[test]
    fn every_filter_has_about_unit_area() {
        let all = filters();
        for row in all.chunks(BINS).skip(40) {
            let area: f32 = row.iter().sum::<f32>() * 40.0;
            assert!((area - 1.0).abs() < 0.1, "{area}");
        }
    }
}
