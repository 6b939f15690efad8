//! Sound in, a structured reading out.

pub mod capture;
pub mod dialogue;
pub mod endpoint;
pub mod hearing;
pub mod language;
pub mod recogniser;
pub mod sound;
