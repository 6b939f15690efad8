//! Invented jobs in several states.

use borespoke_core::engine::{Cylinder, Engine, FiringOrder};
use borespoke_core::quantity::{LeakPercent, PressureUnit, StatedPressure};
use borespoke_core::record::{
    Bore, Cranking, LeakDown, LeakReading, Observation, Stated, Stroke, Valves,
};
use borespoke_speech::language::{Context, Expect};

/// A six-cylinder engine firing 1-5-3-6-2-4, nothing said yet.
pub(crate) fn six(expect: Expect) -> Context {
    let order = FiringOrder::new([1, 5, 3, 6, 2, 4]).unwrap();
    Context::new(Engine::new(order, None).unwrap(), expect)
}

pub(crate) fn cylinder(n: u32) -> Cylinder {
    Cylinder::of(n, 6).unwrap()
}

/// After "cylinder one, 150 psi, dry".
pub(crate) fn cranked() -> Context {
    Context {
        next: Some(cylinder(5)),
        last: Some(Observation::Cranking(Cranking {
            cylinder: cylinder(1),
            pressure: Stated::exactly(StatedPressure::new(150.0, PressureUnit::Psi).unwrap()),
            bore: Bore::Dry,
            stroke: Stroke::Final,
            tester: None,
        })),
        ..six(Expect::Cranking)
    }
}

/// After "cylinder one, 10 percent".
pub(crate) fn leaked() -> Context {
    Context {
        next: Some(cylinder(5)),
        last: Some(Observation::LeakDown(LeakDown {
            cylinder: cylinder(1),
            reading: LeakReading::Percent {
                leak: Stated::exactly(LeakPercent::new(10.0).unwrap()),
            },
            valves: Valves::AsFound,
            tester: None,
        })),
        ..six(Expect::LeakDown)
    }
}

pub(crate) fn in_unit(unit: PressureUnit) -> Context {
    Context { pressure_unit: unit, ..cranked() }
}
