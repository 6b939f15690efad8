//! A picture in, plug colour figures out.
//!
//! [`read_plug`] takes the bytes of a file as the phone wrote it and gives a [`PlugPicture`]:
//! where the insulator is, what light it was taken in, its colour and spread. [`compare`] sets the
//! pictures of an engine side by side and names the odd ones, or says why they must not be
//! compared. Nothing here opens a file or keeps the bytes.
//!
//! No published numbers exist for plug colours. Every threshold in this crate is our own choice
//! and named so where it stands.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "places in pictures go from real numbers to indices and back; sizes are below 16,000"
)]

pub mod colour;
mod compare;
mod faults;
mod figures;
mod find;
mod intake;
mod light;
mod picture;
mod region;
mod signs;
mod strip;

pub use compare::{Comparison, Odd, Pair, Pattern, WhyNot, compare};
pub use faults::Fault;
pub use figures::Surface;
pub use intake::{Format, PictureError, ProfileUsed, limits};
pub use light::{Light, Mixing, Neutral, Reference};
pub use picture::{Hints, PlugPicture, read_plug, read_tray};
pub use region::Region;
pub use signs::{Likelihood, likely_signs};
pub use strip::{StripError, StripPlug, strip};
