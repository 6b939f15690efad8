//! The recogniser on real weights: loading, both ways of hearing, and that no work runs on.
//!
//! The weights must be made (`cargo xtask weights`); `cargo xtask test` does that first.

use std::f32::consts::TAU;
use std::fs;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use borespoke_speech::recogniser::{Effort, Recogniser, RecogniserError, Transcript};
use borespoke_speech::sound::Clip;

fn repository() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn weights() -> PathBuf {
    repository().join("models/weights/tiny.en.bin")
}

// One thread: the tests run beside each other, and the network's threads wait for each other.
static RECOGNISER: LazyLock<Recogniser> =
    LazyLock::new(|| Recogniser::load(&weights()).unwrap().with_threads(NonZeroUsize::MIN));

const READING: &str = r" (?:Cylinder|Number) [1-6],? (?:[1-9][0-9]?|1[0-9][0-9]|2[0-9][0-9])(?: psi)?(?: dry| wet)?\.?";

fn heard(clip: &Clip, pattern: &str) -> Transcript {
    RECOGNISER.transcribe(clip, " Cylinder 3, 145 psi.", Some(pattern), Effort::default()).unwrap()
}

/// "Cylinder two, one fifty-six psi."
fn spoken() -> Clip {
    Clip::open(&repository().join("tests/hearing/subset/cranking-0245.wav")).unwrap()
}

#[test]
fn weights_that_are_not_there_are_an_error_with_what_to_do() {
    let error = Recogniser::load(Path::new("no/such.bin")).err().unwrap();
    assert!(matches!(error, RecogniserError::NoWeights(_)), "{error}");
    assert!(error.hint().contains("weights"));
}

#[test]
fn what_is_not_weights_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bad.bin");
    for bytes in [&b"once upon a time"[..], &[]] {
        fs::write(&path, bytes).unwrap();
        let error = Recogniser::load(&path).err().expect("refused");
        assert!(
            matches!(error, RecogniserError::BadWeights { .. }),
            "{} bytes: {error}",
            bytes.len()
        );
        assert!(Recogniser::from_bytes(bytes).is_err());
    }
}

#[test]
fn weights_that_were_cut_short_are_refused() {
    let whole = fs::read(weights()).unwrap();
    for length in [100, whole.len() / 2, whole.len() - 4, whole.len() - 1] {
        let error = Recogniser::from_bytes(&whole[..length]).err().expect("refused");
        assert!(matches!(error, RecogniserError::BadWeights { .. }), "{length} bytes: {error}");
    }
}

#[test]
fn weights_in_memory_hear_as_those_in_a_file() {
    let recogniser = Recogniser::from_bytes(&fs::read(weights()).unwrap()).unwrap();
    let recogniser = recogniser.with_threads(NonZeroUsize::MIN);
    let clip = spoken();
    let here =
        recogniser.transcribe(&clip, " Cylinder 3, 145 psi.", Some(READING), Effort::default());
    assert_eq!(here.unwrap(), heard(&clip, READING));
}

#[test]
fn a_clear_reading_is_heard_both_ways() {
    let transcript = heard(&spoken(), READING);
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    assert_eq!(digits(&transcript.held[0].text), "2156", "{transcript:?}");
    assert!(transcript.free.text.contains("156"), "{transcript:?}");
}

#[test]
fn held_texts_fit_the_pattern_and_their_shares_make_one() {
    let transcript = heard(&spoken(), READING);
    let pattern = regex_automata::meta::Regex::new(&format!("^(?:{READING})$")).unwrap();
    for reading in &transcript.held {
        assert!(pattern.is_match(&format!(" {}", reading.text)), "{reading:?}");
        assert!(reading.log_probability <= 0.0);
    }
    let whole: f64 = transcript.held.iter().map(|r| r.posterior).sum();
    assert!((whole - 1.0).abs() < 1e-9, "{whole}");
    assert!(transcript.held.is_sorted_by(|a, b| a.posterior >= b.posterior));
}

#[test]
fn the_same_clip_is_heard_the_same_again() {
    let first = heard(&spoken(), READING);
    // Another clip and another pattern in between leave no trace.
    heard(&noise(2.0, 1), " [a-z]+");
    assert_eq!(heard(&spoken(), READING), first);
}

#[test]
fn without_a_pattern_only_the_free_way_is_gone() {
    let transcript = RECOGNISER.transcribe(&spoken(), "", None, Effort::default()).unwrap();
    assert!(transcript.held.is_empty());
    assert!(!transcript.free.text.is_empty());
}

/// Noise that is the same every time.
fn noise(seconds: f32, seed: u32) -> Clip {
    let mut state = seed;
    let samples = (0..(seconds * Clip::RATE as f32) as usize).map(|_| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        ((state >> 8) as f32 / (1 << 23) as f32 - 1.0) * 0.2
    });
    Clip::new(samples.collect())
}

#[test]
fn work_is_bounded_whatever_comes() {
    let hum = |seconds: f32| {
        let n = (seconds * Clip::RATE as f32) as usize;
        Clip::new((0..n).map(|i| 0.3 * (TAU * 100.0 * i as f32 / 16_000.0).sin()).collect())
    };
    // A pattern that goes on for ever, which nothing said fits.
    let endless = r"(?: six| 6)+";
    for clip in [hum(0.01), hum(3.0), hum(30.0), noise(0.1, 1), noise(30.0, 2), Clip::default()] {
        let seconds = clip.duration().as_secs_f64();
        let transcript = heard(&clip, endless);
        // Each of both ways may be as long as speech can be, and a few turnings more.
        let most = 2.0 * (10.0 + 6.0 * seconds) + 40.0;
        assert!((transcript.steps as f64) <= most, "{} steps, {seconds} s", transcript.steps);
    }
}

#[test]
fn more_than_thirty_seconds_is_heard_up_to_there() {
    let long = noise(35.0, 3);
    let cut = Clip::new(long.samples()[..30 * Clip::RATE as usize].to_vec());
    assert_eq!(heard(&long, READING).free.text, heard(&cut, READING).free.text);
}

#[test]
fn a_broken_pattern_is_an_error() {
    let result = RECOGNISER.transcribe(&spoken(), "", Some(" (one"), Effort::default());
    assert!(matches!(result, Err(RecogniserError::Pattern(_))));
}
