//! Crank angles from one cylinder's top dead centre to the next in firing order.

use serde::Serialize;
use thiserror::Error;

use crate::engine::{Cylinder, FiringOrder};
use crate::quantity::CrankAngle;

/// How often a cylinder fires.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Cycle {
    /// Once in two turns of the crank.
    FourStroke,
    /// Once in each turn.
    TwoStroke,
}

impl Cycle {
    /// The crank angle after which everything repeats.
    #[must_use]
    pub const fn crank_degrees(self) -> f64 {
        match self {
            Self::FourStroke => 720.0,
            Self::TwoStroke => 360.0,
        }
    }
}

/// Why angles do not make a round.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum TimingError {
    /// Not one angle per cylinder.
    #[error(
        "firing intervals: given {given}, allowed is one for each of the {cylinders} cylinders"
    )]
    Count {
        /// How many angles were given.
        given: usize,
        /// How many cylinders fire.
        cylinders: usize,
    },
    /// An angle backwards, or not a number.
    #[error("firing intervals: given {given} degrees, allowed are 0 or more")]
    Backwards {
        /// The angle.
        given: f64,
    },
    /// The angles do not come round.
    #[error("firing intervals: together {given} degrees, allowed is {round} for a full round")]
    NotARound {
        /// The sum of the angles.
        given: f64,
        /// What a round has.
        round: f64,
    },
}

/// One turn of the crank in the round.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// The cylinder to bring to top dead centre of its compression stroke.
    pub cylinder: Cylinder,
    /// How far to turn from the cylinder before, in the direction of rotation.
    pub turn: CrankAngle,
    /// How far from the first of the round.
    pub from_start: CrankAngle,
    /// Cylinders whose piston is at the top at the same mark, one turn off in their cycle: the mark
    /// alone does not tell which of them is on compression.
    pub shares_mark_with: Vec<Cylinder>,
}

/// A firing order with its angles.
#[derive(Debug, Clone, PartialEq)]
pub struct FiringTiming {
    cycle: Cycle,
    /// Each cylinder with its crank angle after the first fires.
    fires_at: Vec<(Cylinder, f64)>,
}

impl FiringTiming {
    /// Two marks nearer than this are one mark on a pulley.
    const SAME_MARK: f64 = 0.5;

    /// All intervals alike: the cycle's angle divided by the number of cylinders.
    #[must_use]
    pub fn even(order: &FiringOrder, cycle: Cycle) -> Self {
        let interval = cycle.crank_degrees() / order.cylinder_count() as f64;
        let fires_at = order
            .iter()
            .zip(0_u8..)
            .map(|(cylinder, place)| (cylinder, interval * f64::from(place)));
        Self { cycle, fires_at: fires_at.collect() }
    }

    /// Intervals as the maker gives them: the first from the first cylinder of the order to the
    /// second, the last from the last back to the first. Cylinders that fire together have 0.
    ///
    /// # Errors
    /// [`TimingError`] when there is not one per cylinder, one is negative, or they do not add up to
    /// a full round within half a degree.
    pub fn uneven(
        order: &FiringOrder,
        cycle: Cycle,
        intervals: &[CrankAngle],
    ) -> Result<Self, TimingError> {
        let cylinders = order.cylinder_count();
        if intervals.len() != cylinders {
            return Err(TimingError::Count { given: intervals.len(), cylinders });
        }
        let mut fires_at = Vec::with_capacity(cylinders);
        let mut angle = 0.0;
        for (cylinder, interval) in order.iter().zip(intervals) {
            let given = interval.degrees();
            if !(given.is_finite() && given >= 0.0) {
                return Err(TimingError::Backwards { given });
            }
            fires_at.push((cylinder, angle));
            angle += given;
        }
        let round = cycle.crank_degrees();
        if (angle - round).abs() > Self::SAME_MARK {
            return Err(TimingError::NotARound { given: angle, round });
        }
        Ok(Self { cycle, fires_at })
    }

    /// How far to turn from one cylinder's top dead centre of compression to another's, in the
    /// direction of rotation: 0 or more, less than a round. `None` when one is not in the order.
    #[must_use]
    pub fn turn(&self, from: Cylinder, to: Cylinder) -> Option<CrankAngle> {
        let (from, to) = (self.fires_at(from)?, self.fires_at(to)?);
        let round = self.cycle.crank_degrees();
        // `rem_euclid` of a tiny negative number may round up to the whole round.
        let turn = (to - from).rem_euclid(round);
        Some(CrankAngle::from_degrees(if turn >= round { 0.0 } else { turn }))
    }

    /// The cylinders at the top at the same mark as this one, without it.
    #[must_use]
    pub fn shares_mark_with(&self, cylinder: Cylinder) -> Vec<Cylinder> {
        let Some(own) = self.fires_at(cylinder) else { return Vec::new() };
        let others = self.fires_at.iter().filter(|(other, at)| {
            let apart = (at - own).rem_euclid(360.0);
            *other != cylinder && apart.min(360.0 - apart) <= Self::SAME_MARK
        });
        others.map(|(other, _)| *other).collect()
    }

    /// The round from this cylinder on, in firing order. Empty when it is not in the order.
    #[must_use]
    pub fn round_from(&self, first: Cylinder) -> Vec<Step> {
        let Some(start) = self.fires_at.iter().position(|(cylinder, _)| *cylinder == first) else {
            return Vec::new();
        };
        let (before, after) = self.fires_at.split_at(start);
        let mut previous = first;
        let mut from_start = 0.0;
        let mut steps = Vec::with_capacity(self.fires_at.len());
        for (cylinder, _) in after.iter().chain(before) {
            let Some(turn) = self.turn(previous, *cylinder) else { continue };
            from_start += turn.degrees();
            steps.push(Step {
                cylinder: *cylinder,
                turn,
                from_start: CrankAngle::from_degrees(from_start),
                shares_mark_with: self.shares_mark_with(*cylinder),
            });
            previous = *cylinder;
        }
        steps
    }

    fn fires_at(&self, cylinder: Cylinder) -> Option<f64> {
        self.fires_at.iter().find(|(own, _)| *own == cylinder).map(|(_, at)| *at)
    }
}
