//! The trade's rules and physics against published figures and reference libraries, and what must
//! hold for any readings. One binary, so that it links once.

mod expectation;
mod flow;
mod outside_physics;
mod rules;
mod sequence;
mod support;
mod table;
mod trend;
