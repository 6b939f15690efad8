//! The cylinder table: what is known per cylinder, from the entries in force.

use serde::Serialize;

use super::borescope::Sight;
use super::log::Log;
use super::observation::{AirExit, Bore, LeakReading, Observation, Stated, Stroke, Valves};
use super::plug::{PlugFigures, PlugSign};
use crate::engine::{Cylinder, Engine};
use crate::quantity::{StatedLength, StatedPressure};

/// What is known about one cylinder. Where a thing was read twice, the later reading is shown.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CylinderRow {
    /// Which cylinder.
    pub cylinder: Cylinder,
    /// Final cranking pressure, dry.
    pub dry: Option<Stated<StatedPressure>>,
    /// Final cranking pressure, wet.
    pub wet: Option<Stated<StatedPressure>>,
    /// Leak-down with the valves as found.
    pub leak: Option<LeakReading>,
    /// Leak-down after a tap on the valves.
    pub leak_tapped: Option<LeakReading>,
    /// Where air was heard.
    pub air: Vec<AirExit>,
    /// What was said about the plug.
    pub signs: Vec<PlugSign>,
    /// Colour figures of the plug.
    pub figures: Option<PlugFigures>,
    /// What a borescope showed, everything that was ever seen; `None` when nobody looked.
    pub borescope: Option<Vec<Sight>>,
    /// Plug gap.
    pub gap: Option<Stated<StatedLength>>,
}

impl CylinderRow {
    const fn empty(cylinder: Cylinder) -> Self {
        Self {
            cylinder,
            dry: None,
            wet: None,
            leak: None,
            leak_tapped: None,
            air: Vec::new(),
            signs: Vec::new(),
            figures: None,
            borescope: None,
            gap: None,
        }
    }

    fn take_in(&mut self, observation: &Observation) {
        match observation {
            Observation::Cranking(read) if read.stroke == Stroke::Final => match read.bore {
                Bore::Dry => self.dry = Some(read.pressure),
                Bore::Wet => self.wet = Some(read.pressure),
            },
            Observation::LeakDown(read) => match read.valves {
                Valves::AsFound => self.leak = Some(read.reading),
                Valves::Tapped => self.leak_tapped = Some(read.reading),
            },
            Observation::Listening(heard) => {
                if !self.air.contains(&heard.at) {
                    self.air.push(heard.at);
                }
            }
            Observation::Look(look) => {
                for sign in &look.signs {
                    if !self.signs.contains(sign) {
                        self.signs.push(*sign);
                    }
                }
                self.figures = look.figures.or(self.figures);
            }
            Observation::Borescope(look) => {
                let seen = self.borescope.get_or_insert_default();
                for sight in &look.seen {
                    if !seen.contains(sight) {
                        seen.push(*sight);
                    }
                }
            }
            Observation::Gap(gap) => self.gap = Some(gap.gap),
            // A pressure part way through the strokes belongs to the stroke pattern, not here.
            Observation::Cranking(_) | Observation::Remark(_) => {}
        }
    }
}

/// A row per cylinder, by number.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CylinderTable {
    /// The rows; row `i` is cylinder `i + 1`.
    pub rows: Vec<CylinderRow>,
}

impl CylinderTable {
    /// The table of this engine from what is in force in the log. Observations of cylinders that
    /// the engine does not have are left out.
    #[must_use]
    pub fn new(engine: &Engine, log: &Log) -> Self {
        let mut rows: Vec<_> = engine.cylinders().map(CylinderRow::empty).collect();
        for (_, observation) in log.in_force() {
            if let Some(row) =
                observation.cylinder().and_then(|cylinder| rows.get_mut(cylinder.index()))
            {
                row.take_in(observation);
            }
        }
        Self { rows }
    }
}
