//! One cylinder, by its maker's number.

use std::fmt;
use std::num::NonZeroU8;

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A cylinder by the maker's number, from 1. Neighbours come from the [`super::Layout`], never
/// from the number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Cylinder(NonZeroU8);

/// A cylinder the engine does not have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("cylinder: given {given}, this engine has 1 to {count}")]
pub struct NoSuchCylinder {
    /// The number that was given.
    pub given: u32,
    /// How many cylinders there are.
    pub count: usize,
}

impl Cylinder {
    /// The most cylinders an engine here may have.
    pub const MOST: usize = 18;

    /// Cylinder `number` of an engine with `count`.
    ///
    /// # Errors
    /// [`NoSuchCylinder`] for 0 or a number above `count`.
    pub fn of(number: u32, count: usize) -> Result<Self, NoSuchCylinder> {
        let missing = NoSuchCylinder { given: number, count };
        let small = u8::try_from(number).map_err(|_| missing)?;
        match NonZeroU8::new(small) {
            Some(nonzero) if usize::from(small) <= count => Ok(Self(nonzero)),
            _ => Err(missing),
        }
    }

    /// Cylinders 1 to `count`; `count` is cut to [`Self::MOST`].
    pub(crate) fn first(count: usize) -> impl DoubleEndedIterator<Item = Self> + use<> {
        let most = u8::try_from(count.min(Self::MOST)).unwrap_or(0);
        (1..=most).filter_map(|number| NonZeroU8::new(number).map(Self))
    }

    /// The maker's number, from 1.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0.get()
    }

    /// Position in an array indexed by cylinder: number less one.
    #[must_use]
    pub const fn index(self) -> usize {
        self.0.get() as usize - 1
    }
}

impl fmt::Display for Cylinder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}
