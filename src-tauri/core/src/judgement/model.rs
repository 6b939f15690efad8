//! The written causal model: what each cause does to each thing that can be observed.
//!
//! It is Rust data, not a file read at run time: the compiler checks its shape, the unit tests its
//! ranges, and no phone can carry a broken or altered copy. [`Model::standard`] is the model in
//! use; [`Model::new`] makes another from other rows, which the checks against brute force and
//! against an outside library do.

use std::sync::LazyLock;

use serde::Serialize;
use thiserror::Error;

use super::causes;
use super::scale::{LevelGrid, LevelGridError};
use super::shared::{SHARED, SharedTable};
use super::state::{StateTable, tabulate};
use crate::record::{AirExit, PlugSign};

/// What follows for the owner when a cause is there. Decides the advice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Consequence {
    /// Nothing is wrong with the cylinder.
    Sound,
    /// Only the test was at fault: it has to be made again.
    Retest,
    /// Worn or dirty, will run on; look again later.
    Watch,
    /// Work on the head: valves, seats, lash, springs, lobes, gasket.
    TopEnd,
    /// Work below the head: rings, bore, piston.
    BottomEnd,
    /// Running on breaks more.
    Stop,
}

impl Consequence {
    /// Every consequence, in the order of the loss table.
    pub const ALL: [Self; 6] =
        [Self::Sound, Self::Retest, Self::Watch, Self::TopEnd, Self::BottomEnd, Self::Stop];
}

/// What sort of cause it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// The chamber does not seal.
    Seal,
    /// The valves do not move as they should; the chamber seals.
    ValveGear,
    /// Pressure is raised, nothing leaks.
    Raised,
    /// The leak-down test was at fault, not the engine.
    Test,
}

/// How the needle climbs over the strokes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Climb {
    /// Quick and even.
    Even,
    /// Low on the first stroke, then climbs.
    Slow,
    /// Low on the first stroke, and stays there.
    Flat,
}

impl Climb {
    /// The share of the final pressure reached on the first stroke, and the share of what is then
    /// missing that is still missing one stroke later. The pattern is that of GM Solstice 2006
    /// and Ford Probe 1997; the numbers are common practice, no source.
    #[must_use]
    pub const fn shape(self) -> (f64, f64) {
        match self {
            Self::Even => (0.62, 0.35),
            Self::Slow => (0.42, 0.60),
            Self::Flat => (0.86, 0.30),
        }
    }
}

/// One severity of a cause.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Level {
    /// Given the cause, how often it is this bad.
    pub share: f64,
    /// Final dry cranking pressure, as a fraction of this engine's healthy level.
    pub dry: f64,
    /// Final wet cranking pressure, as a fraction of the healthy wet one.
    pub wet: f64,
    /// Standard deviation of the natural logarithm of `dry` and `wet` within this severity; it
    /// moves both alike, so that the rise after oil stays sharp.
    pub spread: f64,
    /// Standard deviation of the natural logarithm of `wet` over `dry`: how unevenly oil helps.
    pub rise: f64,
    /// What the reference leak-down set would show, in percent, with this and nothing else.
    pub leak: f64,
    /// What follows.
    pub consequence: Consequence,
}

/// One cause in one cylinder: a row of the model.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CauseRow {
    /// Its name, in the trade's words.
    pub name: &'static str,
    /// What it is, for someone who is not a mechanic.
    pub plain: &'static str,
    /// What sort of cause.
    pub kind: Kind,
    /// How probable in one cylinder of an engine that is brought in for a test.
    pub prior: f64,
    /// The severities.
    pub levels: &'static [Level],
    /// How the needle climbs.
    pub climb: Climb,
    /// The part of the leak that is left after a tap on the valves.
    pub after_tap: f64,
    /// The chance that the leak is still there after half a turn and a fresh start; 1 for
    /// everything but a fault of the test.
    pub after_turn: f64,
    /// Where its air can be heard, and how surely.
    pub air: &'static [(AirExit, f64)],
    /// How often a plug shows which sign; signs not named keep their usual frequency.
    pub signs: &'static [(PlugSign, f64)],
    /// How often the plug is clearly darker than the others.
    pub darker: f64,
    /// How often the plug is clearly lighter than the others.
    pub lighter: f64,
    /// How often a borescope shows it.
    pub borescope: f64,
    /// Where the row is from. Directions have sources; where a number has none it says so.
    pub source: &'static str,
}

