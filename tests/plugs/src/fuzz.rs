//! Files that are not what a phone wrote: bytes changed, cut, doubled, sizes made up.

use std::io::Cursor;
use std::time::{Duration, Instant};

use borespoke_photo::{Hints, read_plug};
use image::ImageFormat;
use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use crate::sets;

/// What became of the files.
#[derive(Debug, Default, Clone)]
pub struct Outcome {
    /// Read, as if nothing were wrong.
    pub read: u64,
    /// Refused with a reason.
    pub refused: u64,
    /// Numbers of the files that made the reader panic.
    pub panicked: Vec<u64>,
    /// The longest one took.
    pub slowest: Duration,
    /// Its number.
    pub slowest_number: u64,
}

/// Changes files by number and has them read.
#[must_use]
pub fn run(numbers: std::ops::Range<u64>) -> Outcome {
    let seeds = seeds();
    let mut outcome = Outcome::default();
    for number in numbers {
        let bytes = mutated(&seeds, number);
        let begun = Instant::now();
        let result = std::panic::catch_unwind(|| read_plug(&bytes, &Hints::default()).is_ok());
        let took = begun.elapsed();
        match result {
            Ok(true) => outcome.read += 1,
            Ok(false) => outcome.refused += 1,
            Err(_panic) => outcome.panicked.push(number),
        }
        if took > outcome.slowest {
            outcome.slowest = took;
            outcome.slowest_number = number;
        }
    }
    outcome
}

/// Small pictures of a plug in each format.
fn seeds() -> Vec<Vec<u8>> {
    let scene = &sets::set(0).scenes[0];
    let picture =
        image::imageops::resize(&scene.render(), 160, 120, image::imageops::FilterType::Triangle);
    let as_format = |format| {
        let mut bytes = Cursor::new(Vec::new());
        picture.write_to(&mut bytes, format).map(|()| bytes.into_inner()).unwrap_or_default()
    };
    let mut heif = heifer::Image::filled(160, 120, 8, [0, 0, 0, 255]);
    for (pixel, from) in heif.data.chunks_exact_mut(4).zip(picture.pixels()) {
        for (value, from) in pixel.iter_mut().zip(from.0) {
            *value = u16::from(from);
        }
    }
    let heic = heifer::encode(&heif, &heifer::EncodeOptions::default()).unwrap_or_default();
    vec![as_format(ImageFormat::Jpeg), as_format(ImageFormat::Png), heic]
}

/// The file with this number.
fn mutated(seeds: &[Vec<u8>], number: u64) -> Vec<u8> {
    let mut random = Pcg64Mcg::seed_from_u64(number ^ 0x5eed_f11e);
    let mut bytes = seeds[number as usize % seeds.len()].clone();
    for _ in 0..random.random_range(1..=4u8) {
        if bytes.len() < 4 {
            break;
        }
        // Half of the changes go where the headers are.
        let most = if random.random_bool(0.5) { bytes.len() } else { bytes.len().min(700) };
        let at = random.random_range(0..most);
        change(&mut random, &mut bytes, at);
    }
    bytes
}

fn change(random: &mut impl Rng, bytes: &mut Vec<u8>, at: usize) {
    match random.random_range(0..7u8) {
        0 => bytes[at] = random.random(),
        1 => bytes[at] ^= 1 << random.random_range(0..8u8),
        2 => bytes.truncate(at),
        3 => {
            let end = (at + random.random_range(1..64)).min(bytes.len());
            let piece = bytes[at..end].to_vec();
            let to = random.random_range(0..bytes.len());
            bytes.splice(to..to, piece);
        }
        4 => {
            let end = (at + random.random_range(1..64)).min(bytes.len());
            bytes.drain(at..end);
        }
        5 => {
            let end = (at + 2).min(bytes.len());
            bytes[at..end].fill(0xff);
        }
        _ => {
            let large = random.random_range(0..=u32::MAX).to_be_bytes();
            let end = (at + 4).min(bytes.len());
            bytes[at..end].copy_from_slice(&large[..end - at]);
        }
    }
}
