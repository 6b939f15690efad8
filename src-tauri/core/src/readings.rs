//! The readings in force, per cylinder, each with the entry and the tester it came from.

use crate::engine::{Cylinder, Engine};
use crate::quantity::{GaugePressure, LeakPercent, Length, PressureUnit, StatedPressure};
use crate::record::{
    AirExit, Bore, Cranking, EntryId, LeakDown, LeakReading, Log, Observation, Stated, Stroke,
    Valves,
};
use crate::tester::{Tester, TesterKind};

/// A value that was stated as one number or as a range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Range {
    pub(crate) low: f64,
    pub(crate) high: f64,
}

impl Range {
    pub(crate) const fn new(one: f64, other: f64) -> Self {
        Self { low: one.min(other), high: one.max(other) }
    }

    pub(crate) const fn middle(self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
}

/// A cranking pressure in force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CrankingRead<'a> {
    pub(crate) entry: EntryId,
    pub(crate) stated: Stated<StatedPressure>,
    /// The tester's name, when it was named or there is only one.
    pub(crate) tester: Option<&'a str>,
    /// The tester itself, when the job has it.
    pub(crate) gauge: Option<&'a Tester>,
}

impl<'a> CrankingRead<'a> {
    fn new(entry: EntryId, read: &'a Cranking, testers: &'a [Tester]) -> Self {
        let is_gauge = |kind: &TesterKind| matches!(kind, TesterKind::CrankingGauge { .. });
        let gauge = the_one(testers, is_gauge, read.tester.as_deref());
        let tester = read.tester.as_deref().or(gauge.map(|gauge| gauge.name.as_str()));
        Self { entry, stated: read.pressure, tester, gauge }
    }

    /// In pascals.
    pub(crate) fn range(&self) -> Range {
        let low = self.stated.value.gauge().pascals();
        Range::new(low, self.stated.up_to.map_or(low, |high| high.gauge().pascals()))
    }

    pub(crate) const fn unit(&self) -> PressureUnit {
        self.stated.value.unit()
    }
}

/// A leak-down in force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct LeakRead<'a> {
    pub(crate) entry: EntryId,
    pub(crate) reading: LeakReading,
    pub(crate) after_tap: bool,
    /// The tester's name, when it was named or there is only one.
    pub(crate) tester: Option<&'a str>,
    /// The tester itself, when the job has it.
    pub(crate) set: Option<&'a Tester>,
    /// The regulated supply, where it was read or the tester's is known.
    pub(crate) supply: Option<StatedPressure>,
}

impl<'a> LeakRead<'a> {
    fn new(entry: EntryId, read: &'a LeakDown, testers: &'a [Tester]) -> Self {
        let is_set = |kind: &TesterKind| matches!(kind, TesterKind::LeakDownSet { .. });
        let set = the_one(testers, is_set, read.tester.as_deref());
        let supply = match read.reading {
            LeakReading::Pressures { supply, .. } => Some(supply),
            LeakReading::Percent { .. } => set.and_then(|set| match set.kind {
                TesterKind::LeakDownSet { supply, .. } => supply,
                TesterKind::CrankingGauge { .. } => None,
            }),
        };
        Self {
            entry,
            reading: read.reading,
            after_tap: read.valves == Valves::Tapped,
            tester: read.tester.as_deref().or(set.map(|set| set.name.as_str())),
            set,
            supply,
        }
    }

    /// The loss as a fraction of the supply pressure. `None` when the two pressures cannot be: no
    /// supply, or more behind the restrictor than before it.
    pub(crate) fn loss(&self) -> Option<Range> {
        match self.reading {
            LeakReading::Percent { leak } => {
                let low = leak.value.percent();
                let high = leak.up_to.map_or(low, LeakPercent::percent);
                Some(Range::new(low / 100.0, high / 100.0))
            }
            LeakReading::Pressures { supply, cylinder_side } => {
                let (supply, held) = (supply.gauge().pascals(), cylinder_side.gauge().pascals());
                let loss = 1.0 - held / supply;
                // Without a supply this is no number, or less than nothing.
                (loss >= 0.0).then_some(Range::new(loss, loss))
            }
        }
    }

    /// The diameter of the tester's restrictor, where it is known.
    pub(crate) fn restrictor(&self) -> Option<Length> {
        match self.set?.kind {
            TesterKind::LeakDownSet { restrictor, .. } => restrictor,
            TesterKind::CrankingGauge { .. } => None,
        }
    }

    /// The pressure held behind the restrictor, at the middle of a range.
    pub(crate) fn held(&self) -> Option<GaugePressure> {
        if let LeakReading::Pressures { cylinder_side, .. } = self.reading {
            return Some(cylinder_side.gauge());
        }
        let supply = self.supply?.gauge().pascals();
        Some(GaugePressure::from_pascals(supply * (1.0 - self.loss()?.middle())))
    }
}

/// The tester of this name, or the only one of its kind when none was named.
fn the_one<'a>(
    testers: &'a [Tester],
    kind: impl Fn(&TesterKind) -> bool,
    name: Option<&str>,
) -> Option<&'a Tester> {
    let mut all = testers.iter().filter(|tester| kind(&tester.kind));
    if let Some(name) = name {
        return all.find(|tester| tester.name == name);
    }
    let only = all.next()?;
    all.next().is_none().then_some(only)
}

/// What stands for one cylinder. Where a thing was read twice, the later reading.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct CylinderReadings<'a> {
    pub(crate) cylinder: Cylinder,
    pub(crate) dry: Option<CrankingRead<'a>>,
    pub(crate) wet: Option<CrankingRead<'a>>,
    pub(crate) leak_as_found: Option<LeakRead<'a>>,
    pub(crate) leak_tapped: Option<LeakRead<'a>>,
    pub(crate) air: Vec<AirExit>,
}

impl<'a> CylinderReadings<'a> {
    /// The leak-down that counts: after the valves were tapped, where that was tried.
    pub(crate) fn leak(&self) -> Option<LeakRead<'a>> {
        self.leak_tapped.or(self.leak_as_found)
    }
}

/// One row per cylinder of the engine, by number.
pub(crate) fn in_force<'a>(
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
                let reading = CrankingRead::new(entry.id, read, testers);
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
