//! The readings in force, per cylinder, each with the entry and the tester it came from.

use crate::engine::{Cylinder, Engine};
use crate::quantity::{GaugePressure, LeakPercent, PressureUnit, StatedPressure};
use crate::record::{
    AirExit, Bore, EntryId, LeakDown, LeakReading, Log, Observation, Stated, Stroke, Valves,
};
use crate::tester::{Tester, TesterKind};

/// A value that was stated as one number or as a range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Range {
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Range {
    pub(super) const fn new(one: f64, other: f64) -> Self {
        Self { low: one.min(other), high: one.max(other) }
    }

    pub(super) const fn middle(self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
}

/// A cranking pressure in force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CrankingRead<'a> {
    pub(super) entry: EntryId,
    pub(super) stated: Stated<StatedPressure>,
    pub(super) tester: Option<&'a str>,
}

impl CrankingRead<'_> {
    /// In pascals.
    pub(super) fn range(&self) -> Range {
        let low = self.stated.value.gauge().pascals();
        Range::new(low, self.stated.up_to.map_or(low, |high| high.gauge().pascals()))
    }

    pub(super) const fn unit(&self) -> PressureUnit {
        self.stated.value.unit()
    }
}

/// A leak-down in force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LeakRead<'a> {
    pub(super) entry: EntryId,
    pub(super) reading: LeakReading,
    pub(super) after_tap: bool,
    pub(super) tester: Option<&'a str>,
    /// The regulated supply, where it was read or the tester's is known.
    pub(super) supply: Option<StatedPressure>,
}

impl<'a> LeakRead<'a> {
    fn new(entry: EntryId, read: &'a LeakDown, testers: &'a [Tester]) -> Self {
        let set = leak_down_set(testers, read.tester.as_deref());
        let supply = match read.reading {
            LeakReading::Pressures { supply, .. } => Some(supply),
            LeakReading::Percent { .. } => set.and_then(|(_, supply)| supply),
        };
        Self {
            entry,
            reading: read.reading,
            after_tap: read.valves == Valves::Tapped,
            tester: read.tester.as_deref().or(set.map(|(name, _)| name)),
            supply,
        }
    }

    /// The loss as a fraction of the supply pressure. `None` when the two pressures cannot be: no
    /// supply, or more behind the restrictor than before it.
    pub(super) fn loss(&self) -> Option<Range> {
        match self.reading {
            LeakReading::Percent { leak } => {
                let low = leak.value.percent();
                let high = leak.up_to.map_or(low, LeakPercent::percent);
                Some(Range::new(low / 100.0, high / 100.0))
            }
            LeakReading::Pressures { supply, cylinder_side } => {
                let (supply, held) = (supply.gauge().pascals(), cylinder_side.gauge().pascals());
                let loss = 1.0 - held / supply;
                (supply > 0.0 && loss >= 0.0).then_some(Range::new(loss, loss))
            }
        }
    }

    /// The pressure held behind the restrictor, at the middle of a range.
    pub(super) fn held(&self) -> Option<GaugePressure> {
        if let LeakReading::Pressures { cylinder_side, .. } = self.reading {
            return Some(cylinder_side.gauge());
        }
        let supply = self.supply?.gauge().pascals();
        Some(GaugePressure::from_pascals(supply * (1.0 - self.loss()?.middle())))
    }
}

/// The leak-down set of this name, or the only one there is when none was named.
fn leak_down_set<'a>(
    testers: &'a [Tester],
    name: Option<&str>,
) -> Option<(&'a str, Option<StatedPressure>)> {
    let mut sets = testers.iter().filter_map(|tester| match tester.kind {
        TesterKind::LeakDownSet { supply, .. } => Some((tester.name.as_str(), supply)),
        TesterKind::CrankingGauge { .. } => None,
    });
    if let Some(name) = name {
        return sets.find(|(own, _)| *own == name);
    }
    let only = sets.next()?;
    sets.next().is_none().then_some(only)
}

/// What stands for one cylinder. Where a thing was read twice, the later reading.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct CylinderReadings<'a> {
    pub(super) cylinder: Cylinder,
    pub(super) dry: Option<CrankingRead<'a>>,
    pub(super) wet: Option<CrankingRead<'a>>,
    pub(super) leak_as_found: Option<LeakRead<'a>>,
    pub(super) leak_tapped: Option<LeakRead<'a>>,
    pub(super) air: Vec<AirExit>,
}

impl<'a> CylinderReadings<'a> {
    /// The leak-down that counts: after the valves were tapped, where that was tried.
    pub(super) fn leak(&self) -> Option<LeakRead<'a>> {
        self.leak_tapped.or(self.leak_as_found)
    }
}

/// One row per cylinder of the engine, by number.
pub(super) fn in_force<'a>(
    engine: &Engine,
    testers: &'a [Tester],
    log: &'a Log,
) -> Vec<CylinderReadings<'a>> {
    let mut rows: Vec<_> = engine
        .cylinders()
        .map(|cylinder| CylinderReadings {
            cylinder,
            dry: None,
            wet: None,
            leak_as_found: None,
            leak_tapped: None,
            air: Vec::new(),
        })
        .collect();
    for (entry, observation) in log.in_force() {
        let Some(row) = observation.cylinder().and_then(|c| rows.get_mut(c.index())) else {
            continue;
        };
        match observation {
            Observation::Cranking(read) if read.stroke == Stroke::Final => {
                let tester = read.tester.as_deref();
                let reading = CrankingRead { entry: entry.id, stated: read.pressure, tester };
                match read.bore {
                    Bore::Dry => row.dry = Some(reading),
                    Bore::Wet => row.wet = Some(reading),
                }
            }
            Observation::LeakDown(read) => {
                let reading = LeakRead::new(entry.id, read, testers);
                match read.valves {
                    Valves::AsFound => row.leak_as_found = Some(reading),
                    Valves::Tapped => row.leak_tapped = Some(reading),
                }
            }
            Observation::Listening(heard) => row.air.push(heard.at),
            _ => {}
        }
    }
    rows
}
