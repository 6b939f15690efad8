//! What an utterance means.

use borespoke_core::engine::Cylinder;
use borespoke_core::quantity::{LeakPercent, PressureUnit, StatedLength, StatedPressure};
use borespoke_core::record::{AirExit, Bore, PlugSign, Stated, Stroke, Valves};

/// Something said about a cylinder.
#[derive(Debug, Clone, PartialEq)]
pub struct Statement {
    /// The cylinder: the one named, or else the one it must be about.
    pub cylinder: Cylinder,
    /// Whether the cylinder was named.
    pub named: bool,
    /// What was said about it.
    pub fact: Fact,
}

/// A fact about one cylinder, as it was said.
#[derive(Debug, Clone, PartialEq)]
pub enum Fact {
    /// A cranking pressure.
    Cranking {
        /// What the gauge showed.
        pressure: Stated<StatedPressure>,
        /// Dry or wet.
        bore: Bore,
        /// Final, or after so many strokes.
        stroke: Stroke,
    },
    /// A leak-down in percent.
    LeakDown {
        /// The percentage.
        leak: Stated<LeakPercent>,
        /// As found, or after a tap on the valves.
        valves: Valves,
    },
    /// A leak-down on a two-gauge tester ("seventy-two over eighty").
    TwoGauge {
        /// Before the restrictor.
        supply: StatedPressure,
        /// Behind it, at the cylinder.
        cylinder_side: StatedPressure,
        /// As found, or after a tap on the valves.
        valves: Valves,
    },
    /// What the plug looks like.
    Plug {
        /// The signs, in the order they were said.
        signs: Vec<PlugSign>,
    },
    /// The plug's gap.
    Gap {
        /// The gap.
        gap: Stated<StatedLength>,
    },
    /// Where air was heard.
    Air {
        /// Where.
        at: AirExit,
    },
}

/// Which earlier entry is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// The newest in force.
    Last,
    /// The newest in force about this cylinder.
    Cylinder(Cylinder),
}

/// One voice act.
#[derive(Debug, Clone, PartialEq)]
pub enum Meaning {
    /// A reading, a look or a listening.
    State(Statement),
    /// The statement stands in the place of an earlier one. A correction inside one breath ("one
    /// fifty, no, one forty") is already settled and comes as [`Meaning::State`].
    Correct {
        /// What is put right.
        which: Which,
        /// What stands in its place.
        statement: Statement,
    },
    /// An earlier entry is taken back.
    Withdraw(Which),
    /// The same as an earlier reading.
    Repeat {
        /// For which cylinder.
        cylinder: Cylinder,
        /// Same as which.
        like: Which,
    },
    /// The cylinder that comes next.
    Skip {
        /// To which; `None` is the one after the expected one.
        to: Option<Cylinder>,
    },
    /// From now on pressures without a unit are in this one ("we're in bar").
    Unit(PressureUnit),
    /// The next step is asked for.
    NextStep,
    /// No more listening.
    StopListening,
    /// Anything else. The clip is the truth; the text is what was heard of it.
    Remark {
        /// The cylinder it is about, when that was said.
        cylinder: Option<Cylinder>,
        /// The words.
        text: String,
    },
}

impl Meaning {
    /// Whether it is anything but a remark.
    #[must_use]
    pub const fn is_act(&self) -> bool {
        !matches!(self, Self::Remark { .. })
    }
}
