//! What is wrong with which cylinder, how sure, and what to test next.

mod finding;

pub use finding::{Finding, NextStep, Weight};
