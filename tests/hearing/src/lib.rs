//! Makes spoken test clips from a fixed seed, and measures how well they are heard.
//!
//! Nothing here is shipped. The voices are synthetic (`espeak-ng`, `flite`); the noises and the
//! rooms are computed. All that is said is invented.

pub mod clip;
pub mod corpus;
pub mod demo;
#[cfg(feature = "measure")]
pub mod measure;
pub mod noise;
pub mod phrase;
pub mod room;
pub mod score;
pub mod seed;
pub mod situation;
pub mod truth;
pub mod voice;
