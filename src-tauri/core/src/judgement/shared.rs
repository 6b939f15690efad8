//! Causes that more than one cylinder shares, and faults of a tester.

use serde::Serialize;

use super::model::{Climb, Consequence, Level};
use crate::quantity::{GaugePressure, PressureUnit};

/// A leak between two neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct GasketRow {
    /// Its name.
    pub name: &'static str,
    /// What it is, for someone who is not a mechanic.
    pub plain: &'static str,
    /// How probable for one pair of neighbours.
    pub prior: f64,
    /// What it does to each of the two.
    pub level: Level,
    /// How the needle climbs.
    pub climb: Climb,
    /// How surely air is heard in the next plug hole.
    pub air: f64,
    /// Where the row is from.
    pub source: &'static str,
}

/// Something that lowers (or falsifies) the cranking pressure of many cylinders at once.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LevelRow {
    /// Its name.
    pub name: &'static str,
    /// What it is, for someone who is not a mechanic.
    pub plain: &'static str,
    /// How probable when nothing was said about it.
    pub prior: f64,
    /// How probable when the job says it is so (cold engine, throttle shut, zero check off).
    pub said_so: f64,
    /// How probable when the job says it is not so.
    pub said_not: f64,
    /// The pressure left, as a fraction.
    pub left: f64,
    /// Standard deviation of the natural logarithm of that fraction.
    pub spread: f64,
    /// What follows.
    pub consequence: Consequence,
    /// Where the row is from.
    pub source: &'static str,
}

/// What a healthy engine of a kind cranks to.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct HealthyRow {
    /// Middle of the range, pascals gauge.
    pub middle: f64,
    /// Standard deviation of its natural logarithm.
    pub spread: f64,
    /// Where the row is from.
    pub source: &'static str,
}

/// A leak-down set that reads too much.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LeakSetRow {
    /// Its name.
    pub name: &'static str,
    /// What it is, for someone who is not a mechanic.
    pub plain: &'static str,
    /// How probable when nothing was said.
    pub prior: f64,
    /// How probable when its zero check was off.
    pub said_so: f64,
    /// How probable when its zero check was good.
    pub said_not: f64,
    /// What is added to the natural logarithm of the leak area it shows.
    pub shift: f64,
    /// Where the row is from.
    pub source: &'static str,
}

/// All shared causes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SharedTable {
    /// Head gasket between neighbours.
    pub gasket: GasketRow,
    /// Weak starter, closed throttle, cold engine, cranking gauge off: in any combination.
    pub levels: [LevelRow; 4],
    /// Cam timing out, per bank.
    pub timing: LevelRow,
    /// The leak-down set reads too much.
    pub leak_set: LeakSetRow,
    /// Petrol and gas engines.
    pub petrol: HealthyRow,
    /// Diesel engines.
    pub diesel: HealthyRow,
    /// How probable a diesel is when the fuel was not said.
    pub diesel_share: f64,
}

/// Places in [`SharedTable::levels`].
pub(super) const STARTER: usize = 0;
pub(super) const THROTTLE: usize = 1;
pub(super) const COLD: usize = 2;
pub(super) const GAUGE: usize = 3;

/// The shared causes in use.
pub(super) const SHARED: SharedTable = SharedTable {
    gasket: GasketRow {
        name: "head gasket leaking between cylinders",
        plain: "The head gasket lets pressure across from one cylinder into its neighbour.",
        prior: 0.006,
        level: Level {
            share: 1.0,
            dry: 0.58,
            wet: 0.59,
            spread: 0.35,
            rise: 0.03,
            leak: 42.0,
            consequence: Consequence::TopEnd,
        },
        climb: Climb::Flat,
        air: 0.85,
        source: "Two adjacent low without rise from oil, head gasket between them: US Army TM \
                 5-4210-230-14&P-1, Ford 1996 03-00, GM Solstice 2006. Air at the adjacent plug \
                 hole: Mazda B2300 2008, Chevrolet Silverado 2005. Numbers: common practice, no \
                 source.",
    },
    levels: [
        LevelRow {
            name: "weak starter or battery",
            plain: "The engine was turned too slowly for the pressures to mean much.",
            prior: 0.02,
            said_so: 0.50,
            said_not: 0.008,
            left: 0.75,
            spread: 0.12,
            consequence: Consequence::Retest,
            source: "Battery charged, starting speed: US Army TM 5-4210-230-14&P-1, TM \
                     10-3930-618-20 para 2-12, Nissan Pick-up 1998 (300 rpm). Numbers: common \
                     practice, no source.",
        },
        LevelRow {
            name: "throttle closed while cranking",
            plain: "The throttle was shut, so the cylinders could not fill.",
            prior: 0.03,
            said_so: 0.95,
            said_not: 0.002,
            left: 0.68,
            spread: 0.15,
            consequence: Consequence::Retest,
            source: "Throttle wide open: US Army TM 5-4210-230-14&P-1, TM 1-1500-204-23-1, Ford \
                     1996 03-00. Numbers: common practice, no source.",
        },
        LevelRow {
            name: "engine cold",
            plain: "A cold engine seals less well and reads lower.",
            prior: 0.10,
            said_so: 0.98,
            said_not: 0.002,
            left: 0.92,
            spread: 0.05,
            consequence: Consequence::Retest,
            source: "Engine at working temperature: US Army TM 5-4210-230-14&P-1, Ford 1996 03-00. \
                     Numbers: common practice, no source.",
        },
        LevelRow {
            name: "cranking gauge not zeroed",
            plain: "The gauge did not start from zero, so every reading is out.",
            prior: 0.02,
            said_so: 0.80,
            said_not: 0.002,
            left: 1.0,
            spread: 0.25,
            consequence: Consequence::Retest,
            source: "Common practice, no source.",
        },
    ],
    timing: LevelRow {
        name: "cam timing out",
        plain: "The camshaft is out of step with the crank, so the valves close at the wrong time.",
        prior: 0.005,
        said_so: 0.5,
        said_not: 0.005,
        left: 0.74,
        spread: 0.0,
        consequence: Consequence::TopEnd,
        source: "All low with little leakage, valve timing: common practice, no published source \
                 seen; follows from late closing of the intake valve. Numbers: common practice, no \
                 source.",
    },
    leak_set: LeakSetRow {
        name: "leak-down set not zeroed",
        plain: "The leak-down set shows too much on every cylinder.",
        prior: 0.02,
        said_so: 0.70,
        said_not: 0.001,
        shift: 0.60,
        source: "With the shut-off closed the cylinder gauge must read 80 +/- 2 psi: Lycoming \
                 IO-390-D manual 72-30 p. 193. Numbers: common practice, no source.",
    },
    petrol: HealthyRow {
        middle: GaugePressure::new(155.0, PressureUnit::Psi).pascals(),
        spread: 0.22,
        source: "Between 120 psi (US Army TM 10-3930-618-20 para 2-12) and 199 psi (Suzuki Swift \
                 1995), Toyota Tercel 1994 185 psi, Nissan Pick-up 1998 1324 kPa. The spread: common \
                 practice, no source.",
    },
    diesel: HealthyRow {
        middle: GaugePressure::new(350.0, PressureUnit::Psi).pascals(),
        spread: 0.22,
        source: "New 350 psi, used 300 psi at 250 rpm: US Army TM 5-2420-230-24-2 p. 14-22. The \
                 spread: common practice, no source.",
    },
    diesel_share: 0.1,
};
