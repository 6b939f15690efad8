//! Between what is said and what the log keeps.

use borespoke_core::engine::Cylinder;
use borespoke_core::record::{Cranking, Gap, LeakDown, LeakReading, Listening, Look, Observation};

use super::meaning::{Fact, Statement};
use super::number::Decimal;

impl Statement {
    /// The statement as an observation. Which tester it was read on is not said, and stays open.
    #[must_use]
    pub fn observation(&self) -> Observation {
        let cylinder = self.cylinder;
        match &self.fact {
            Fact::Cranking { pressure, bore, stroke } => Observation::Cranking(Cranking {
                cylinder,
                pressure: *pressure,
                bore: *bore,
                stroke: *stroke,
                tester: None,
            }),
            Fact::LeakDown { leak, valves } => Observation::LeakDown(LeakDown {
                cylinder,
                reading: LeakReading::Percent { leak: *leak },
                valves: *valves,
                tester: None,
            }),
            Fact::TwoGauge { supply, cylinder_side, valves } => Observation::LeakDown(LeakDown {
                cylinder,
                reading: LeakReading::Pressures { supply: *supply, cylinder_side: *cylinder_side },
                valves: *valves,
                tester: None,
            }),
            Fact::Plug { signs } => Observation::Look(Look {
                cylinder,
                signs: signs.clone(),
                picture: None,
                figures: None,
            }),
            Fact::Gap { gap } => Observation::Gap(Gap { cylinder, gap: *gap }),
            Fact::Air { at } => Observation::Listening(Listening { cylinder, at: *at }),
        }
    }

    /// An observation of the log as it could have been said; `None` for a remark and for a borescope
    /// finding.
    #[must_use]
    pub fn of(observation: &Observation) -> Option<Self> {
        let (cylinder, fact) = match observation {
            Observation::Cranking(read) => (
                read.cylinder,
                Fact::Cranking { pressure: read.pressure, bore: read.bore, stroke: read.stroke },
            ),
            Observation::LeakDown(read) => (
                read.cylinder,
                match read.reading {
                    LeakReading::Percent { leak } => Fact::LeakDown { leak, valves: read.valves },
                    LeakReading::Pressures { supply, cylinder_side } => {
                        Fact::TwoGauge { supply, cylinder_side, valves: read.valves }
                    }
                },
            ),
            Observation::Listening(heard) => (heard.cylinder, Fact::Air { at: heard.at }),
            Observation::Look(look) => (look.cylinder, Fact::Plug { signs: look.signs.clone() }),
            Observation::Gap(gap) => (gap.cylinder, Fact::Gap { gap: gap.gap }),
            // A borescope finding is typed in, a remark is whatever was said.
            Observation::Borescope(_) | Observation::Remark(_) => return None,
        };
        Some(Self { cylinder, named: false, fact })
    }

    /// The same fact about another cylinder.
    #[must_use]
    pub fn moved_to(&self, cylinder: Cylinder) -> Self {
        Self { cylinder, ..self.clone() }
    }
}

impl Fact {
    /// The number that was said: the lower end of a range, the cylinder's side of two gauges.
    #[must_use]
    pub fn number(&self) -> Option<Decimal> {
        let value = match self {
            Self::Cranking { pressure, .. } => pressure.value.value(),
            Self::LeakDown { leak, .. } => leak.value.percent(),
            Self::TwoGauge { cylinder_side, .. } => cylinder_side.value(),
            Self::Gap { gap } => gap.value.value(),
            Self::Plug { .. } | Self::Air { .. } => return None,
        };
        Some(Decimal::nearest(value))
    }
}
