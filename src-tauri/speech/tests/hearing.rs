//! A clip and the state of the job in, what was heard out, on real weights.
//!
//! The weights must be made (`cargo xtask weights`); `cargo xtask test` does that first.

use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use borespoke_core::engine::{Engine, FiringOrder};
use borespoke_speech::hearing::{Heard, Outcome, hear};
use borespoke_speech::language::{Context, Expect, Fact, Meaning, Statement};
use borespoke_speech::recogniser::Recogniser;
use borespoke_speech::sound::Clip;

fn repository() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

// One thread: the tests run beside each other, and the network's threads wait for each other.
static RECOGNISER: LazyLock<Recogniser> = LazyLock::new(|| {
    let weights = repository().join("models/weights/tiny.en.bin");
    Recogniser::load(&weights).unwrap().with_threads(NonZeroUsize::MIN)
});

fn context(expect: Expect) -> Context {
    let order = FiringOrder::new([1, 5, 3, 6, 2, 4]).unwrap();
    Context::new(Engine::new(order, None).unwrap(), expect)
}

fn heard(clip: &Clip, expect: Expect) -> Heard {
    hear(&RECOGNISER, clip, &context(expect)).unwrap()
}

/// A clip of the demonstration, spoken by a synthetic voice.
fn demo(name: &str) -> Clip {
    Clip::open(&repository().join("demo-data/clips").join(name)).unwrap()
}

/// Cylinder and number of the one reading that was most likely heard.
fn reading(heard: &Heard) -> Option<(u8, f64)> {
    let [Meaning::State(Statement { cylinder, fact, .. })] = &heard.likeliest[..] else {
        return None;
    };
    let value = match fact {
        Fact::Cranking { pressure, .. } => pressure.value.value(),
        Fact::LeakDown { leak, .. } => leak.value.percent(),
        _ => return None,
    };
    Some((cylinder.number(), value))
}

#[test]
fn clear_readings_are_heard_and_not_refused() {
    for (clip, expect, cylinder, value) in [
        ("08-dry-one.wav", Expect::Cranking, 1, 152.0),
        ("13-dry-six.wav", Expect::Cranking, 6, 148.0),
        ("15-wet-three.wav", Expect::Cranking, 3, 140.0),
        ("23-leak-three.wav", Expect::LeakDown, 3, 27.0),
    ] {
        let heard = heard(&demo(clip), expect);
        assert_eq!(reading(&heard), Some((cylinder, value)), "{clip}: {heard:?}");
        assert!(matches!(heard.outcome, Outcome::Accepted(_) | Outcome::Ask(_)), "{clip}");
    }
}

#[test]
fn talk_stays_talk() {
    for clip in ["07-small-talk.wav", "19-remark.wav"] {
        for expect in [Expect::Cranking, Expect::LeakDown, Expect::Plugs] {
            let heard = heard(&demo(clip), expect);
            assert!(matches!(heard.outcome, Outcome::Remark(_)), "{clip}: {heard:?}");
        }
    }
}

#[test]
fn where_nobody_speaks_nothing_is_heard() {
    let mut state = 1u32;
    let hiss = (0..48_000).map(|_| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        ((state >> 8) as f32 / (1 << 23) as f32 - 1.0) * 0.1
    });
    let hum = (0..48_000).map(|i| 0.2 * (i as f32 * 0.0393).sin());
    for (name, clip) in [
        ("an empty clip", Clip::default()),
        ("silence", Clip::new(vec![0.0; 48_000])),
        ("hiss", Clip::new(hiss.collect())),
        ("hum", Clip::new(hum.collect())),
        ("a click", Clip::new((0..800).map(|i| if i == 400 { 0.9 } else { 0.0 }).collect())),
    ] {
        let heard = heard(&clip, Expect::Cranking);
        assert!(
            !matches!(heard.outcome, Outcome::Accepted(_) | Outcome::Ask(_)),
            "{name}: {heard:?}"
        );
    }
}

#[test]
fn what_is_offered_differs_and_the_likelier_comes_first() {
    // Loud noise over a reading: whatever becomes of it, an offer must be a choice.
    let mut samples = demo("11-dry-four.wav").samples().to_vec();
    let mut state = 7u32;
    for sample in &mut samples {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        *sample += ((state >> 8) as f32 / (1 << 23) as f32 - 1.0) * 0.05;
    }
    let heard = heard(&Clip::new(samples), Expect::Cranking);
    if let Outcome::Ask([first, second]) = &heard.outcome {
        assert_ne!(first, second);
        assert_eq!(first, &heard.likeliest);
    }
}
