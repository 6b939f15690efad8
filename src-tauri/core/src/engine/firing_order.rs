//! The order the cylinders fire in.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::cylinder::Cylinder;

/// A firing order: each cylinder of the engine exactly once.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Vec<u32>", into = "Vec<u32>")]
pub struct FiringOrder(Vec<Cylinder>);

/// Why a list of numbers is not a firing order.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum FiringOrderError {
    /// A cylinder fires twice.
    #[error("firing order: cylinder {0} is there twice; each cylinder fires once")]
    Repeated(u32),
    /// A number that no engine of this length has.
    #[error(
        "firing order: given cylinder {given}, with {count} in the list allowed are 1 to {count}"
    )]
    NoSuchCylinder {
        /// The number that was given.
        given: u32,
        /// How many are in the list.
        count: usize,
    },
    /// None, or more than this tool can hold.
    #[error("firing order: given {0} cylinders, allowed 1 to 18")]
    Count(usize),
    /// Not a number between the separators.
    #[error("firing order: given \"{0}\", allowed are cylinder numbers such as 1-5-3-6-2-4")]
    NotANumber(String),
}

impl FiringOrder {
    /// A firing order by cylinder numbers.
    ///
    /// # Errors
    /// [`FiringOrderError`] when the numbers are not a permutation of 1 to their count.
    pub fn new(numbers: impl IntoIterator<Item = u32>) -> Result<Self, FiringOrderError> {
        let numbers: Vec<u32> = numbers.into_iter().take(Cylinder::MOST + 1).collect();
        let count = numbers.len();
        if !(1..=Cylinder::MOST).contains(&count) {
            return Err(FiringOrderError::Count(count));
        }
        let mut order: Vec<Cylinder> = Vec::with_capacity(count);
        for given in numbers {
            let cylinder = Cylinder::of(given, count)
                .map_err(|_| FiringOrderError::NoSuchCylinder { given, count })?;
            if order.contains(&cylinder) {
                return Err(FiringOrderError::Repeated(given));
            }
            order.push(cylinder);
        }
        Ok(Self(order))
    }

    /// How many cylinders fire.
    #[must_use]
    pub const fn cylinder_count(&self) -> usize {
        self.0.len()
    }

    /// The cylinders, in the order they fire.
    #[must_use]
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = Cylinder> + ExactSizeIterator + '_ {
        self.0.iter().copied()
    }

    /// The cylinder that fires after `cylinder`, round and round. `None` when it is not in the
    /// order.
    #[must_use]
    pub fn after(&self, cylinder: Cylinder) -> Option<Cylinder> {
        let at = self.0.iter().position(|&c| c == cylinder)?;
        Some(self.0[(at + 1) % self.0.len()])
    }
}

impl TryFrom<Vec<u32>> for FiringOrder {
    type Error = FiringOrderError;
    fn try_from(numbers: Vec<u32>) -> Result<Self, FiringOrderError> {
        Self::new(numbers)
    }
}

impl From<FiringOrder> for Vec<u32> {
    fn from(order: FiringOrder) -> Self {
        order.0.into_iter().map(|c| u32::from(c.number())).collect()
    }
}

impl FromStr for FiringOrder {
    type Err = FiringOrderError;

    /// Reads "1-5-3-6-2-4"; commas and spaces separate as well.
    fn from_str(text: &str) -> Result<Self, FiringOrderError> {
        let numbers: Result<Vec<u32>, _> = text
            .split(['-', ',', ' '])
            .filter(|part| !part.is_empty())
            .map(|part| part.parse().map_err(|_| FiringOrderError::NotANumber(part.to_owned())))
            .collect();
        Self::new(numbers?)
    }
}

impl fmt::Display for FiringOrder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, cylinder) in self.0.iter().enumerate() {
            if i > 0 {
                f.write_str("-")?;
            }
            write!(f, "{cylinder}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_repeat_is_named() {
        let refusal = FiringOrder::new([1, 5, 3, 5, 2, 4]).unwrap_err().to_string();
        assert_eq!(refusal, "firing order: cylinder 5 is there twice; each cylinder fires once");
    }

    #[test]
    fn a_number_past_the_end_is_named() {
        assert_eq!(
            FiringOrder::new([1, 2, 7]),
            Err(FiringOrderError::NoSuchCylinder { given: 7, count: 3 })
        );
    }

    #[test]
    fn none_and_too_many_are_refused() {
        assert_eq!(FiringOrder::new([]), Err(FiringOrderError::Count(0)));
        assert_eq!(FiringOrder::new(1..=19), Err(FiringOrderError::Count(19)));
    }

    #[test]
    fn the_order_goes_round() {
        let order: FiringOrder = "1-5-3-6-2-4".parse().unwrap();
        let four = order.iter().last().unwrap();
        assert_eq!(order.after(four).map(Cylinder::number), Some(1));
        assert_eq!(order.to_string(), "1-5-3-6-2-4");
    }

    /// Outside check. Source: FAA Aviation Maintenance Technician Handbook, Powerplant (radial
    /// engines): the firing order of a 14-cylinder double row adds 9 or subtracts 5, of an
    /// 18-cylinder adds 11 or subtracts 7.
    #[test]
    fn the_handbook_rule_for_double_row_radials_gives_firing_orders() {
        for (count, add, subtract) in [(14_u32, 9_u32, 5_u32), (18, 11, 7)] {
            let mut order = vec![1];
            while order.len() < count as usize {
                let last = order[order.len() - 1];
                order.push(if last > subtract { last - subtract } else { last + add });
            }
            FiringOrder::new(order).unwrap();
        }
    }
}
