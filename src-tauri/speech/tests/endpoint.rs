//! Readings at known places in noise that never stops: each must come out whole and in time.

use std::time::Duration;

use borespoke_hearing::clip;
use borespoke_hearing::corpus::{Condition, SEED, Studio, sample, utterances};
use borespoke_hearing::noise::Noise;
use borespoke_hearing::seed::stream;
use borespoke_hearing::voice::Half;
use borespoke_speech::endpoint::{EarshotDetector, Endpointer, Event, Timing, Utterance};

/// Where a reading was put, in samples.
struct Placed {
    first: u64,
    last: u64,
}

/// Readings with pauses between them, in noise.
fn bay(noise: Noise, snr_db: f32) -> (Vec<f32>, Vec<Placed>) {
    let all = utterances(SEED);
    let folder = tempfile::tempdir().unwrap();
    let studio = Studio::open(folder.path(), SEED).unwrap();
    let mut sound = vec![0.0; clip::samples_in(4.0)];
    let mut placed = Vec::new();
    for (utterance, pause) in
        sample(&all, Half::Check, 20, 3).into_iter().zip([1.5, 2.2, 3.1].into_iter().cycle())
    {
        let (mut said, _) = studio.render(utterance, Condition::ALL[0]).unwrap();
        clip::trim(&mut said);
        let level = clip::speech_level(&said);
        clip::scale(&mut said, 0.05 / level);
        placed.push(Placed { first: sound.len() as u64, last: (sound.len() + said.len()) as u64 });
        sound.extend(said);
        sound.resize(sound.len() + clip::samples_in(pause), 0.0);
    }
    let noise = noise.make(sound.len(), &[], &mut stream(SEED, noise.name()));
    clip::add_noise(&mut sound, &noise, snr_db);
    clip::keep_from_clipping(&mut sound);
    (sound, placed)
}

/// The utterances, and when each was handed over.
fn cut(sound: &[f32]) -> Vec<(Utterance, u64)> {
    let mut endpointer = Endpointer::new(EarshotDetector::default(), Timing::default());
    let mut found = Vec::new();
    let mut fed = 0;
    // As a microphone gives it.
    for piece in sound.chunks(160) {
        fed += piece.len() as u64;
        for event in endpointer.push(piece) {
            if let Event::Ended(utterance) = event {
                found.push((utterance, fed));
            }
        }
    }
    found
}

#[derive(Debug, Default)]
struct Counts {
    readings: usize,
    missed: usize,
    clipped: usize,
    late: usize,
    false_ones: usize,
}

fn count(noise: Noise, snr_db: f32) -> Counts {
    let (sound, placed) = bay(noise, snr_db);
    let found = cut(&sound);
    let overlap = |utterance: &Utterance, place: &Placed| {
        let end = utterance.start + utterance.samples.len() as u64;
        end.min(place.last).saturating_sub(utterance.start.max(place.first))
    };
    let mut counts = Counts { readings: placed.len(), ..Counts::default() };
    for place in &placed {
        // A tenth of a second that another utterance kept from before its own start is no hearing.
        let mut over = found.iter().filter(|(utterance, _)| overlap(utterance, place) > 1_600);
        let Some((first, mut handed)) = over.next().map(|(u, at)| (u, *at)) else {
            counts.missed += 1;
            continue;
        };
        counts.clipped += usize::from(first.start > place.first);
        if let Some((_, at)) = over.last() {
            handed = *at;
        }
        let stated = Timing::default().pause + Timing::SLACK;
        let delay = Duration::from_secs_f64(handed.saturating_sub(place.last) as f64 / 16_000.0);
        counts.late += usize::from(delay > stated);
    }
    counts.false_ones = found
        .iter()
        .filter(|(utterance, _)| placed.iter().all(|place| overlap(utterance, place) == 0))
        .count();
    counts
}

#[test]
fn readings_in_a_hiss_that_never_stops_come_out_whole_and_in_time() {
    for snr_db in [20.0, 10.0, 5.0] {
        let counts = count(Noise::AirHiss, snr_db);
        assert_eq!(
            (counts.missed, counts.clipped, counts.late),
            (0, 0, 0),
            "{snr_db} dB: {counts:?}"
        );
        assert!(counts.false_ones <= 2, "{snr_db} dB: {counts:?}");
    }
}

#[test]
fn readings_beside_a_starter_motor_come_out() {
    let counts = count(Noise::Starter, 10.0);
    assert!(counts.missed == 0 && counts.clipped <= 1 && counts.late <= 1, "{counts:?}");
    assert!(counts.false_ones <= 3, "{counts:?}");
}

#[test]
fn a_starter_motor_alone_is_not_an_utterance_for_long() {
    let mut sound = Noise::Starter.make(clip::samples_in(60.0), &[], &mut stream(5, "alone"));
    clip::scale(&mut sound, 0.5);
    let found = cut(&sound);
    assert!(found.len() <= 3, "{}", found.len());
}

#[test]
fn silence_gives_nothing() {
    assert_eq!(cut(&vec![0.0; clip::samples_in(20.0)]).len(), 0);
}
