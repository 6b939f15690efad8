//! With a detector whose scores are written into the samples.

use proptest::prelude::*;

use super::*;

/// Scores a frame by its first sample.
#[derive(Debug)]
struct Written;

impl VoiceDetector for Written {
    fn score(&mut self, frame: &[f32]) -> f32 {
        frame[0]
    }
}

/// So many frames of a score.
fn of(score: f32, frames: usize) -> Vec<f32> {
    vec![score; frames * FRAME]
}

fn utterances(endpointer: &mut Endpointer<Written>, sound: &[f32]) -> Vec<Utterance> {
    let events = endpointer.push(sound);
    let ended = events.into_iter().filter_map(|event| match event {
        Event::Ended(utterance) => Some(utterance),
        Event::Began | Event::Dropped => None,
    });
    ended.chain(endpointer.finish()).collect()
}

fn new() -> Endpointer<Written> {
    Endpointer::new(Written, Timing::default())
}

#[test]
fn what_was_said_before_it_was_noticed_is_kept() {
    let sound = [of(0.1, 200), of(0.9, 60), of(0.1, 100)].concat();
    let found = utterances(&mut new(), &sound);
    let [utterance] = &found[..] else { panic!("{}", found.len()) };
    let (first, last) = (200 * FRAME as u64, 260 * FRAME as u64);
    assert!(utterance.start + 4_000 < first, "{}", utterance.start);
    assert!(utterance.start + utterance.samples.len() as u64 > last);
    assert!(!utterance.cut);
}

#[test]
fn a_short_pause_does_not_end_it_and_a_long_one_does() {
    let said =
        |pause| [of(0.1, 100), of(0.9, 40), of(0.1, pause), of(0.9, 40), of(0.1, 100)].concat();
    assert_eq!(utterances(&mut new(), &said(25)).len(), 1);
    assert_eq!(utterances(&mut new(), &said(60)).len(), 2);
}

#[test]
fn a_click_is_dropped() {
    let sound = [of(0.1, 100), of(1.0, 4), of(0.1, 100)].concat();
    let events = new().push(&sound);
    assert!(!events.iter().any(|event| matches!(event, Event::Ended(_))), "{events:?}");
}

#[test]
fn sound_that_stops_in_a_word_is_handed_over() {
    let mut endpointer = new();
    endpointer.push(&[of(0.1, 100), of(0.9, 30), vec![0.9; 100]].concat());
    let utterance = endpointer.finish().unwrap();
    assert!(utterance.cut);
    assert!(utterance.samples.len() > 30 * FRAME + 100);
    assert_eq!(endpointer.finish(), None);
}

#[test]
fn a_noise_that_scores_high_for_ever_becomes_the_floor() {
    // 0.6 on and on, as a starter motor scores: at most one false utterance, then speech above it
    // is found all the same.
    let sound = [of(0.6, 2_000), of(0.95, 60), of(0.6, 100)].concat();
    let found = utterances(&mut new(), &sound);
    assert!(found.len() <= 2, "{}", found.len());
    let last = found.last().unwrap();
    let first = 2_000 * FRAME as u64;
    assert!(last.start < first && last.start + 12_000 > first, "{}", last.start);
}

proptest! {
    /// However the sound is cut into pieces, the same comes out.
    #[test]
    fn pieces_do_not_matter(scores in proptest::collection::vec(0_u8..=10, 1..400), piece in 1_usize..2_000) {
        let sound: Vec<f32> = scores.iter().flat_map(|&s| of(f32::from(s) / 10.0, 1)).collect();
        let whole = new().push(&sound);
        let mut endpointer = new();
        let pieces: Vec<Event> = sound.chunks(piece).flat_map(|p| endpointer.push(p)).collect();
        prop_assert_eq!(whole, pieces);
    }

    /// Utterances come in order, share at most half the pause between them, are what came in, and
    /// are never too long.
    #[test]
    fn utterances_are_stretches_of_the_sound(
        stretches in proptest::collection::vec((0_u8..=10, 1_usize..120), 1..60),
    ) {
        let scores = stretches.iter().flat_map(|&(score, count)| std::iter::repeat_n(score, count));
        // The second sample of each frame counts the frames, so that each can be told apart.
        let sound: Vec<f32> = scores
            .zip(0_u16..)
            .flat_map(|(score, i)| {
                let mut frame = of(f32::from(score) / 10.0, 1);
                frame[1] = f32::from(i % 1_000) / 1_000.0;
                frame
            })
            .collect();
        let mut end = 0;
        for utterance in utterances(&mut new(), &sound) {
            let shared = samples_in(Timing::default().pause) as u64 / 2;
            prop_assert!(utterance.start + shared >= end);
            let start = usize::try_from(utterance.start).unwrap();
            let expected = &sound[start..start + utterance.samples.len()];
            prop_assert!(utterance.samples == expected);
            prop_assert!(utterance.samples.len() < samples_in(Timing::default().longest) + FRAME);
            end = utterance.start + utterance.samples.len() as u64;
        }
    }

    /// Memory stays bounded, whatever comes in.
    #[test]
    fn memory_is_bounded(score in 0.0_f32..=1.0, seconds in 1_usize..60) {
        let mut endpointer = new();
        for _ in 0..seconds {
            endpointer.push(&vec![score; RATE]);
            prop_assert!(endpointer.kept.len() <= samples_in(Timing::default().longest) + FRAME);
            prop_assert!(endpointer.pending.len() < FRAME);
        }
    }
}

#[test]
fn what_is_not_a_number_is_silence() {
    let mut endpointer = new();
    assert_eq!(endpointer.push(&[f32::NAN; 4 * FRAME]), []);
    assert!(endpointer.kept.iter().all(|sample| *sample == 0.0));
}