/// How a plug looks, in a cylinder with nothing wrong: frequency of each sign, in the order of
/// [`PlugSign::ALL`]. Common practice, no source.
pub const USUAL_SIGNS: [f64; 12] =
    [0.62, 0.08, 0.05, 0.03, 0.03, 0.03, 0.01, 0.05, 0.005, 0.01, 0.005, 0.08];

/// Air heard with nothing wrong, in the order of [`EXITS`]. A little air past sound rings is
/// normal (Continental IOF-240-B manual 7-3.7.2.5: the rings are a dynamic seal), so it is heard
/// at the oil filler now and then. Numbers: common practice, no source.
pub const USUAL_AIR: [f64; 6] = [0.03, 0.03, 0.30, 0.005, 0.01, 0.03];

/// The exits a likelihood is stated for: every one but "nowhere".
pub const EXITS: [AirExit; 6] = [
    AirExit::Intake,
    AirExit::Exhaust,
    AirExit::OilFiller,
    AirExit::Coolant,
    AirExit::NextPlugHole,
    AirExit::Fitting,
];

/// How often a sound plug stands out darker, and lighter. Common practice, no source.
pub const USUAL_ODD: f64 = 0.03;

/// How far readings scatter. In natural logarithms; common practice, no source, unless said.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Scatter {
    /// Final cranking pressure between sound cylinders of one engine. The 10 % rule of the XVS1100
    /// manual (ch. 3) is then about two standard deviations.
    pub between_cylinders: f64,
    /// Cranking pressure, the same cylinder read again.
    pub cranking: f64,
    /// Added when the needle is read after a stroke, not at rest.
    pub stroke: f64,
    /// Added to any reading that was called "about".
    pub about: f64,
    /// Probability that the cranking readings of a cylinder are a slip and say nothing.
    pub slip: f64,
    /// How wide a slip scatters.
    pub slip_spread: f64,
    /// Sound cylinders gain this factor from the oil of a wet test, which fills part of the room.
    pub wet_gain: f64,
    /// Leak area between cylinders in the same state.
    pub leak_between: f64,
    /// Leak area, the same cylinder read again.
    pub leak: f64,
    /// What the reference set shows on a sound cylinder, in percent. The V-Star 1100 manual calls
    /// 0 to 5 % desirable and 6 to 14 % acceptable.
    pub sound_leak: f64,
    /// Having listened somewhere, the chance that a given exit was listened at.
    pub listened: f64,
}

/// The scatter in use.
pub const SCATTER: Scatter = Scatter {
    between_cylinders: 0.055,
    cranking: 0.025,
    stroke: 0.10,
    about: 0.04,
    slip: 1e-4,
    slip_spread: 1.5,
    wet_gain: 1.03,
    leak_between: 0.33,
    leak: 0.20,
    sound_leak: 7.0,
    listened: 0.6,
};

/// Why rows do not make a model.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ModelError {
    /// A number of a row is outside what it may be.
    #[error("cause \"{cause}\": {quantity} is {given}, allowed {allowed}")]
    Row {
        /// The row.
        cause: &'static str,
        /// Which number.
        quantity: &'static str,
        /// What it was.
        given: f64,
        /// What is allowed.
        allowed: &'static str,
    },
    /// More rows than a set of causes can hold.
    #[error("causes: given {0} rows, allowed 0 to 64")]
    Count(usize),
    /// The grid cannot be used.
    #[error(transparent)]
    Grid(#[from] LevelGridError),
}

/// Sets of causes are bits of a word.
const MOST_CAUSES: usize = 64;

/// A model: the rows, the shared causes, the scatter, the grid of the healthy level, and
/// everything that can be tabulated before an engine is seen.
#[derive(Debug, Clone)]
pub struct Model {
    pub(super) causes: Vec<CauseRow>,
    pub(super) shared: SharedTable,
    pub(super) scatter: Scatter,
    pub(super) grid: LevelGrid,
    pub(super) states: StateTable,
}

