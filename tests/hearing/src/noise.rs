//! The noises of a shop, computed. Each is made anew for each clip from its stream, so that no
//! two clips share one.

use std::f32::consts::TAU;

use rand::RngExt;
use rand_chacha::ChaCha8Rng;

use crate::clip::{RATE, rms, scale};

/// A kind of noise.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "kebab-case")]
pub enum Noise {
    /// Air that leaks from a hose and never stops.
    AirHiss,
    /// A compressor: mains hum, and a piston that thumps.
    Compressor,
    /// A starter motor: gear whine that sags with each compression.
    Starter,
    /// A ratchet wrench: clicks in bursts.
    Ratchet,
    /// Other people talking, as from a radio in the corner.
    Babble,
}

impl Noise {
    /// Every kind.
    pub const ALL: [Self; 5] =
        [Self::AirHiss, Self::Compressor, Self::Starter, Self::Ratchet, Self::Babble];

    /// The name in manifests.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::AirHiss => "air-hiss",
            Self::Compressor => "compressor",
            Self::Starter => "starter",
            Self::Ratchet => "ratchet",
            Self::Babble => "babble",
        }
    }

    /// The kind of this name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }

    /// So many samples of it. `talk` is what the babble is made of: other voices, said
    /// beforehand; the other kinds do not use it.
    #[must_use]
    pub fn make(self, count: usize, talk: &[Vec<f32>], random: &mut ChaCha8Rng) -> Vec<f32> {
        let mut sound = match self {
            Self::AirHiss => air_hiss(count, random),
            Self::Compressor => compressor(count, random),
            Self::Starter => starter(count, random),
            Self::Ratchet => ratchet(count, random),
            Self::Babble => babble(count, talk, random),
        };
        let level = rms(&sound);
        if level > 0.0 {
            scale(&mut sound, 0.1 / level);
        }
        sound
    }
}

fn white(random: &mut ChaCha8Rng) -> f32 {
    random.random_range(-1.0..1.0)
}

/// Time of a sample in seconds.
fn seconds(sample: usize) -> f32 {
    sample as f32 / RATE as f32
}

/// First-order low pass, in place.
fn low_pass(samples: &mut [f32], hertz: f32) {
    let follow = 1.0 - (-TAU * hertz / RATE as f32).exp();
    let mut state = 0.0;
    for sample in samples {
        state += follow * (*sample - state);
        *sample = state;
    }
}

/// First-order high pass, in place.
fn high_pass(samples: &mut [f32], hertz: f32) {
    let mut low = samples.to_vec();
    low_pass(&mut low, hertz);
    for (sample, low) in samples.iter_mut().zip(low) {
        *sample -= low;
    }
}

fn air_hiss(count: usize, random: &mut ChaCha8Rng) -> Vec<f32> {
    let mut sound: Vec<f32> = (0..count).map(|_| white(random)).collect();
    high_pass(&mut sound, random.random_range(900.0..2_200.0));
    low_pass(&mut sound, random.random_range(4_500.0..7_500.0));
    // The hose whistles a little and the stream flutters.
    let whistle = TAU * random.random_range(2_500.0..5_000.0);
    let share = random.random_range(0.0..0.15);
    let flutter = TAU * random.random_range(0.3..3.0);
    for (i, sample) in sound.iter_mut().enumerate() {
        let t = seconds(i);
        *sample = (*sample + share * (whistle * t).sin()) * (1.0 + 0.15 * (flutter * t).sin());
    }
    sound
}

fn compressor(count: usize, random: &mut ChaCha8Rng) -> Vec<f32> {
    let mains = if random.random_bool(0.5) { 50.0 } else { 60.0 };
    let heights: Vec<f32> = [0.5, 1.0, 0.3, 0.5, 0.15, 0.25]
        .iter()
        .map(|h| h * random.random_range(0.5..1.5))
        .collect();
    let phases: Vec<f32> = heights.iter().map(|_| random.random_range(0.0..TAU)).collect();
    let strokes = random.random_range(7.0..15.0);
    let thump = TAU * random.random_range(55.0..110.0);
    let mut sound: Vec<f32> = (0..count).map(|_| white(random)).collect();
    // The motor's fan and the valves' rattle.
    low_pass(&mut sound, random.random_range(500.0..1_500.0));
    for (i, sample) in sound.iter_mut().enumerate() {
        let t = seconds(i);
        let hum: f32 = (1_u8..)
            .zip(heights.iter().zip(&phases))
            .map(|(n, (height, phase))| height * (TAU * mains * f32::from(n) * t + phase).sin())
            .sum();
        let since = (t * strokes).fract() / strokes;
        let beat = (-since * 35.0).exp();
        *sample = 0.35 * hum + 2.0 * beat * (thump * since).sin() + *sample * (0.6 + 2.0 * beat);
    }
    sound
}

