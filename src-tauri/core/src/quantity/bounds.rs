//! Bounds that carry their name, so that a refused number says which quantity, what was given and
//! what is allowed.

use std::fmt;

/// The closed interval a quantity must lie in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// What is bounded, in the words a mechanic would use.
    pub quantity: &'static str,
    /// The unit of `min` and `max`, as printed after the number.
    pub unit: &'static str,
    /// The smallest allowed value.
    pub min: f64,
    /// The largest allowed value.
    pub max: f64,
}

impl Bounds {
    /// Returns `value` when it is finite and inside the bounds.
    ///
    /// # Errors
    /// [`OutOfRange`] naming the quantity, the value given and what is allowed.
    pub fn check(self, value: f64) -> Result<f64, OutOfRange> {
        if value.is_finite() && value >= self.min && value <= self.max {
            Ok(value)
        } else {
            Err(OutOfRange { given: value, bounds: self })
        }
    }
}

/// A number outside what its quantity allows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfRange {
    /// The number that was given, in the unit of `bounds`.
    pub given: f64,
    /// What would have been allowed.
    pub bounds: Bounds,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Bounds { quantity, unit, min, max } = self.bounds;
        let space = if unit.is_empty() { "" } else { " " };
        write!(
            f,
            "{quantity}: given {}{space}{unit}, allowed {} to {}{space}{unit}",
            Short(self.given),
            Short(min),
            Short(max)
        )
    }
}

impl std::error::Error for OutOfRange {}

/// A number with no more digits than it needs, at most four behind the point.
pub(super) struct Short(pub f64);

impl fmt::Display for Short {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let rounded = (self.0 * 1e4).round() / 1e4;
        // `+ 0.0` turns a negative zero into a plain one.
        write!(f, "{}", rounded + 0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LEAK: Bounds = Bounds { quantity: "leak-down", unit: "percent", min: 0.0, max: 100.0 };

    #[test]
    fn a_refusal_names_quantity_given_and_allowed() {
        let refusal = LEAK.check(900.0).unwrap_err().to_string();
        assert_eq!(refusal, "leak-down: given 900 percent, allowed 0 to 100 percent");
    }

    #[test]
    fn not_a_number_is_refused() {
        assert!(LEAK.check(f64::NAN).is_err());
        assert!(LEAK.check(f64::INFINITY).is_err());
    }

    #[test]
    fn both_ends_are_allowed() {
        assert!(LEAK.check(0.0).is_ok());
        assert!(LEAK.check(100.0).is_ok());
    }
}
