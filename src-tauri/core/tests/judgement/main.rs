//! Judgement, through its public seam.

mod properties;
mod published;
mod random_cases;
mod reference;
mod scenarios;

mod simulated;
mod support;
