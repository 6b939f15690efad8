//! WAV files of every kind that comes in, and those that should not.

use std::f32::consts::TAU;
use std::io::Cursor;

use borespoke_speech::sound::{Clip, WavError};
use hound::{SampleFormat, WavSpec, WavWriter};

fn spec(rate: u32, channels: u16, bits: u16, float: bool) -> WavSpec {
    let sample_format = if float { SampleFormat::Float } else { SampleFormat::Int };
    WavSpec { channels, sample_rate: rate, bits_per_sample: bits, sample_format }
}

/// A sine of 440 Hz at half scale; the right channel, when there is one, is silent.
fn wav(spec: WavSpec, seconds: f32) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    let mut writer = WavWriter::new(&mut bytes, spec).unwrap();
    for i in 0..(seconds * spec.sample_rate as f32) as u32 {
        let x = 0.5 * (TAU * 440.0 * i as f32 / spec.sample_rate as f32).sin();
        for channel in 0..spec.channels {
            let x = if channel == 0 { x } else { 0.0 };
            match spec.sample_format {
                SampleFormat::Float => writer.write_sample(x).unwrap(),
                SampleFormat::Int => {
                    let full = 2f32.powi(i32::from(spec.bits_per_sample) - 1) - 1.0;
                    writer.write_sample((x * full) as i32).unwrap();
                }
            }
        }
    }
    writer.finalize().unwrap();
    bytes.into_inner()
}

/// Amplitude of the 440 Hz in a clip, by correlation, away from its ends.
fn amplitude(clip: &Clip) -> f32 {
    let samples = &clip.samples()[2000..clip.samples().len() - 2000];
    let (mut re, mut im) = (0.0, 0.0);
    for (i, x) in samples.iter().enumerate() {
        let phase = TAU * 440.0 * i as f32 / Clip::RATE as f32;
        re += x * phase.cos();
        im += x * phase.sin();
    }
    2.0 * re.hypot(im) / samples.len() as f32
}

#[test]
fn every_kind_gives_the_same_sine() {
    for rate in [8_000, 11_025, 16_000, 22_050, 44_100, 48_000, 96_000, 192_000] {
        for (bits, float) in [(8, false), (16, false), (24, false), (32, false), (32, true)] {
            for channels in [1, 2] {
                let kind = spec(rate, channels, bits, float);
                let clip = Clip::from_wav(&wav(kind, 1.0)).unwrap();
                let expected = 0.5 / f32::from(channels);
                assert!((amplitude(&clip) - expected).abs() < 0.01, "{kind:?}");
                assert!((clip.duration().as_secs_f64() - 1.0).abs() < 0.01, "{kind:?}");
                assert!(!clip.was_cut_short(), "{kind:?}");
            }
        }
    }
}

#[test]
fn what_is_above_8_khz_does_not_fold_down() {
    let kind = spec(48_000, 1, 32, true);
    let mut bytes = Cursor::new(Vec::new());
    let mut writer = WavWriter::new(&mut bytes, kind).unwrap();
    for i in 0..48_000 {
        writer.write_sample(0.5 * (TAU * 11_000.0 * i as f32 / 48_000.0).sin()).unwrap();
    }
    writer.finalize().unwrap();
    let clip = Clip::from_wav(&bytes.into_inner()).unwrap();
    let middle = &clip.samples()[1000..15_000];
    let loudest = middle.iter().fold(0f32, |m, x| m.max(x.abs()));
    assert!(loudest < 0.002, "{loudest}");
}

#[test]
fn a_truncated_file_gives_what_is_there() {
    let whole = wav(spec(16_000, 1, 16, false), 2.0);
    // In the middle of a sample, too.
    let clip = Clip::from_wav(&whole[..44 + 16_001]).unwrap();
    assert_eq!(clip.samples().len(), 8_000);
    assert!(clip.was_cut_short());
}

#[test]
fn a_file_cut_in_its_header_is_an_error_at_every_byte() {
    let whole = wav(spec(16_000, 1, 16, false), 0.5);
    for end in 1..44 {
        let error = Clip::from_wav(&whole[..end]).unwrap_err();
        assert!(matches!(error, WavError::Unreadable(_) | WavError::NotWav { .. }), "{end}");
    }
}

#[test]
fn a_header_that_promises_without_end_is_read_to_the_end() {
    let mut bytes = wav(spec(16_000, 1, 16, false), 1.0);
    bytes[40..44].copy_from_slice(&u32::MAX.to_le_bytes()[..]);
    // A recorder that was killed leaves such a length; rounded down to whole samples by the reader.
    bytes[40] = 0xfe;
    let clip = Clip::from_wav(&bytes).unwrap();
    assert_eq!(clip.samples().len(), 16_000);
    assert!(clip.was_cut_short());
}

#[test]
fn no_sound_at_all_is_an_empty_clip() {
    let clip = Clip::from_wav(&wav(spec(44_100, 2, 16, false), 0.0)).unwrap();
    assert!(clip.samples().is_empty());
    assert!(clip.levels().is_silence());
}

#[test]
fn what_is_not_sound_is_named() {
    assert!(matches!(Clip::from_wav(b""), Err(WavError::Empty)));
    let jpeg = b"\xff\xd8\xff\xe0\0\x10JFIF\0\x01 and so on";
    let error = Clip::from_wav(jpeg).unwrap_err();
    assert_eq!(error.to_string(), "this is not a WAV file, it looks like a JPEG picture");
    assert!(error.hint().contains("WAV"));
    let error = Clip::from_wav(b"once upon a time").unwrap_err();
    assert_eq!(error.to_string(), "this is not a WAV file");
}

#[test]
fn an_hour_is_refused_from_its_size_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hour.wav");
    let head = &wav(spec(48_000, 2, 16, false), 0.0)[..44];
    std::fs::write(&path, head).unwrap();
    // A hole in the file: it takes no room, and reading it would take long.
    let file = std::fs::OpenOptions::new().write(true).open(&path).unwrap();
    file.set_len(44 + 3600 * 48_000 * 4).unwrap();
    let error = Clip::open(&path).unwrap_err();
    assert_eq!(error.to_string(), "duration: given 3600 s, allowed up to 30 s for one utterance");
}

#[test]
fn odd_channels_and_rates_are_refused_with_what_is_allowed() {
    let error = Clip::from_wav(&wav(spec(16_000, 6, 16, false), 0.1)).unwrap_err();
    assert_eq!(error.to_string(), "channels: given 6, allowed 1 or 2");
    let error = Clip::from_wav(&wav(spec(4_000, 1, 16, false), 0.1)).unwrap_err();
    assert_eq!(error.to_string(), "sample rate: given 4000 Hz, allowed 8000 to 192000 Hz");
}

#[test]
fn samples_that_are_no_numbers_become_silence() {
    let kind = spec(16_000, 1, 32, true);
    let mut bytes = Cursor::new(Vec::new());
    let mut writer = WavWriter::new(&mut bytes, kind).unwrap();
    for x in [f32::NAN, f32::INFINITY, 0.25, f32::NEG_INFINITY] {
        writer.write_sample(x).unwrap();
    }
    writer.finalize().unwrap();
    let clip = Clip::from_wav(&bytes.into_inner()).unwrap();
    assert_eq!(clip.samples(), [0.0, 0.0, 0.25, 0.0]);
}
