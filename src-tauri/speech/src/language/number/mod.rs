//! Numbers: as they are said, as the recogniser prints them, and which ones sound alike.

mod confusable;
mod decimal;
mod heard;
mod printed;
mod said;

pub use confusable::confusable;
pub use decimal::Decimal;
pub(crate) use heard::{Heard, cylinder_at, numbers_at};
pub(crate) use printed::{
    decimal_pattern, decimals_printed, either_case, whole_pattern, whole_printed,
};
pub use said::{say, say_cylinder, styles};
