//! The same engine over several jobs: what changed per cylinder, and by how much more than the
//! gauges can be off.
//!
//! Only like is compared with like: the same warmth, and the same tester or, for leak-down, two
//! testers whose restrictor and supply are known. Where that does not hold, the reason is given
//! instead of a number.

mod change;
mod cranking;
mod leak_down;
mod visits;

pub use change::{Change, Comparison, Direction, NotCompared, Outcome};
pub use visits::{CylinderTrend, Trend, TrendError, Visit, trend};
