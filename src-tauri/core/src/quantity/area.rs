//! Area. Base unit: square metre. Used for openings that air leaves through.

use std::f64::consts::FRAC_PI_4;
use std::fmt;

use serde::{Deserialize, Serialize};

use super::bounds::Short;
use super::length::{Length, LengthUnit};

/// An area to compute with.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Area {
    square_metres: f64,
}

impl Area {
    /// An area in square metres.
    #[must_use]
    pub const fn from_square_metres(square_metres: f64) -> Self {
        Self { square_metres }
    }

    /// The area of a round hole.
    #[must_use]
    pub const fn of_circle(diameter: Length) -> Self {
        Self { square_metres: FRAC_PI_4 * diameter.metres() * diameter.metres() }
    }

    /// In square metres.
    #[must_use]
    pub const fn square_metres(self) -> f64 {
        self.square_metres
    }

    /// In square millimetres.
    #[must_use]
    pub const fn square_millimetres(self) -> f64 {
        self.square_metres * 1e6
    }

    /// The diameter of a round hole of this area.
    #[must_use]
    pub fn circle_diameter(self) -> Length {
        Length::from_metres((self.square_metres / FRAC_PI_4).sqrt())
    }
}

impl fmt::Display for Area {
    /// In square millimetres, with the round hole of that area.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let across = self.circle_diameter().in_unit(LengthUnit::Millimetre);
        let (area, across) = (hundredths(self.square_millimetres()), hundredths(across));
        write!(f, "{} mm² (a hole of {} mm)", Short(area), Short(across))
    }
}

fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hole_and_its_area() {
        let forty = Length::new(40.0, LengthUnit::Thou);
        let area = Area::of_circle(forty);
        assert!((area.circle_diameter().metres() / forty.metres() - 1.0).abs() < 1e-15);
        assert_eq!(area.to_string(), "0.81 mm² (a hole of 1.02 mm)");
        assert_eq!(Area::from_square_metres(0.0).to_string(), "0 mm² (a hole of 0 mm)");
    }
}
