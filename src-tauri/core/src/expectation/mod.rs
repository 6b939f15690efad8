//! What cranking pressure to expect: a band with the assumptions it rests on.
//!
//! The band says whether a figure is plausible, nothing more. The exponent of the compression is a
//! matter of cranking speed, temperature and leakage and is never known beforehand, so no limit is
//! made of it and nothing here returns a verdict.

mod atmosphere;
mod band;
mod slider_crank;

pub use atmosphere::{
    ALTITUDE_NOTE, StandardAir, at_other_ambient, pressure_at_altitude, standard_air,
};
pub use band::{
    Assumption, ExpectationError, ExpectedCranking, ExponentRange, cranking_pressure,
    expected_cranking,
};
pub use slider_crank::{DynamicRatio, dynamic_ratio};
