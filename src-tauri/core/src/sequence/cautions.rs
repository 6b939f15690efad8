//! What must be seen and heeded, each with its source. The maker's manual and local rules come
//! before all of it.

use serde::Serialize;

use crate::source::Source;

/// When a caution must be on the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Moment {
    /// Before ignition or fuel is touched.
    BeforeIgnition,
    /// Before the engine is cranked.
    BeforeCranking,
    /// Before the crank is turned by hand.
    BeforeTurning,
    /// Before air goes on a cylinder.
    BeforeAir,
    /// While air is on.
    WhileAirIsOn,
    /// Before the valves are tapped.
    BeforeTapping,
}

/// A caution.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// When it must be on the screen.
    pub before: Moment,
    /// The caution.
    pub says: &'static str,
    /// Where it comes from.
    pub source: Source,
}

/// Something to see before air goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct MustSee {
    /// What.
    pub says: &'static str,
    /// What it means when it is not so.
    pub otherwise: &'static str,
    /// Where it comes from.
    pub source: Source,
}

/// What to do when top dead centre was passed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct WhenPassed {
    /// What to do.
    pub says: &'static str,
    /// Where it comes from.
    pub source: Source,
}

const fn published(document: &'static str, place: &'static str) -> Source {
    Source::Published { document, place }
}

const AC_43_13: &str = "FAA AC 43.13-1B";

/// How to come back to top dead centre.
pub const WHEN_PASSED: WhenPassed = WhenPassed {
    says: "Turn in the direction of rotation only. If top dead centre was passed, go back at least \
           half a turn and come up to it again.",
    source: published(AC_43_13, "paragraph 8-14, step (g)"),
};

/// What must be seen on a cylinder before air goes on.
pub const MUST_SEE: &[MustSee] = &[
    MustSee {
        says: "Both valves closed: the rockers or tappets of this cylinder are at rest.",
        otherwise: "It is at the top between exhaust and intake. Turn the crank one full turn.",
        source: Source::CommonPractice,
    },
    MustSee {
        says: "Lash on both valves: each rocker or tappet has free play, where the engine has any.",
        otherwise: "A valve is held off its seat. Set the lash first, or the reading means nothing.",
        source: Source::CommonPractice,
    },
    MustSee {
        says: "Piston at top dead centre: at the flat spot, where the crank can be moved a little \
               without the piston moving.",
        otherwise: "Air will turn the crank.",
        source: published(AC_43_13, "paragraph 8-14, step (g)"),
    },
];

/// The cautions, in the order of the work.
pub const CAUTIONS: &[Caution] = &[
    Caution {
        before: Moment::BeforeIgnition,
        says: "Make ignition and fuel safe so that the engine cannot start or spray fuel. Do it the \
               way the maker's manual says; ignition voltage can kill.",
        source: published(
            "US Army TM 5-4210-230-14&P-1, Addendum 2",
            "compression test, steps 1 to 6, for making ignition and fuel safe",
        ),
    },
    Caution {
        before: Moment::BeforeCranking,
        says: "Keep hands, hair, clothes and leads clear of belts, fans and plug holes. Gear in \
               neutral or park, wheels blocked, nobody in front of the plug holes.",
        source: Source::CommonPractice,
    },
    Caution {
        before: Moment::BeforeTurning,
        says: "Ignition off and key out before turning the crank by hand; an aircraft engine may fire \
               when its propeller is moved, even with the switch off.",
        source: published("Lycoming service instruction 1191A, 28 September 1998", "cautions"),
    },
    Caution {
        before: Moment::BeforeAir,
        says: "Air can turn the crank with force when the piston is not at top dead centre. Take off \
               the turning tool, hold or lock the crank, stand clear, and open the air slowly.",
        source: published(
            AC_43_13,
            "paragraph 8-14, caution after step (f); that the crank must be held also in Chevrolet \
             Silverado 2005, cylinder leakage test, and Mercedes-Benz 300CE 1993",
        ),
    },
    Caution {
        before: Moment::BeforeAir,
        says: "Aircraft: somebody holds the propeller before air goes on and until it is off; everybody \
               else stays out of its arc.",
        source: published("Lycoming service instruction 1191A, 28 September 1998", "cautions"),
    },
    Caution {
        before: Moment::BeforeAir,
        says: "Open the coolant cap only on an engine that is no longer hot. Coolant under pressure \
               scalds.",
        source: Source::CommonPractice,
    },
    Caution {
        before: Moment::WhileAirIsOn,
        says: "Do not turn or rock the crank out of top dead centre and do not loosen the fitting. \
               Eye protection on.",
        source: Source::CommonPractice,
    },
    Caution {
        before: Moment::BeforeTapping,
        says: "Take the air off first and turn the piston away from top dead centre, so that a valve \
               cannot meet it. Tap the rocker over the stem with a fibre drift, never the spring \
               retainer. Then bring it up again and read anew.",
        source: published(
            "Continental IOF-240-B manual, change 1, 31 August 2007",
            "p. 7-22; TSIO-520-BE manual, step 8. To take the air off first is common practice",
        ),
    },
];

/// The cautions of one moment.
pub fn cautions(before: Moment) -> impl Iterator<Item = &'static Caution> {
    CAUTIONS.iter().filter(move |caution| caution.before == before)
}
