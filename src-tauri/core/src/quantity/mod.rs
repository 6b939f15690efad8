//! Physical quantities. The unit is in the type or travels with the number; never in a comment.
//!
//! A number that was *said* keeps its unit ([`StatedPressure`], [`StatedLength`]) so that the record
//! shows what the mechanic said; a number that is *computed with* is converted once
//! ([`GaugePressure`], [`AbsolutePressure`], [`Length`]).

mod angle;
mod area;
mod bounds;
mod length;
mod mass_flow;
mod percent;
mod pressure;
mod probability;
mod ratio;
mod share;
mod temperature;

pub use angle::CrankAngle;
pub use area::Area;
pub use bounds::{Bounds, OutOfRange};
pub use length::{Length, LengthUnit, StatedLength};
pub use mass_flow::MassFlow;
pub use percent::LeakPercent;
pub use pressure::{AbsolutePressure, GaugePressure, PressureUnit, StatedPressure};
pub use probability::Probability;
pub use ratio::CompressionRatio;
pub use share::Share;
pub use temperature::Temperature;
