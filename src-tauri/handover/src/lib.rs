//! Findings in, the buyer's document out.
//!
//! [`typeset`] turns [`HandoverData`] into a PDF: one page for the buyer in plain words, then the
//! evidence. Nothing is judged here; what the document says was decided in `core` and is only put
//! into words, tables and charts. The same data gives the same bytes: no clock, no locale, no
//! installed font is asked.
//!
//! The way of the data: core's types, to [`view`] (strings with their units, chart positions), to
//! JSON, to the template in `template/`. The template reads values; no text of a job is ever
//! spliced into its source, so a name full of markup stays a name.

mod data;
mod error;
pub mod export;
mod picture;
mod press;
pub mod proof;
mod text;
mod view;

pub use data::{Attachment, HandoverData, Paper, PictureFile, PlugPicture, Relationship};
pub use error::HandoverError;
pub use press::typeset;
