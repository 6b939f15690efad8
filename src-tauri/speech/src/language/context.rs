//! What the job says about what can be said now.

use borespoke_core::engine::{Cylinder, Engine};
use borespoke_core::quantity::{LengthUnit, PressureUnit};
use borespoke_core::record::{Bore, Observation};

/// The quantity in hand: the screen the mechanic works on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Expect {
    /// Cranking pressures: a bare number is a pressure in the unit in hand.
    Cranking,
    /// Leak-down: a bare number is a percentage; air is listened for.
    LeakDown,
    /// Plugs: words are about the plug of the expected cylinder.
    Plugs,
    /// Nothing in particular: a number needs its unit or a word that says what it is.
    #[default]
    Anything,
}

/// A closed interval of whole and broken numbers of one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// The least.
    pub least: f64,
    /// The most.
    pub most: f64,
}

impl Span {
    /// From `least` to `most`.
    #[must_use]
    pub const fn new(least: f64, most: f64) -> Self {
        Self { least, most }
    }

    /// Whether `value` lies in it.
    #[must_use]
    pub fn holds(self, value: f64) -> bool {
        value >= self.least && value <= self.most
    }
}

/// What each quantity can plausibly be on this engine. The recogniser is held to it; a number
/// outside it that was said with its cylinder and unit is still understood, and weighs little.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plausible {
    /// Cranking pressure, psi.
    pub cranking_psi: Span,
    /// Leak-down, percent.
    pub leak_percent: Span,
    /// Plug gap, thou.
    pub gap_thou: Span,
}

impl Plausible {
    /// A petrol engine. Manuals give 100 to 230 psi for sound engines (the sources stand with the
    /// rule sets); a dead cylinder shows a few tens, a carboned one more than its manual says.
    /// Gap: 10 to 80 thou (common practice, no source).
    pub const PETROL: Self = Self {
        cranking_psi: Span::new(0.0, 300.0),
        leak_percent: Span::new(0.0, 100.0),
        gap_thou: Span::new(8.0, 80.0),
    };

    /// A diesel. US Army TM 5-2420-230-24-2: 300 psi used, 350 new; others go to 500 (common
    /// practice, no source).
    pub const DIESEL: Self = Self { cranking_psi: Span::new(0.0, 600.0), ..Self::PETROL };

    /// The span of a cranking pressure in `unit`, widened outwards to a whole number.
    #[must_use]
    pub fn cranking(&self, unit: PressureUnit) -> Span {
        let in_unit = |psi: f64| psi * PressureUnit::Psi.pascals() / unit.pascals();
        Span::new(in_unit(self.cranking_psi.least).floor(), in_unit(self.cranking_psi.most).ceil())
    }

    /// The span of a plug gap in `unit`.
    #[must_use]
    pub fn gap(&self, unit: LengthUnit) -> Span {
        let in_unit = |thou: f64| thou * LengthUnit::Thou.metres() / unit.metres();
        Span::new(in_unit(self.gap_thou.least), in_unit(self.gap_thou.most))
    }
}

/// The job's state, as far as it bears on what can be said.
#[derive(Debug, Clone, PartialEq)]
pub struct Context {
    /// The engine: which cylinders there are and in what order they fire.
    pub engine: Engine,
    /// The quantity in hand.
    pub expect: Expect,
    /// The unit of a pressure said without one.
    pub pressure_unit: PressureUnit,
    /// Dry or wet, of a cranking pressure said without either.
    pub bore: Bore,
    /// The cylinder that a reading without one is of.
    pub next: Option<Cylinder>,
    /// What is plausible.
    pub plausible: Plausible,
    /// The newest observation in force: what "no, one forty" and "same again" mean.
    pub last: Option<Observation>,
}

impl Context {
    /// A job at its beginning: nothing said yet, the first cylinder of the firing order expected,
    /// psi in hand.
    #[must_use]
    pub fn new(engine: Engine, expect: Expect) -> Self {
        use borespoke_core::engine::Fuel;
        let plausible = match engine.fuel {
            Some(Fuel::Diesel) => Plausible::DIESEL,
            Some(Fuel::Petrol | Fuel::Lpg) | None => Plausible::PETROL,
        };
        let next = engine.firing_order().iter().next();
        Self {
            engine,
            expect,
            pressure_unit: PressureUnit::Psi,
            bore: Bore::Dry,
            next,
            plausible,
            last: None,
        }
    }
}
