//! The document as a whole: what stands on which page, and that it stands whatever it is given.

mod archive;
mod hostile;
mod pages;
mod sample;
mod sealed;
mod shapes;
