//! Engines and logs for the checks, all invented.

use borespoke_core::engine::{Engine, FiringOrder};
use borespoke_core::quantity::{LeakPercent, PressureUnit, StatedPressure};
use borespoke_core::record::{
    Act, AirExit, Bore, Cranking, Entry, EntryId, LeakDown, LeakReading, Listening, Log,
    Observation, Origin, Stated, Stroke, Valves,
};

/// An engine that fires in the order of its numbers.
pub fn engine(cylinders: u32) -> Engine {
    Engine::new(FiringOrder::new(1..=cylinders).unwrap(), None).unwrap()
}

/// A reading on a dial.
pub fn dial(value: f64, unit: PressureUnit) -> StatedPressure {
    StatedPressure::new(value, unit).unwrap()
}

/// A reading on a dial in psi.
pub fn psi(value: f64) -> StatedPressure {
    dial(value, PressureUnit::Psi)
}

/// A final cranking pressure.
pub fn cranked(
    engine: &Engine,
    cylinder: u32,
    bore: Bore,
    pressure: Stated<StatedPressure>,
) -> Observation {
    Observation::Cranking(Cranking {
        cylinder: engine.cylinder(cylinder).unwrap(),
        pressure,
        bore,
        stroke: Stroke::Final,
        tester: None,
    })
}

/// A final dry cranking pressure, one number.
pub fn dry(engine: &Engine, cylinder: u32, pressure: StatedPressure) -> Observation {
    cranked(engine, cylinder, Bore::Dry, Stated::exactly(pressure))
}

/// A leak-down as found.
pub fn leak(engine: &Engine, cylinder: u32, reading: LeakReading) -> LeakDown {
    let cylinder = engine.cylinder(cylinder).unwrap();
    LeakDown { cylinder, reading, valves: Valves::AsFound, tester: None }
}

/// A leak-down in percent.
pub fn percent(value: f64) -> LeakReading {
    LeakReading::Percent { leak: Stated::exactly(LeakPercent::new(value).unwrap()) }
}

/// A leak-down as two pressures in psi.
pub fn pressures(supply: f64, held: f64) -> LeakReading {
    LeakReading::Pressures { supply: psi(supply), cylinder_side: psi(held) }
}

/// Where air was heard.
pub fn air(engine: &Engine, cylinder: u32, at: AirExit) -> Observation {
    Observation::Listening(Listening { cylinder: engine.cylinder(cylinder).unwrap(), at })
}

/// A log of these observations, in this order.
pub fn log(observations: impl IntoIterator<Item = Observation>) -> Log {
    let mut log = Log::new();
    for (i, observation) in observations.into_iter().enumerate() {
        let id = EntryId(uuid::Uuid::from_u128(i as u128 + 1));
        let at = jiff::Timestamp::UNIX_EPOCH;
        let act = Act::Observe { observation };
        log.append(Entry { id, at, origin: Origin::Typed, act }).unwrap();
    }
    log
}
