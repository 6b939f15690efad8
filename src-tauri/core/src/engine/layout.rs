//! Where the cylinders sit. Numbering is the maker's: two cylinders are neighbours because the
//! layout says so, not because their numbers are.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::cylinder::Cylinder;

/// Banks of cylinders, each from front to rear.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Vec<Vec<u32>>", into = "Vec<Vec<u32>>")]
pub struct Layout {
    banks: Vec<Vec<Cylinder>>,
}

/// Why a list of banks is not a layout.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LayoutError {
    /// A cylinder sits in two places.
    #[error("engine layout: cylinder {0} sits in two places")]
    Repeated(u32),
    /// A number that no engine of this size has.
    #[error("engine layout: given cylinder {given}, with {count} placed allowed are 1 to {count}")]
    NoSuchCylinder {
        /// The number that was given.
        given: u32,
        /// How many are placed.
        count: usize,
    },
    /// None, or more than this tool can hold.
    #[error("engine layout: given {0} cylinders, allowed 1 to 18")]
    Count(usize),
}

impl Layout {
    /// Banks by cylinder number, each from front to rear.
    ///
    /// # Errors
    /// [`LayoutError`] when the numbers are not a permutation of 1 to their count.
    pub fn new(banks: Vec<Vec<u32>>) -> Result<Self, LayoutError> {
        let count = banks.iter().map(Vec::len).sum();
        if !(1..=Cylinder::MOST).contains(&count) {
            return Err(LayoutError::Count(count));
        }
        let mut seen = Vec::with_capacity(count);
        let banks = banks
            .into_iter()
            .map(|bank| {
                bank.into_iter()
                    .map(|given| {
                        let cylinder = Cylinder::of(given, count)
                            .map_err(|_| LayoutError::NoSuchCylinder { given, count })?;
                        if seen.contains(&cylinder) {
                            return Err(LayoutError::Repeated(given));
                        }
                        seen.push(cylinder);
                        Ok(cylinder)
                    })
                    .collect()
            })
            .collect::<Result<_, _>>()?;
        Ok(Self { banks })
    }

    /// One row, numbered from the front. `count` is cut to [`Cylinder::MOST`].
    #[must_use]
    pub fn in_line(count: usize) -> Self {
        Self { banks: vec![Cylinder::first(count).collect()] }
    }

    /// The banks, each from front to rear.
    #[must_use]
    pub fn banks(&self) -> &[Vec<Cylinder>] {
        &self.banks
    }

    /// How many cylinders are placed.
    #[must_use]
    pub fn cylinder_count(&self) -> usize {
        self.banks.iter().map(Vec::len).sum()
    }

    /// Pairs that share a wall and a strip of head gasket.
    pub fn neighbours(&self) -> impl Iterator<Item = (Cylinder, Cylinder)> + '_ {
        self.banks.iter().flat_map(|bank| bank.windows(2).map(|pair| (pair[0], pair[1])))
    }
}

impl TryFrom<Vec<Vec<u32>>> for Layout {
    type Error = LayoutError;
    fn try_from(banks: Vec<Vec<u32>>) -> Result<Self, LayoutError> {
        Self::new(banks)
    }
}

impl From<Layout> for Vec<Vec<u32>> {
    fn from(layout: Layout) -> Self {
        layout
            .banks
            .into_iter()
            .map(|bank| bank.into_iter().map(|c| u32::from(c.number())).collect())
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_follow_the_layout_not_the_number() {
        let vee = Layout::new(vec![vec![1, 3, 5], vec![2, 4, 6]]).unwrap();
        let pairs: Vec<_> = vee.neighbours().map(|(a, b)| (a.number(), b.number())).collect();
        assert_eq!(pairs, [(1, 3), (3, 5), (2, 4), (4, 6)]);
    }

    #[test]
    fn a_cylinder_in_two_places_is_refused() {
        assert_eq!(Layout::new(vec![vec![1, 2], vec![2]]), Err(LayoutError::Repeated(2)));
    }
}
