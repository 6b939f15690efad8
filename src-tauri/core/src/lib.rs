//! The trade itself: quantities, the engine, what was said about it, rules, causes, judgement.
//!
//! Nothing here opens a file, reads a clock, draws a random number or knows a locale. Times and
//! identities come in from outside; everything public is plain data with its bounds checked where
//! it is made. `docs/architecture.md` lists the invariants.

pub mod engine;
pub mod expectation;
pub mod flow;
pub mod job;
pub mod judgement;
pub mod quantity;
mod readings;
pub mod record;
pub mod rules;
pub mod sequence;
pub mod source;
pub mod tester;
pub mod trend;
