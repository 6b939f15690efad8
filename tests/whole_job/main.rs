//! The main job from end to end, through the binary, on real clips and pictures.

mod bad_input;
mod contract;
mod demo_case;
mod exports;
mod proof;
mod support;
