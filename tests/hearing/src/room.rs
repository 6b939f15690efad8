//! The sound of a room: a computed impulse response, folded into a clip.

use rand::RngExt;
use rand_chacha::ChaCha8Rng;
use realfft::RealFftPlanner;

use crate::clip::{RATE, rms, samples_in, scale, speech_level};

/// A room with hard walls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Seconds until the sound has fallen by 60 dB.
    pub decay: f32,
    /// How far the direct sound is above all that comes back, in decibels.
    pub direct_db: f32,
}

impl Room {
    /// A garage or a hall, spoken into a phone an arm away or further.
    #[must_use]
    pub fn any(random: &mut ChaCha8Rng) -> Self {
        Self { decay: random.random_range(0.3..0.9), direct_db: random.random_range(0.0..10.0) }
    }

    /// The direct sound, a few early echoes, and a tail that falls exponentially.
    fn impulse_response(self, random: &mut ChaCha8Rng) -> Vec<f32> {
        let length = samples_in(self.decay).max(1);
        // Sixty decibels is a factor of 1000 in amplitude.
        let fall = 1_000.0_f32.ln() / self.decay;
        let mut tail: Vec<f32> = (0..length)
            .map(|i| {
                let t = i as f32 / RATE as f32;
                // The tail begins once the walls have been reached.
                if t < 0.004 { 0.0 } else { random.random_range(-1.0..1.0) * (-fall * t).exp() }
            })
            .collect();
        for _ in 0..6 {
            let at = samples_in(random.random_range(0.003..0.04));
            let height = random.random_range(1.0..4.0) * (-fall * at as f32 / RATE as f32).exp();
            if let Some(sample) = tail.get_mut(at) {
                *sample += if random.random_bool(0.5) { height } else { -height };
            }
        }
        let energy = rms(&tail) * (tail.len() as f32).sqrt();
        if energy > 0.0 {
            scale(&mut tail, crate::clip::from_db(-self.direct_db) / energy);
        }
        tail[0] += 1.0;
        tail
    }

    /// The clip as heard in the room, at the level it had, with the tail's length added.
    #[must_use]
    pub fn hear(self, clip: &[f32], random: &mut ChaCha8Rng) -> Vec<f32> {
        let mut heard = convolve(clip, &self.impulse_response(random));
        let level = speech_level(&heard);
        if level > 0.0 {
            scale(&mut heard, speech_level(clip) / level);
        }
        heard
    }
}

fn convolve(a: &[f32], b: &[f32]) -> Vec<f32> {
    let length = a.len() + b.len() - 1;
    let size = length.next_power_of_two();
    let mut planner = RealFftPlanner::<f32>::new();
    let (forward, inverse) = (planner.plan_fft_forward(size), planner.plan_fft_inverse(size));
    let spectrum = |samples: &[f32]| {
        let mut padded = samples.to_vec();
        padded.resize(size, 0.0);
        let mut spectrum = forward.make_output_vec();
        forward.process(&mut padded, &mut spectrum).expect("buffers were made for this plan");
        spectrum
    };
    let mut product = spectrum(a);
    for (value, other) in product.iter_mut().zip(spectrum(b)) {
        *value *= other;
    }
    let mut output = inverse.make_output_vec();
    // The ends of a real signal's spectrum are real; rounding leaves dust the library refuses.
    if let [first, .., last] = product.as_mut_slice() {
        first.im = 0.0;
        last.im = 0.0;
    }
    inverse.process(&mut product, &mut output).expect("buffers were made for this plan");
    output.truncate(length);
    scale(&mut output, 1.0 / size as f32);
    output
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seed::stream;

    #[test]
    fn convolution_is_the_sum_it_is_defined_as() {
        let (a, b) = ([1.0, 2.0, 3.0], [0.5, -1.0]);
        let expected = [0.5, 0.0, -0.5, -3.0];
        let got = convolve(&a, &b);
        assert!(got.iter().zip(expected).all(|(g, e)| (g - e).abs() < 1e-6), "{got:?}");
    }

    /// Schroeder's backward integration (J. Acoust. Soc. Am. 37, 1965): the energy left falls by
    /// 60 dB over the decay time. Read from -5 to -25 dB, as ISO 3382 does for T20.
    #[test]
    fn the_decay_is_the_one_asked_for() {
        for decay in [0.3, 0.6, 0.9] {
            let room = Room { decay, direct_db: -10.0 };
            let response = room.impulse_response(&mut stream(5, "decay"));
            let mut left: Vec<f64> = response
                .iter()
                .rev()
                .scan(0.0, |sum, &s| {
                    *sum += f64::from(s) * f64::from(s);
                    Some(*sum)
                })
                .collect();
            left.reverse();
            let down = |db: f64| {
                let level = left[0] * 10.0_f64.powf(db / 10.0);
                left.iter().position(|&l| l < level).unwrap() as f32 / RATE as f32
            };
            let measured = 3.0 * (down(-25.0) - down(-5.0));
            assert!((measured / decay - 1.0).abs() < 0.2, "{measured} for {decay}");
        }
    }

    #[test]
    fn the_room_keeps_the_level() {
        let clip: Vec<f32> = (0..16_000_u16).map(|i| (f32::from(i) * 0.3).sin() * 0.2).collect();
        let mut random = stream(9, "level");
        let heard = Room::any(&mut random).hear(&clip, &mut random);
        assert!(heard.len() > clip.len());
        assert!((speech_level(&heard) / speech_level(&clip) - 1.0).abs() < 1e-3);
    }
}
