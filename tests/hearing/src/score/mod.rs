//! How well it was heard: verdicts, rates with their intervals, calibration, latency, word error.

mod calibration;
mod rate;
mod verdict;
mod words;

pub use calibration::{Bin, Calibration};
pub use rate::{Rate, percentile};
pub use verdict::{Answer, Outcome, Tally, Verdict, judge, same_entries};
pub use words::{WordErrors, word_errors};
