//! Dry cranking pressures against the limits on them.

use super::answer::{Answer, at_least, at_most, from_ends};
use super::evaluation::{CrankingSummary, CylinderPressure, PressureFigure, Verdict, WhyNot};
use super::limit::{AtLimit, CrankingDemand};
use super::wording::{percent, pressure};
use crate::engine::Cylinder;
use crate::quantity::{GaugePressure, PressureUnit};
use crate::readings::{CrankingRead, CylinderReadings, Range};

/// The dry readings of the engine.
pub(super) struct DryReadings<'a> {
    read: Vec<(Cylinder, CrankingRead<'a>, Range)>,
    not_read: Vec<Cylinder>,
}

impl<'a> DryReadings<'a> {
    pub(super) fn new(rows: &[CylinderReadings<'a>]) -> Self {
        let of = |row: &CylinderReadings<'a>| row.dry.map(|dry| (row.cylinder, dry, dry.range()));
        Self {
            read: rows.iter().filter_map(of).collect(),
            not_read: rows.iter().filter(|r| r.dry.is_none()).map(|r| r.cylinder).collect(),
        }
    }

    fn highest(&self) -> f64 {
        self.read.iter().map(|(_, _, range)| range.middle()).fold(0.0, f64::max)
    }

    fn mean(&self) -> f64 {
        let sum: f64 = self.read.iter().map(|(_, _, range)| range.middle()).sum();
        sum / self.read.len() as f64
    }

    /// The engine's figures; `None` when nothing was read.
    pub(super) fn summary(&self) -> Option<CrankingSummary> {
        let unit = self.read.first()?.1.unit();
        let highest = self.highest();
        let lowest = self.read.iter().map(|(_, _, r)| r.middle()).fold(f64::INFINITY, f64::min);
        // Cylinders share the highest or lowest when the gauge showed the same number.
        let on = |value: f64| {
            let there = |range: &Range| range.middle() >= value && range.middle() <= value;
            self.read.iter().filter(|(_, _, r)| there(r)).map(|(c, _, _)| *c).collect()
        };
        let mut testers: Vec<String> = Vec::new();
        for name in self.read.iter().filter_map(|(_, read, _)| read.tester) {
            if !testers.iter().any(|known| known == name) {
                testers.push(name.to_owned());
            }
        }
        Some(CrankingSummary {
            unit,
            highest: GaugePressure::from_pascals(highest),
            highest_on: on(highest),
            lowest: GaugePressure::from_pascals(lowest),
            lowest_on: on(lowest),
            mean: GaugePressure::from_pascals(self.mean()),
            spread: GaugePressure::from_pascals(highest - lowest),
            lowest_of_highest: (highest > 0.0).then(|| lowest / highest),
            not_read: self.not_read.clone(),
            testers,
        })
    }

    fn of(&self, cylinder: Cylinder) -> Option<&(Cylinder, CrankingRead<'a>, Range)> {
        self.read.iter().find(|(own, _, _)| *own == cylinder)
    }

    /// One cylinder's figure against the others.
    pub(super) fn against_others(&self, cylinder: Cylinder) -> Option<CylinderPressure> {
        let (_, read, range) = self.of(cylinder)?;
        let (value, mean, highest) = (range.middle(), self.mean(), self.highest());
        Some(CylinderPressure {
            figure: figure(read),
            from_mean: GaugePressure::from_pascals(value - mean),
            from_highest: GaugePressure::from_pascals(value - highest),
            of_mean: (mean > 0.0).then(|| value / mean),
            of_highest: (highest > 0.0).then(|| value / highest),
        })
    }

    /// How one cylinder stands against a demand.
    pub(super) fn answer(
        &self,
        cylinder: Cylinder,
        demand: &CrankingDemand,
        edge: AtLimit,
    ) -> Answer {
        let Some((_, read, own)) = self.of(cylinder) else {
            return Answer::not_tested(WhyNot::NoReading);
        };
        match self.ask(*own, cylinder, read.unit(), demand, edge) {
            Ok((verdict, says)) => Answer::plain(verdict, says),
            Err(why) => Answer::not_tested(why),
        }
    }

    fn ask(
        &self,
        own: Range,
        cylinder: Cylinder,
        unit: PressureUnit,
        demand: &CrankingDemand,
        edge: AtLimit,
    ) -> Result<(Verdict, String), WhyNot> {
        let said = |pascals: f64| pressure(GaugePressure::from_pascals(pascals), unit);
        let value = said(own.middle());
        match *demand {
            CrankingDemand::AtLeast { pressure: least } => {
                let least = least.pascals();
                let verdict =
                    from_ends(at_least(own.low, least, edge), at_least(own.high, least, edge));
                Ok((verdict, format!("{value}; at least {}", said(least))))
            }
            CrankingDemand::AtMost { pressure: most } => {
                let most = most.pascals();
                let verdict =
                    from_ends(at_most(own.low, most, edge), at_most(own.high, most, edge));
                Ok((verdict, format!("{value}; at most {}", said(most))))
            }
            CrankingDemand::OfHighest { at_least: share } => {
                let others = self.highest_of_others(cylinder)?;
                let share = share.fraction();
                let holds = |own: f64, others: f64| at_least(own, share * own.max(others), edge);
                let verdict = from_ends(holds(own.low, others.high), holds(own.high, others.low));
                let highest = self.highest();
                let says = format!(
                    "{value}; at least {}, {} of the highest, {}",
                    said(share * highest),
                    percent(share),
                    said(highest)
                );
                Ok((verdict, says))
            }
            CrankingDemand::BelowHighest { at_most: spread } => {
                let others = self.highest_of_others(cylinder)?;
                let spread = spread.pascals();
                let holds = |own: f64, others: f64| at_most((others - own).max(0.0), spread, edge);
                let verdict = from_ends(holds(own.low, others.high), holds(own.high, others.low));
                let below = (self.highest() - own.middle()).max(0.0);
                let says =
                    format!("{value}, {} below the highest; at most {}", said(below), said(spread));
                Ok((verdict, says))
            }
            CrankingDemand::OfMean { at_least: share } => {
                self.highest_of_others(cylinder)?;
                let share = share.fraction();
                let count = self.read.len() as f64;
                let others = |end: fn(&Range) -> f64| -> f64 {
                    let rest = self.read.iter().filter(|(c, _, _)| *c != cylinder);
                    rest.map(|(_, _, range)| end(range)).sum()
                };
                let holds =
                    |own: f64, others: f64| at_least(own, share * (own + others) / count, edge);
                let worst = holds(own.low, others(|range| range.high));
                let best = holds(own.high, others(|range| range.low));
                let says = format!(
                    "{value}; at least {}, {} of the mean, {}",
                    said(share * self.mean()),
                    percent(share),
                    said(self.mean())
                );
                Ok((from_ends(worst, best), says))
            }
        }
    }

    /// The highest of the other cylinders read, for comparing.
    fn highest_of_others(&self, cylinder: Cylinder) -> Result<Range, WhyNot> {
        let highest = |end: fn(&Range) -> f64| {
            let others = self.read.iter().filter(|(other, _, _)| *other != cylinder);
            others.map(|(_, _, range)| end(range)).reduce(f64::max)
        };
        let (low, high) = (highest(|range| range.low), highest(|range| range.high));
        let (Some(low), Some(high)) = (low, high) else { return Err(WhyNot::OnlyOneRead) };
        if self.highest() > 0.0 { Ok(Range::new(low, high)) } else { Err(WhyNot::AllZero) }
    }
}

pub(super) fn figure(read: &CrankingRead<'_>) -> PressureFigure {
    PressureFigure {
        entry: read.entry,
        stated: read.stated,
        pressure: GaugePressure::from_pascals(read.range().middle()),
        tester: read.tester.map(str::to_owned),
    }
}
