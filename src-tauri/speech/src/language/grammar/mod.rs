//! The spoken language as data: rules read from `english.rules`, used three ways. As one pattern of
//! everything that can be printed now ([`pattern`]), as a parser of what was heard ([`parse`]), and
//! as a source of sentences ([`sample`]).

mod branch;
mod mark;
mod node;
mod parse;
mod pattern;
mod rules;
mod sample;
mod trail;

pub(crate) use mark::Mark;
pub(crate) use node::Event;
pub(crate) use parse::{Parsed, parse};
pub(crate) use pattern::pattern;
pub(crate) use rules::english;
pub(crate) use sample::sample;
