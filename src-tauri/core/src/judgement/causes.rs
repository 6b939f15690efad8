//! The causes that sit in one cylinder, a row each.
//!
//! Where a row's source names a document, the document gives the direction (what is low, what oil
//! does, where air comes out); frequencies and fractions are common practice, no source, unless
//! the row says otherwise.

use super::model::{CauseRow, Climb, Consequence, Kind, Level};
use crate::record::AirExit::{Coolant, Exhaust, Fitting, Intake, OilFiller};
use crate::record::PlugSign::{
    Ash, BlisteredWhite, Bridged, DryCarbon, FuelWet, Melted, MetalSpecks, OilWet,
};

use Consequence::{BottomEnd, Retest, Stop, TopEnd, Watch};

const fn level(
    share: f64,
    dry: f64,
    wet: f64,
    (spread, rise): (f64, f64),
    leak: f64,
    consequence: Consequence,
) -> Level {
    Level { share, dry, wet, spread, rise, leak, consequence }
}

/// Every cause in one cylinder.
pub(super) const CAUSES: &[CauseRow] = &[
    CauseRow {
        name: "worn or stuck rings",
        plain: "The piston rings no longer seal against the cylinder wall.",
        kind: Kind::Seal,
        prior: 0.030,
        levels: &[
            level(0.55, 0.84, 0.97, (0.07, 0.06), 23.0, Watch),
            level(0.45, 0.60, 0.86, (0.20, 0.11), 48.0, BottomEnd),
        ],
        climb: Climb::Slow,
        after_tap: 1.0,
        after_turn: 1.0,
        air: &[(OilFiller, 0.85)],
        signs: &[(OilWet, 0.35), (Ash, 0.08)],
        darker: 0.30,
        lighter: 0.02,
        borescope: 0.25,
        source: "Oil raises it, low first stroke then climbs: GM Solstice 2006 and Ford Probe 1997 \
                 service manuals; US Army TM 5-4210-230-14&P-1. Air at the oil filler or breather: \
                 AOPA 2016, Mazda B2300 2008. Oil-wet plug: US Army TM 10-3930-633-12 table 4-3. \
                 Numbers: common practice, no source.",
    },
    CauseRow {
        name: "scored bore",
        plain: "The cylinder wall is scratched, so the rings cannot seal.",
        kind: Kind::Seal,
        prior: 0.008,
        levels: &[
            level(0.5, 0.84, 0.92, (0.07, 0.05), 28.0, Watch),
            level(0.5, 0.58, 0.72, (0.20, 0.09), 52.0, BottomEnd),
        ],
        climb: Climb::Slow,
        after_tap: 1.0,
        after_turn: 1.0,
        air: &[(OilFiller, 0.88)],
        signs: &[(OilWet, 0.35), (MetalSpecks, 0.03)],
        darker: 0.30,
        lighter: 0.02,
        borescope: 0.90,
        source: "Air at the oil filler from rings, piston or bore: Mazda B2300 2008, Chevrolet \
                 Silverado 2005. Less rise with oil than rings, since a score drains it: common \
                 practice, no source.",
    },
    CauseRow {
        name: "holed or broken piston",
        plain: "The piston has a hole or a broken ring land.",
        kind: Kind::Seal,
        prior: 0.003,
        levels: &[
            level(0.4, 0.55, 0.60, (0.25, 0.04), 65.0, Stop),
            level(0.6, 0.15, 0.17, (0.60, 0.05), 90.0, Stop),
        ],
        climb: Climb::Flat,
        after_tap: 1.0,
        after_turn: 1.0,
        air: &[(OilFiller, 0.97)],
        signs: &[(MetalSpecks, 0.30), (Melted, 0.25), (OilWet, 0.25), (BlisteredWhite, 0.12)],
        darker: 0.30,
        lighter: 0.20,
        borescope: 0.95,
        source: "Metal on one plug, generally the piston: AC 43.13-1B CHG 1 para 8-16d; fused \
                 electrodes, inspect the piston: 8-16b. Air at the oil filler: Chevrolet Silverado \
                 2005. Numbers: common practice, no source.",
    },
    CauseRow {
        name: "burnt or leaking exhaust valve",
        plain: "The exhaust valve does not seal on its seat.",
        kind: Kind::Seal,
        prior: 0.020,
        levels: &[
            level(0.40, 0.84, 0.85, (0.07, 0.03), 25.0, TopEnd),
            level(0.40, 0.55, 0.56, (0.20, 0.03), 50.0, TopEnd),
            level(0.20, 0.17, 0.17, (0.60, 0.03), 88.0, TopEnd),
        ],
        climb: Climb::Flat,
        after_tap: 0.95,
        after_turn: 1.0,
        air: &[(Exhaust, 0.90)],
        signs: &[(DryCarbon, 0.14), (BlisteredWhite, 0.06)],
        darker: 0.10,
        lighter: 0.12,
        borescope: 0.60,
        source: "No rise with oil: US Army TM 5-4210-230-14&P-1, Ford 1996 03-00. Low first stroke, \
                 does not climb: GM Solstice 2006, Ford Probe 1997. Air at the exhaust: AOPA 2016, \
                 Mazda B2300 2008. One or two sooty plugs, sticking valves: TM 10-3930-633-12 \
                 table 4-3. Numbers: common practice, no source.",
    },
    CauseRow {
        name: "leaking intake valve",
        plain: "The intake valve does not seal on its seat.",
        kind: Kind::Seal,
        prior: 0.010,
        levels: &[
            level(0.45, 0.84, 0.85, (0.07, 0.03), 25.0, TopEnd),
            level(0.40, 0.55, 0.56, (0.20, 0.03), 50.0, TopEnd),
            level(0.15, 0.17, 0.17, (0.60, 0.03), 88.0, TopEnd),
        ],
        climb: Climb::Flat,
        after_tap: 0.95,
        after_turn: 1.0,
        air: &[(Intake, 0.90)],
        signs: &[(DryCarbon, 0.16)],
        darker: 0.12,
        lighter: 0.05,
        borescope: 0.40,
        source: "No rise with oil: US Army TM 5-4210-230-14&P-1, Ford 1996 03-00. Air at the intake: \
                 AOPA 2016, Mazda B2300 2008, Chevrolet Silverado 2005. Numbers: common practice, no \
                 source.",
    },
    CauseRow {
        name: "valve lash too tight",
        plain: "A valve is adjusted so tightly that it cannot close fully.",
        kind: Kind::Seal,
        prior: 0.010,
        levels: &[
            level(0.6, 0.86, 0.87, (0.07, 0.03), 21.0, TopEnd),
            level(0.4, 0.58, 0.59, (0.20, 0.03), 45.0, TopEnd),
        ],
        climb: Climb::Flat,
        after_tap: 1.0,
        after_turn: 1.0,
        air: &[(Exhaust, 0.55), (Intake, 0.35)],
        signs: &[(DryCarbon, 0.12)],
        darker: 0.08,
        lighter: 0.05,
        borescope: 0.05,
        source: "Valves sticking or poorly seated, no rise with oil: US Army TM 5-4210-230-14&P-1, \
                 Ford 1996 03-00. That tight lash holds a valve open, and the numbers: common \
                 practice, no source.",
    },
    CauseRow {
        name: "carbon on a valve seat",
        plain: "A piece of carbon keeps a valve from closing fully; it often comes off by itself.",
        kind: Kind::Seal,
        prior: 0.010,
        levels: &[
            level(0.7, 0.88, 0.89, (0.07, 0.03), 23.0, Watch),
            level(0.3, 0.65, 0.66, (0.20, 0.03), 45.0, Watch),
        ],
        climb: Climb::Flat,
        after_tap: 0.30,
        after_turn: 1.0,
        air: &[(Exhaust, 0.60), (Intake, 0.30)],
        signs: &[(DryCarbon, 0.25)],
        darker: 0.15,
        lighter: 0.02,
        borescope: 0.25,
        source: "Tap over the valve stem and test again: Continental IOF-240-B manual p. 7-22, \
                 TSIO-520-BE step 8. Numbers: common practice, no source.",
    },
    CauseRow {
        name: "broken or weak valve spring",
        plain: "A valve is closed too weakly and lags behind its cam.",
        kind: Kind::ValveGear,
        prior: 0.004,
        levels: &[
            level(0.6, 0.80, 0.81, (0.08, 0.03), 9.0, TopEnd),
            level(0.4, 0.58, 0.59, (0.20, 0.03), 12.0, Stop),
        ],
        climb: Climb::Flat,
        after_tap: 0.9,
        after_turn: 1.0,
        air: &[(Exhaust, 0.10), (Intake, 0.10)],
        signs: &[(DryCarbon, 0.16)],
        darker: 0.12,
        lighter: 0.03,
        borescope: 0.05,
        source: "Low compression with little leakage, valve train (lobe, spring, lifter, pushrod): \
                 common practice, no published source seen. Numbers: common practice, no source.",
    },
    CauseRow {
        name: "worn cam lobe or bent pushrod",
        plain: "A valve opens too little, so the cylinder does not fill.",
        kind: Kind::ValveGear,
        prior: 0.005,
        levels: &[
            level(0.55, 0.82, 0.82, (0.07, 0.03), 7.0, TopEnd),
            level(0.45, 0.55, 0.55, (0.25, 0.03), 7.0, TopEnd),
        ],
        climb: Climb::Even,
        after_tap: 1.0,
        after_turn: 1.0,
        air: &[],
        signs: &[(DryCarbon, 0.14)],
        darker: 0.12,
        lighter: 0.05,
        borescope: 0.02,
        source: "Low compression with little leakage, valve train (lobe, spring, lifter, pushrod): \
                 common practice, no published source seen. Numbers: common practice, no source.",
    },
    CauseRow {
        name: "bore washed by fuel",
        plain: "Too much fuel has washed the oil film off the cylinder wall.",
        kind: Kind::Seal,
        prior: 0.006,
        levels: &[level(1.0, 0.78, 0.97, (0.12, 0.08), 20.0, Watch)],
        climb: Climb::Slow,
        after_tap: 1.0,
        after_turn: 1.0,
        air: &[(OilFiller, 0.60)],
        signs: &[(FuelWet, 0.70), (DryCarbon, 0.15)],
        darker: 0.30,
        lighter: 0.02,
        borescope: 0.15,
        source: "Oil on the wall brings the seal back, as with rings (GM Solstice 2006, Ford Probe \
                 1997); that fuel washes it off, and the numbers: common practice, no source.",
    },
    CauseRow {
        name: "carbon build-up in the chamber",
        plain: "Deposits fill part of the combustion chamber and raise the pressure.",
        kind: Kind::Raised,
        prior: 0.010,
        levels: &[level(1.0, 1.17, 1.18, (0.05, 0.03), 7.0, Watch)],
        climb: Climb::Even,
        after_tap: 1.0,
        after_turn: 1.0,
        air: &[],
        signs: &[(DryCarbon, 0.20), (OilWet, 0.10), (Bridged, 0.06)],
        darker: 0.20,
        lighter: 0.02,
        borescope: 0.85,
        source: "Above specification, carbon build-up: Ford Probe 1997. Bridging from loosened \
                 chamber deposits: US Army TM 5-4210-230-14&P-1 fig. 5. Numbers: common practice, no \
                 source.",
    },
    CauseRow {
        name: "head gasket leaking to the coolant",
        plain: "Cylinder pressure gets into the coolant past the head gasket or through a crack.",
        kind: Kind::Seal,
        prior: 0.006,
        levels: &[
            level(0.6, 0.90, 0.90, (0.07, 0.03), 22.0, Stop),
            level(0.4, 0.65, 0.65, (0.20, 0.03), 45.0, Stop),
        ],
        climb: Climb::Flat,
        after_tap: 1.0,
        after_turn: 1.0,
        air: &[(Coolant, 0.85)],
        signs: &[],
        darker: 0.02,
        lighter: 0.40,
        borescope: 0.40,
        source: "Bubbles in the radiator, gasket or cracked head or block: Mazda B2300 2008, \
                 Chevrolet Silverado 2005. No rise with oil: US Army TM 5-4210-230-14&P-1. A plug \
                 cleaned by coolant, and the numbers: common practice, no source.",
    },
    CauseRow {
        name: "test fault: piston not at top dead centre",
        plain: "The leak-down was read with a valve partly open. The test, not the engine.",
        kind: Kind::Test,
        prior: 0.020,
        levels: &[level(1.0, 1.0, 1.0, (0.0, 0.0), 88.0, Retest)],
        climb: Climb::Even,
        after_tap: 1.0,
        after_turn: 0.08,
        air: &[(Intake, 0.55), (Exhaust, 0.55)],
        signs: &[],
        darker: 0.0,
        lighter: 0.0,
        borescope: 0.0,
        source: "If passed, back up half a turn and come up again: AC 43.13-1B para 8-14 step (g); \
                 the crank may rotate under pressure: Chevrolet Silverado 2005. Numbers: common \
                 practice, no source.",
    },
    CauseRow {
        name: "test fault: fitting leaking",
        plain: "Air escaped at the tester's fitting. The test, not the engine.",
        kind: Kind::Test,
        prior: 0.015,
        levels: &[level(1.0, 1.0, 1.0, (0.0, 0.0), 35.0, Retest)],
        climb: Climb::Even,
        after_tap: 1.0,
        after_turn: 0.50,
        air: &[(Fitting, 0.85)],
        signs: &[],
        darker: 0.0,
        lighter: 0.0,
        borescope: 0.0,
        source: "No leakage allowed at plugs and joints: Continental TSIO-520-BE manual fig. 9-3. \
                 Numbers: common practice, no source.",
    },
    CauseRow {
        name: "test fault: valve not seated",
        plain: "A valve had not come to rest on its seat when the leak-down was read.",
        kind: Kind::Test,
        prior: 0.012,
        levels: &[level(1.0, 1.0, 1.0, (0.0, 0.0), 38.0, Retest)],
        climb: Climb::Even,
        after_tap: 0.15,
        after_turn: 0.30,
        air: &[(Exhaust, 0.55), (Intake, 0.40)],
        signs: &[],
        darker: 0.0,
        lighter: 0.0,
        borescope: 0.0,
        source: "Recheck after running at least 3 min: AC 43.13-1B para 8-14 step (i); turn the crank \
                 3 times or run 3 min and repeat: Lycoming IO-390-D manual 72-30 table 2; tap the \
                 valve: Continental IOF-240-B p. 7-22. Numbers: common practice, no source.",
    },
];
