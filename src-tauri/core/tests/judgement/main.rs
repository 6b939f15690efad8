//! Judgement, through its public seam.

mod scenarios;
mod support;
