//! How many threads to work with: found out while working.
//!
//! The network's threads wait for each other, spinning, many times in every step. On a quiet
//! machine two are nearly twice as fast as one; where a core is busy with something else, or is one
//! of a phone's slow ones, they are many times slower. So both ways are timed, and the faster one is
//! taken.

use std::num::NonZeroUsize;
use std::time::Duration;

/// Every so many steps the way that is not taken is timed again.
const LOOK_AGAIN: u32 = 48;
/// How much the newest time counts in the mean.
const NEWEST: f64 = 0.25;

/// A choice between one thread and several.
#[derive(Debug, Clone)]
pub(super) struct Pace {
    most: usize,
    alone: Option<f64>,
    together: Option<f64>,
    steps: u32,
}

impl Pace {
    /// At most so many threads.
    pub(super) const fn new(most: NonZeroUsize) -> Self {
        Self { most: most.get(), alone: None, together: None, steps: 0 }
    }

    /// The faster number of threads, as far as is known.
    pub(super) fn threads(&self) -> usize {
        match (self.alone, self.together) {
            (Some(alone), Some(together)) if alone > together => self.most,
            // Until it is known: the careful way, which is never much slower.
            _ => 1,
        }
    }

    /// The number of threads for the next step, which now and then is the other one.
    pub(super) fn next(&mut self) -> usize {
        self.steps = self.steps.wrapping_add(1);
        let faster = self.threads();
        let other = if faster == 1 { self.most } else { 1 };
        let unknown = self.alone.is_some() && self.together.is_none();
        if unknown || self.steps.is_multiple_of(LOOK_AGAIN) { other } else { faster }
    }

    /// What a step took.
    pub(super) fn took(&mut self, threads: usize, time: Duration) {
        let mean = if threads == 1 { &mut self.alone } else { &mut self.together };
        let newest = time.as_secs_f64();
        *mean = Some(mean.map_or(newest, |old| old + NEWEST * (newest - old)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn work(pace: &mut Pace, steps: usize, alone: u64, together: u64) -> usize {
        (0..steps)
            .filter(|_| {
                let threads = pace.next();
                let time = if threads == 1 { alone } else { together };
                pace.took(threads, Duration::from_millis(time));
                threads == 1
            })
            .count()
    }

    #[test]
    fn the_faster_way_is_taken_and_the_other_looked_at() {
        let mut pace = Pace::new(NonZeroUsize::new(2).unwrap());
        // A quiet machine.
        let alone = work(&mut pace, 480, 8, 5);
        assert!((2..=15).contains(&alone), "{alone}");
        assert_eq!(pace.threads(), 2);
        // It gets busy: a few slow steps are enough.
        let together = 480 - work(&mut pace, 480, 16, 300);
        assert!(together <= 15, "{together}");
        assert_eq!(pace.threads(), 1);
    }

    #[test]
    fn one_thread_stays_one() {
        let mut pace = Pace::new(NonZeroUsize::MIN);
        assert_eq!(work(&mut pace, 200, 8, 8), 200);
    }
}
