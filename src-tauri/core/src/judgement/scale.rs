//! The two scales the model works on.
//!
//! Cranking pressure is worked on as the natural logarithm of pascals gauge: causes lower it by a
//! factor, readings scatter by a factor. Leak-down is worked on as the natural logarithm of the
//! leak area over the restrictor area. For flow without compression the odds of the percentage
//! are the square of that ratio (same flow through both, pressure drop as 1/area squared), so
//! `area = sqrt(p / (1 - p))`. Areas of two leaks add; on the logarithm every state scatters alike,
//! so a larger reading always favours the state with the larger leak.

use std::ops::Range;

use serde::Serialize;
use thiserror::Error;

/// Readings below this, in percent, are taken as this: no gauge shows less.
pub(super) const LEAST_LEAK: f64 = 1.0;
/// Readings above this, in percent, are taken as this.
pub(super) const MOST_LEAK: f64 = 99.0;
/// Pressures below this, in pascals, are taken as this (about 1.5 psi).
const LEAST_PRESSURE: f64 = 1e4;

/// Leak area over restrictor area, from what the reference set shows in percent.
pub(super) fn leak_area(percent: f64) -> f64 {
    let p = percent.clamp(LEAST_LEAK, MOST_LEAK) / 100.0;
    (p / (1.0 - p)).sqrt()
}

/// What the reference set shows, in percent, from the area ratio.
#[cfg(test)]
pub(super) fn leak_percent(area: f64) -> f64 {
    let squared = area * area;
    100.0 * squared / (1.0 + squared)
}

/// Natural logarithm of a gauge pressure in pascals.
pub(super) fn ln_pressure(pascals: f64) -> f64 {
    pascals.max(LEAST_PRESSURE).ln()
}

/// The values the healthy level of the engine can take: `points` values of the logarithm of its
/// dry cranking pressure, `step` apart from `lowest` up.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LevelGrid {
    lowest: f64,
    step: f64,
    points: usize,
}

/// Why a grid cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum LevelGridError {
    /// The step is not usable.
    #[error("healthy level: given a grid step of {0}, allowed 0.001 to 0.5")]
    Step(f64),
    /// The number of points is not usable.
    #[error("healthy level: given {0} grid points, allowed 2 to 4096")]
    Points(usize),
    /// The lowest value is not a number a pressure can have.
    #[error("healthy level: given {0} Pa as the lowest, allowed 10000 to 10000000 Pa")]
    Lowest(f64),
}

impl LevelGrid {
    /// From 20 psi, 3 % apart, 128 points: to about 900 psi, so petrol, diesel and a sick engine
    /// of either fit. 3 % is half the scatter between sound cylinders.
    pub const STANDARD: Self = Self { lowest: 11.834_248_862_751_164, step: 0.03, points: 128 };

    /// A grid from `lowest` pascals, `step` apart on the natural logarithm.
    ///
    /// # Errors
    /// [`LevelGridError`] naming what is out of range.
    pub fn new(lowest: f64, step: f64, points: usize) -> Result<Self, LevelGridError> {
        if !(1e4..=1e7).contains(&lowest) {
            return Err(LevelGridError::Lowest(lowest));
        }
        if !(1e-3..=0.5).contains(&step) {
            return Err(LevelGridError::Step(step));
        }
        if !(2..=4096).contains(&points) {
            return Err(LevelGridError::Points(points));
        }
        Ok(Self { lowest: lowest.ln(), step, points })
    }

    /// How many points.
    #[must_use]
    pub const fn points(&self) -> usize {
        self.points
    }

    /// The natural logarithm of the pressure in pascals at point `i`.
    #[must_use]
    pub fn at(&self, i: usize) -> f64 {
        self.lowest + self.step * i as f64
    }

    /// Distance between two points on the natural logarithm.
    #[must_use]
    pub const fn step(&self) -> f64 {
        self.step
    }

    /// The points in `range`.
    pub(super) fn part(&self, range: &Range<usize>) -> Self {
        Self { lowest: self.at(range.start), step: self.step, points: range.len() }
    }

    /// Every `stride`-th point.
    pub(super) fn every(&self, stride: usize) -> Self {
        let points = self.points.div_ceil(stride);
        Self { lowest: self.lowest, step: self.step * stride as f64, points }
    }

    /// The probabilities of a normal distribution on this grid.
    pub(super) fn normal(&self, mean: f64, sd: f64) -> Vec<f64> {
        let logs: Vec<f64> =
            (0..self.points).map(|i| -0.5 * ((self.at(i) - mean) / sd).powi(2)).collect();
        let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let raw: Vec<f64> = logs.iter().map(|log| (log - most).exp()).collect();
        let sum: f64 = raw.iter().sum();
        raw.iter().map(|p| p / sum).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_standard_grid_starts_at_twenty_psi() {
        let twenty = 20.0 * 6_894.757_293_168_361_f64;
        assert!((LevelGrid::STANDARD.at(0) - twenty.ln()).abs() < 1e-12);
    }

    #[test]
    fn area_and_percent_are_inverse() {
        for percent in [1.0, 7.0, 25.0, 50.0, 80.0, 99.0] {
            assert!((leak_percent(leak_area(percent)) - percent).abs() < 1e-9);
        }
    }
}
