//! The leak-down round: how far to turn the crank to the next cylinder, what must be seen before air
//! goes on, and the cautions.

mod cautions;
mod timing;

pub use cautions::{
    CAUTIONS, Caution, MUST_SEE, Moment, MustSee, WHEN_PASSED, WhenPassed, cautions,
};
pub use timing::{Cycle, FiringTiming, Step, TimingError};
