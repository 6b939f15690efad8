//! How long opening and comparing takes, against decoding alone, and how much memory.

use std::fs;
use std::time::{Duration, Instant};

use borespoke_photo::{Hints, PlugPicture, compare, read_plug};
use image::RgbImage;
use image::imageops::FilterType;
use zune_core::bytestream::ZCursor;

use crate::camera::Camera;
use crate::sets;

/// Eight 12-megapixel pictures, as JPEG files.
fn pictures() -> Vec<Vec<u8>> {
    let camera = Camera { blur: 0.0, noise: 0.0, quality: 92 };
    (0..8usize)
        .map(|place| {
            let set = sets::set(1);
            let small = set.scenes[place % set.scenes.len()].render();
            let mut large: RgbImage =
                image::imageops::resize(&small, 4032, 3024, FilterType::Triangle);
            // Sensor grain, without which a JPEG decodes faster than a photograph does.
            let mut state = 0x9e37_79b9u32 ^ place as u32;
            for pixel in large.pixels_mut() {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let grain = (state >> 28) as u8;
                pixel.0 = pixel.0.map(|value| value.saturating_add(grain).saturating_sub(8));
            }
            camera.jpeg(&large)
        })
        .collect()
}

/// Measures and prints, each round decoding alone and then opening and comparing.
///
/// # Panics
/// When a picture that was just written cannot be read.
pub fn measure(rounds: u32) {
    let files = pictures();
    println!("{} pictures, {} bytes", files.len(), files.iter().map(Vec::len).sum::<usize>());
    let (mut alone, mut all) = (Vec::new(), Vec::new());
    for round in 0..=rounds {
        let decoding = time(|| {
            for bytes in &files {
                let mut decoder = zune_jpeg::JpegDecoder::new(ZCursor::new(bytes.as_slice()));
                let pixels = decoder.decode().expect("a picture written just now");
                assert_eq!(pixels.len(), 4032 * 3024 * 3);
            }
        });
        let comparing = time(|| {
            let read: Vec<PlugPicture> = files
                .iter()
                .map(|bytes| read_plug(bytes, &Hints::default()).expect("a plug in it"))
                .collect();
            assert!(compare(&read).pairs.len() <= 28);
        });
        // The first round warms up.
        if round > 0 {
            println!("decoding alone {decoding:.2?}, opened and compared {comparing:.2?}");
            alone.push(decoding);
            all.push(comparing);
        }
    }
    // The least of several runs is the one the machine disturbed least.
    if let (Some(alone), Some(all)) = (alone.iter().min(), all.iter().min()) {
        println!("ratio {:.2}", all.as_secs_f64() / alone.as_secs_f64());
    }
    let files: usize = files.iter().map(Vec::len).sum();
    println!("peak of memory {} kB, of which the files {} kB", peak_kb(), files / 1024);
}

fn time(work: impl FnOnce()) -> Duration {
    let begun = Instant::now();
    work();
    begun.elapsed()
}

/// The most memory this process ever held, as Linux counts it; 0 where it does not say.
fn peak_kb() -> u64 {
    fs::read_to_string("/proc/self/status")
        .ok()
        .and_then(|status| {
            let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
            line.split_whitespace().nth(1)?.parse().ok()
        })
        .unwrap_or(0)
}