fn starter(count: usize, random: &mut ChaCha8Rng) -> Vec<f32> {
    let whine = random.random_range(380.0..900.0);
    // 150 to 300 turns a minute, four to eight cylinders, each compresses every second turn.
    let compressions = random.random_range(150.0..300.0) / 60.0 * random.random_range(2.0..4.0);
    let sag = random.random_range(0.06..0.18);
    let mut sound: Vec<f32> = (0..count).map(|_| white(random)).collect();
    low_pass(&mut sound, random.random_range(1_500.0..4_000.0));
    let mut turn = 0.0_f32;
    for (i, sample) in sound.iter_mut().enumerate() {
        let load = 0.5 - 0.5 * (TAU * compressions * seconds(i)).cos();
        turn = (turn + whine * (1.0 - sag * load) / RATE as f32).fract();
        let gear: f32 = [1.0, 0.7, 0.5, 0.35, 0.2]
            .iter()
            .zip(1_u8..)
            .map(|(height, n)| height * (TAU * turn * f32::from(n)).sin())
            .sum();
        *sample = gear * (0.55 + 0.45 * load) + *sample * (0.4 + 1.2 * load);
    }
    sound
}

fn ratchet(count: usize, random: &mut ChaCha8Rng) -> Vec<f32> {
    // Between the bursts the rest of the shop is never quite still.
    let mut sound: Vec<f32> = (0..count).map(|_| white(random)).collect();
    low_pass(&mut sound, 700.0);
    scale(&mut sound, 0.06);
    let mut at = random.random_range(0.0..0.3);
    while at < seconds(count) {
        let clicks = random.random_range(4..14);
        let gap = 1.0 / random.random_range(14.0..32.0);
        for _ in 0..clicks {
            click(&mut sound, at, random);
            at += gap * random.random_range(0.9..1.1);
        }
        at += random.random_range(0.15..0.7);
    }
    sound
}

/// A short ring of metal at a time.
fn click(sound: &mut [f32], at: f32, random: &mut ChaCha8Rng) {
    let pitch = TAU * random.random_range(1_800.0..5_200.0);
    let second = pitch * random.random_range(1.3..1.7);
    let fall = random.random_range(120.0..500.0);
    let height = random.random_range(0.5..1.0);
    let start = crate::clip::samples_in(at);
    for (i, sample) in sound.iter_mut().skip(start).take(1_600).enumerate() {
        let t = seconds(i);
        let strike = if t < 0.001 { white(random) } else { 0.0 };
        let ring = (pitch * t).sin() + 0.6 * (second * t).sin();
        *sample += height * (-fall * t).exp() * (ring + strike);
    }
}

fn babble(count: usize, talk: &[Vec<f32>], random: &mut ChaCha8Rng) -> Vec<f32> {
    let mut sound = vec![0.0; count];
    if talk.is_empty() {
        return sound;
    }
    for _ in 0..4 {
        // Each talker starts somewhere and goes on through the talk there is.
        let loudness = random.random_range(0.5..1.0);
        let mut at = 0;
        let mut skip = random.random_range(0..crate::clip::RATE as usize);
        while at < count {
            let piece = &talk[random.random_range(0..talk.len())];
            for &sample in piece.iter().skip(skip) {
                let Some(place) = sound.get_mut(at) else { break };
                *place += loudness * sample;
                at += 1;
            }
            skip = 0;
            at += random.random_range(0..4_000);
        }
    }
    // A small loudspeaker.
    high_pass(&mut sound, 300.0);
    low_pass(&mut sound, 3_400.0);
    sound
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seed::stream;

    fn talk() -> Vec<Vec<f32>> {
        vec![(0..16_000_u16).map(|i| (f32::from(i) * 0.2).sin()).collect()]
    }

    #[test]
    fn each_kind_is_the_same_for_a_seed_and_different_for_another() {
        for kind in Noise::ALL {
            let make = |name| kind.make(8_000, &talk(), &mut stream(1, name));
            assert_eq!(make("a"), make("a"), "{}", kind.name());
            assert_ne!(make("a"), make("b"), "{}", kind.name());
        }
    }

    #[test]
    fn each_kind_has_the_same_level_and_no_wild_sample() {
        for kind in Noise::ALL {
            let sound = kind.make(32_000, &talk(), &mut stream(7, "level"));
            assert_eq!(sound.len(), 32_000);
            assert!((rms(&sound) - 0.1).abs() < 1e-3, "{}", kind.name());
            assert!(sound.iter().all(|s| s.is_finite()), "{}", kind.name());
        }
    }

    /// The share of the power above 1 kHz tells hiss from hum.
    #[test]
    fn hiss_is_high_and_the_compressor_is_low() {
        let high_share = |kind: Noise| {
            let sound = kind.make(32_000, &[], &mut stream(3, "share"));
            let mut high = sound.clone();
            high_pass(&mut high, 1_000.0);
            rms(&high) / rms(&sound)
        };
        assert!(high_share(Noise::AirHiss) > 0.7);
        assert!(high_share(Noise::Compressor) < 0.4);
    }

    #[test]
    fn names_go_there_and_back() {
        for kind in Noise::ALL {
            assert_eq!(Noise::named(kind.name()), Some(kind));
        }
    }
}
