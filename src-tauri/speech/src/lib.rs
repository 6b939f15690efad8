//! Sound in, a structured reading out.

pub mod dialogue;
pub mod hearing;
pub mod language;
pub mod recogniser;
pub mod sound;
