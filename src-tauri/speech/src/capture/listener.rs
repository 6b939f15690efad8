//! A source joined with the endpointer.

use std::collections::VecDeque;

use super::{End, Piece, Source};
use crate::endpoint::{Endpointer, Event, Timing, Utterance, VoiceDetector};

/// What happened.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// Somebody has begun to speak.
    Began,
    /// Somebody has said something.
    Said(Utterance),
    /// It was no speech after all.
    Dropped,
    /// Nothing new. Ask again.
    Waiting,
    /// Sound was lost between what came and what comes.
    Lost,
    /// The source is at its end. What was said before has been given already.
    Ended(End),
}

/// Cuts what comes from a source into utterances.
#[derive(Debug)]
pub struct Listener<S, D> {
    source: S,
    endpointer: Endpointer<D>,
    ready: VecDeque<Step>,
}

impl<S: Source, D: VoiceDetector> Listener<S, D> {
    /// Listens to a source.
    pub const fn new(source: S, detector: D, timing: Timing) -> Self {
        Self { source, endpointer: Endpointer::new(detector, timing), ready: VecDeque::new() }
    }

    /// What happened next. Waits no longer than the source does.
    pub fn step(&mut self) -> Step {
        if let Some(step) = self.ready.pop_front() {
            return step;
        }
        match self.source.next_piece() {
            Piece::Sound(samples) => {
                let events = self.endpointer.push(&samples);
                self.ready.extend(events.into_iter().map(|event| match event {
                    Event::Began => Step::Began,
                    Event::Ended(utterance) => Step::Said(utterance),
                    Event::Dropped => Step::Dropped,
                }));
            }
            Piece::Nothing => {}
            Piece::Lost => {
                // Two halves of different words must not be heard as one.
                self.ready.extend(self.endpointer.finish().map(Step::Said));
                self.ready.push_back(Step::Lost);
            }
            Piece::Ended(end) => {
                self.ready.extend(self.endpointer.finish().map(Step::Said));
                self.ready.push_back(Step::Ended(end));
            }
        }
        self.ready.pop_front().unwrap_or(Step::Waiting)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::capture::{CaptureError, Feed, FileSource};
    use crate::endpoint::FRAME;
    use crate::sound::Clip;

    /// Scores a frame by its first sample.
    struct Written;

    impl VoiceDetector for Written {
        fn score(&mut self, frame: &[f32]) -> f32 {
            frame[0]
        }
    }

    fn of(score: f32, frames: usize) -> Vec<f32> {
        vec![score; frames * FRAME]
    }

    fn steps(source: impl Source) -> Vec<Step> {
        let mut listener = Listener::new(source, Written, Timing::default());
        let mut steps = Vec::new();
        loop {
            let step = listener.step();
            let over = matches!(step, Step::Ended(_));
            if step != Step::Waiting {
                steps.push(step);
            }
            if over {
                return steps;
            }
        }
    }

    #[test]
    fn unplugged_in_a_word_gives_the_half_word_then_the_end() {
        let end = End::Failed(CaptureError::Unplugged);
        let sound = [of(0.1, 100), of(0.9, 30)].concat();
        let steps = steps(Feed::of(&sound, 777, end.clone()));
        let [Step::Began, Step::Said(half), Step::Ended(why)] = &steps[..] else {
            panic!("{steps:?}")
        };
        assert!(half.cut);
        assert_eq!(half.start + half.samples.len() as u64, sound.len() as u64);
        assert_eq!(*why, end);
    }

    #[test]
    fn unplugged_in_silence_gives_the_end_alone() {
        for error in [CaptureError::Missing, CaptureError::Denied, CaptureError::Busy] {
            let end = End::Failed(error);
            let steps = steps(Feed::of(&of(0.1, 50), 4_000, end.clone()));
            assert_eq!(steps, [Step::Ended(end)]);
        }
    }

    #[test]
    fn an_ended_listener_goes_on_to_say_so() {
        let mut listener = Listener::new(Feed::default(), Written, Timing::default());
        assert_eq!(listener.step(), Step::Ended(End::Finished));
        assert_eq!(listener.step(), Step::Ended(End::Finished));
    }

    #[test]
    fn lost_sound_parts_what_was_before_from_what_comes_after() {
        let word = || Piece::Sound([of(0.1, 50), of(0.9, 40)].concat());
        let rest = Piece::Sound(of(0.1, 60));
        let steps = steps(Feed::new([word(), Piece::Lost, Piece::Nothing, word(), rest]));
        let said = steps.iter().filter(|step| matches!(step, Step::Said(_))).count();
        assert_eq!(said, 2, "{steps:?}");
        assert!(steps.contains(&Step::Lost));
    }

    #[test]
    fn a_clip_is_a_source_like_any_other() {
        let sound = [of(0.1, 100), of(0.9, 60), of(0.1, 100)].concat();
        let by_feed = steps(Feed::of(&sound, 1_600, End::Finished));
        assert_eq!(steps(FileSource::new(Clip::new(sound))), by_feed);
        assert_eq!(by_feed.len(), 3);
    }
}
