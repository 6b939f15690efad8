//! Spark plugs drawn by the computer, with the truth known, to measure the photo crate against.
//!
//! Nothing here is a photograph: what holds on these pictures holds on these pictures. They vary
//! what is known to go wrong with a phone (light, tilt, background, noise, JPEG) and draw a plug
//! as a plug is seen end-on.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "places in pictures go from real numbers to indices and back"
)]

pub mod camera;
pub mod demo;
pub mod evaluate;
pub mod fuzz;
pub mod label;
pub mod light;
pub mod noise;
pub mod plug;
pub mod scene;
pub mod sets;
pub mod speed;