static STANDARD: LazyLock<Model> =
    LazyLock::new(|| Model::build(causes::CAUSES.to_vec(), LevelGrid::STANDARD));

impl Model {
    /// The model in use.
    #[must_use]
    pub fn standard() -> &'static Self {
        &STANDARD
    }

    /// A model of these causes per cylinder on this grid, with the usual shared causes.
    ///
    /// # Errors
    /// [`ModelError`] naming the row and the number that is out of range.
    pub fn new(causes: Vec<CauseRow>, grid: LevelGrid) -> Result<Self, ModelError> {
        if causes.len() > MOST_CAUSES {
            return Err(ModelError::Count(causes.len()));
        }
        causes.iter().try_for_each(check)?;
        Ok(Self::build(causes, grid))
    }

    fn build(causes: Vec<CauseRow>, grid: LevelGrid) -> Self {
        let states = tabulate(&causes, &SHARED.gasket, &SCATTER);
        Self { causes, shared: SHARED, scatter: SCATTER, grid, states }
    }

    /// The causes per cylinder.
    #[must_use]
    pub fn causes(&self) -> &[CauseRow] {
        &self.causes
    }

    /// The shared causes.
    #[must_use]
    pub const fn shared(&self) -> &SharedTable {
        &self.shared
    }

    /// How far readings scatter.
    #[must_use]
    pub const fn scatter(&self) -> &Scatter {
        &self.scatter
    }

    /// The grid the healthy level lies on.
    #[must_use]
    pub const fn grid(&self) -> LevelGrid {
        self.grid
    }
}

fn check(row: &CauseRow) -> Result<(), ModelError> {
    let cause = row.name;
    let within = |quantity, given: f64, min: f64, max: f64, allowed| {
        if given.is_finite() && given >= min && given <= max {
            Ok(())
        } else {
            Err(ModelError::Row { cause, quantity, given, allowed })
        }
    };
    within("prior", row.prior, 1e-6, 0.5, "0.000001 to 0.5")?;
    let shares: f64 = row.levels.iter().map(|level| level.share).sum();
    within("sum of shares", shares, 1.0 - 1e-9, 1.0 + 1e-9, "1")?;
    for level in row.levels {
        within("share", level.share, 1e-3, 1.0, "0.001 to 1")?;
        within("dry pressure", level.dry, 0.02, 2.0, "0.02 to 2 of the healthy level")?;
        within("wet pressure", level.wet, 0.02, 2.0, "0.02 to 2 of the healthy level")?;
        within("spread", level.spread, 0.0, 1.5, "0 to 1.5")?;
        within("rise", level.rise, 0.0, 1.0, "0 to 1")?;
        within("leak", level.leak, SCATTER.sound_leak, 99.0, "that of a sound cylinder to 99 %")?;
    }
    within("left after a tap", row.after_tap, 0.0, 1.0, "0 to 1")?;
    within("left after a turn", row.after_turn, 0.0, 1.0, "0 to 1")?;
    within("borescope", row.borescope, 0.0, 1.0, "0 to 1")?;
    within("darker and lighter", row.darker + row.lighter, 0.0, 0.9, "0 to 0.9 together")?;
    for &(_, sure) in row.air {
        within("air heard", sure, 0.0, 0.999, "0 to 0.999")?;
    }
    for &(_, often) in row.signs {
        within("plug sign", often, 0.0, 1.0, "0 to 1")?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_standard_rows_are_in_range_and_have_sources() {
        for row in Model::standard().causes() {
            check(row).unwrap();
            assert!(row.source.len() > 10, "{}", row.name);
            let expected = row.kind != Kind::Test;
            assert_eq!((row.after_turn - 1.0).abs() < 1e-12, expected, "{}", row.name);
        }
    }

    #[test]
    fn usual_frequencies_of_signs_sum_to_one() {
        assert!((USUAL_SIGNS.iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_prior_of_two_is_refused_by_name() {
        let mut row = causes::CAUSES[0].clone();
        row.prior = 2.0;
        let refusal = Model::new(vec![row], LevelGrid::STANDARD).unwrap_err().to_string();
        assert!(refusal.contains("prior is 2"), "{refusal}");
    }
}
