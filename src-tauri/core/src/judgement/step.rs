//! The tests that can be made, and what each takes.

use serde::Serialize;

/// A test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Test {
    /// Final dry cranking pressure.
    Dry,
    /// The same with oil.
    Wet,
    /// Leak-down.
    LeakDown,
    /// Listening at every exit.
    Listen,
    /// Leak-down after a tap on the valves.
    Tap,
    /// Leak-down after half a turn and coming up afresh.
    Turn,
    /// Leak-down with the tester's hose and fitting changed over.
    Rotate,
    /// A look into the cylinder.
    Borescope,
    /// A look at the plug.
    Plug,
    /// Zero check of the cranking gauge.
    ZeroGauge,
    /// Zero check of the leak-down set.
    ZeroSet,
    /// Throttle and battery.
    Cranking,
}

/// A test, what it takes and how it is said.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TestRow {
    /// Which.
    pub test: Test,
    /// Minutes of work, with the tools at hand and plugs that come out easily. Common practice, no
    /// source.
    pub minutes: f64,
    /// The instruction; a cylinder's number follows where it is on one.
    pub says: &'static str,
    /// What it would settle.
    pub settles: &'static str,
}

/// Tests on one cylinder.
pub(super) const ON_CYLINDER: [TestRow; 9] = [
    TestRow {
        test: Test::Dry,
        minutes: 2.0,
        says: "Read the dry cranking pressure on cylinder",
        settles: "Whether it keeps up with the others.",
    },
    TestRow {
        test: Test::Wet,
        minutes: 4.0,
        says: "Put in a spoonful of oil and read the cranking pressure again on cylinder",
        settles: "Rings or bore (it rises) against valves or gasket (it does not).",
    },
    TestRow {
        test: Test::LeakDown,
        minutes: 6.0,
        says: "Hold the crank, keep clear, and read the leak-down on cylinder",
        settles: "Whether the chamber leaks, and how much.",
    },
    TestRow {
        test: Test::Listen,
        minutes: 2.0,
        says: "With the air on, listen at intake, exhaust, oil filler, coolant and the next plug \
               holes of cylinder",
        settles: "Which way the air gets out.",
    },
    TestRow {
        test: Test::Tap,
        minutes: 3.0,
        says: "Air off, piston away from top dead centre, tap over the valve stems, then read the \
               leak-down again on cylinder",
        settles: "Whether something only lies on a valve seat.",
    },
    TestRow {
        test: Test::Turn,
        minutes: 3.0,
        says: "Air off, turn half a turn on, come up to top dead centre afresh and read the \
               leak-down again on cylinder",
        settles: "Whether the piston was at top dead centre and the valves were seated.",
    },
    TestRow {
        test: Test::Rotate,
        minutes: 3.0,
        says: "Air off, change the tester's hose and fitting over, and read the leak-down again on \
               cylinder",
        settles: "Whether the tester's fitting leaks.",
    },
    TestRow {
        test: Test::Borescope,
        minutes: 8.0,
        says: "Look into the cylinder with a borescope: bore, crown and valve edges of cylinder",
        settles: "What can be seen: scores, holes, burnt edges, deposits.",
    },
    TestRow {
        test: Test::Plug,
        minutes: 1.5,
        says: "Look at the plug of cylinder",
        settles: "Oil, fuel, soot or metal on the plug.",
    },
];

/// Tests on the engine or a tester.
pub(super) const ON_ENGINE: [TestRow; 3] = [
    TestRow {
        test: Test::ZeroGauge,
        minutes: 1.0,
        says: "Check that the cranking gauge goes back to zero",
        settles: "Whether every cranking pressure is out.",
    },
    TestRow {
        test: Test::ZeroSet,
        minutes: 1.0,
        says: "Close the shut-off of the leak-down set and check that it shows no leak",
        settles: "Whether every leak-down reads too much.",
    },
    TestRow {
        test: Test::Cranking,
        minutes: 3.0,
        says: "Check that the throttle is held wide open and the battery is charged, and crank one \
               cylinder again",
        settles: "Whether all pressures are low only because of how the engine was cranked.",
    },
];
