//! Leak-downs against the limits on them.

use super::answer::{Answer, at_least, at_most, from_ends};
use super::evaluation::{LeakFigure, LeakSummary, Verdict, WhyNot};
use super::limit::{AtLimit, LeakDemand, LeakPart, Through};
use super::wording::{percent, pressure};
use crate::engine::Cylinder;
use crate::quantity::{GaugePressure, Length, LengthUnit, PressureUnit, Share, StatedPressure};
use crate::readings::{CylinderReadings, LeakRead, Range};
use crate::record::AirExit;

/// How far the supply may be from what a table asks for: 80 +/- 2 psi in the Lycoming IO-390-D
/// Series Engine Maintenance Manual, March 2020, chapter 72-30, p. 193.
const SUPPLY_TOLERANCE: GaugePressure = GaugePressure::new(2.0, PressureUnit::Psi);

/// Number drills either side of 0.040 in are a thousandth off; a typed 1 mm for 1.016 mm is the same
/// restrictor.
const SAME_RESTRICTOR: Length = Length::new(1.0, LengthUnit::Thou);

/// The leak-downs of the engine that count.
pub(super) struct LeakReadings<'a> {
    bore: Option<Length>,
    read: Vec<(Cylinder, LeakRead<'a>, Range)>,
    not_read: Vec<Cylinder>,
}

impl<'a> LeakReadings<'a> {
    pub(super) fn new(bore: Option<Length>, rows: &[CylinderReadings<'a>]) -> Self {
        let of = |row: &CylinderReadings<'a>| {
            let read = row.leak()?;
            Some((row.cylinder, read, read.loss()?))
        };
        let read: Vec<_> = rows.iter().filter_map(of).collect();
        let there = |cylinder| read.iter().any(|(own, _, _)| *own == cylinder);
        let not_read = rows.iter().map(|row| row.cylinder).filter(|&c| !there(c)).collect();
        Self { bore, read, not_read }
    }

    /// The engine's figures; `None` when nothing was read.
    pub(super) fn summary(&self) -> Option<LeakSummary> {
        let losses = || self.read.iter().map(|(_, _, loss)| loss.middle());
        let most = losses().reduce(f64::max)?;
        let mut testers: Vec<String> = Vec::new();
        for name in self.read.iter().filter_map(|(_, read, _)| read.tester) {
            if !testers.iter().any(|known| known == name) {
                testers.push(name.to_owned());
            }
        }
        let has_most = |loss: &Range| loss.middle() >= most;
        Some(LeakSummary {
            least: losses().fold(f64::INFINITY, f64::min),
            most,
            most_on: self.read.iter().filter(|(_, _, l)| has_most(l)).map(|(c, _, _)| *c).collect(),
            not_read: self.not_read.clone(),
            testers,
        })
    }

    /// How one cylinder stands against a demand whose figures were read through `through`.
    pub(super) fn answer(
        &self,
        row: &CylinderReadings<'a>,
        demand: &LeakDemand,
        edge: AtLimit,
        through: Through,
    ) -> Answer {
        let answer = || {
            let read = row.leak().ok_or(WhyNot::NoReading)?;
            let loss = read.loss().ok_or(WhyNot::ImpossiblePressures)?;
            let taken_as = self.restrictor(&read, through)?;
            let mut answer = self.ask(row, &read, loss, demand, edge)?;
            answer.says.push_str(&taken_as);
            Ok(answer)
        };
        answer().unwrap_or_else(Answer::not_tested)
    }

    /// Refuses a reading through another restrictor than the limit's; says what was taken for
    /// granted where one of the two is not known.
    fn restrictor(&self, read: &LeakRead<'_>, through: Through) -> Result<String, WhyNot> {
        if through == Through::Any {
            return Ok(String::new());
        }
        let Some(asked) = through.diameter(self.bore) else {
            return Ok("; the bore is not known, so the restrictor could not be checked".to_owned());
        };
        match read.restrictor() {
            Some(own) if (own.metres() - asked.metres()).abs() > SAME_RESTRICTOR.metres() => {
                Err(WhyNot::OtherRestrictor)
            }
            Some(_) => Ok(String::new()),
            None => Ok(format!(
                "; the restrictor is not known, taken as {:.0} thou",
                asked.in_unit(LengthUnit::Thou)
            )),
        }
    }

    fn ask(
        &self,
        row: &CylinderReadings<'a>,
        read: &LeakRead<'a>,
        loss: Range,
        demand: &LeakDemand,
        edge: AtLimit,
    ) -> Result<Answer, WhyNot> {
        let tapped = if read.after_tap { " after tapping the valves" } else { "" };
        let lost = format!("{} lost{tapped}", percent(loss.middle()));
        match *demand {
            LeakDemand::LossAtMost { at_most: most, part } => {
                let most = most.fraction();
                let holds = |loss| at_most(loss, most, edge);
                let whole = from_ends(holds(loss.low), holds(loss.high));
                let portion =
                    if holds(loss.high) { Portion::Whole } else { portion(part, &row.air)? };
                Ok(match portion {
                    Portion::Whole => {
                        let of = part_words(part);
                        Answer::plain(whole, format!("{lost}; at most {}{of}", percent(most)))
                    }
                    Portion::None => Answer::plain(
                        Verdict::Inside,
                        format!("{lost}, none of it heard{}", part_words(part)),
                    ),
                })
            }
            LeakDemand::LossBands { bands } => {
                Ok(Answer::graded(bands, (loss.low, loss.high), Share::fraction, &lost))
            }
            LeakDemand::HeldBands { supply, bands } => {
                let held = held(read, loss, supply)?;
                let lost = Range::new(supply.pascals() - held.high, supply.pascals() - held.low);
                let said = format!("{}{tapped}", held_words(read, held, supply));
                Ok(Answer::graded(bands, (lost.low, lost.high), GaugePressure::pascals, &said))
            }
            LeakDemand::HeldSpreadBands { supply, bands } => {
                let held_here = held(read, loss, supply)?;
                let best = self.best_held_of_others(row.cylinder, read, supply)?;
                let below = |here: f64, best: f64| (best - here).max(0.0);
                let apart =
                    Range::new(below(held_here.high, best.low), below(held_here.low, best.high));
                let unit = read.supply.map_or(PressureUnit::Psi, StatedPressure::unit);
                let middle = below(held_here.middle(), best.middle());
                let said = format!(
                    "{}{tapped}, {} below the best",
                    held_words(read, held_here, supply),
                    pressure(GaugePressure::from_pascals(middle), unit)
                );
                Ok(Answer::graded(bands, (apart.low, apart.high), GaugePressure::pascals, &said))
            }
            LeakDemand::HeldAtLeastMaster { supply, master } => {
                let held = held(read, loss, supply)?;
                let master = master.ok_or(WhyNot::MasterNotRead)?;
                let holds = |held| at_least(held, master.pascals(), edge);
                let unit = read.supply.map_or(PressureUnit::Psi, StatedPressure::unit);
                let says = format!(
                    "{}{tapped}; at least {}, what the master orifice showed",
                    held_words(read, held, supply),
                    pressure(master, unit)
                );
                Ok(Answer::plain(from_ends(holds(held.low), holds(held.high)), says))
            }
        }
    }

    /// The highest pressure held by another cylinder, when all were read alike.
    fn best_held_of_others(
        &self,
        cylinder: Cylinder,
        own: &LeakRead<'a>,
        supply: GaugePressure,
    ) -> Result<Range, WhyNot> {
        let mut best: Option<Range> = None;
        for (_, read, loss) in self.read.iter().filter(|(other, _, _)| *other != cylinder) {
            if read.tester != own.tester {
                return Err(WhyNot::DifferentTesters);
            }
            let held = held(read, *loss, supply).map_err(|_| WhyNot::DifferentTesters)?;
            best =
                Some(best.map_or(held, |best| {
                    Range::new(best.low.max(held.low), best.high.max(held.high))
                }));
        }
        best.ok_or(WhyNot::OnlyOneRead)
    }
}

/// The pressure held, in pascals, as it would be at exactly the supply the table is for. The loss
/// as a share of the supply changes little with a supply a hair off; the pressure held changes
/// with it.
fn held(read: &LeakRead<'_>, loss: Range, supply: GaugePressure) -> Result<Range, WhyNot> {
    let own = read.supply.ok_or(WhyNot::SupplyUnknown)?.gauge().pascals();
    let off = (own - supply.pascals()).abs();
    if !at_most(off, SUPPLY_TOLERANCE.pascals(), AtLimit::Inside) {
        return Err(WhyNot::OtherSupply);
    }
    let held = |loss: f64| supply.pascals() * (1.0 - loss);
    Ok(Range::new(held(loss.low), held(loss.high)))
}

fn held_words(read: &LeakRead<'_>, held: Range, supply: GaugePressure) -> String {
    let unit = read.supply.map_or(PressureUnit::Psi, StatedPressure::unit);
    let held = pressure(GaugePressure::from_pascals(held.middle()), unit);
    format!("{held} held of {}", pressure(supply, unit))
}

/// How much of the leak a part has.
enum Portion {
    Whole,
    None,
}

/// What share of the leak belongs to `part`, by where air was heard.
fn portion(part: LeakPart, air: &[AirExit]) -> Result<Portion, WhyNot> {
    let belongs = |exit: &AirExit| match part {
        LeakPart::Total => true,
        LeakPart::ValvesAndGasket => matches!(
            exit,
            AirExit::Intake | AirExit::Exhaust | AirExit::Coolant | AirExit::NextPlugHole
        ),
        LeakPart::Rings => matches!(exit, AirExit::OilFiller),
    };
    if part == LeakPart::Total {
        return Ok(Portion::Whole);
    }
    let heard: Vec<_> = air.iter().filter(|exit| **exit != AirExit::Nowhere).collect();
    match heard.iter().filter(|exit| belongs(exit)).count() {
        _ if heard.is_empty() => Err(WhyNot::ExitNotHeard),
        0 if !heard.contains(&&AirExit::Fitting) => Ok(Portion::None),
        all if all == heard.len() => Ok(Portion::Whole),
        _ => Err(WhyNot::SharesUnknown),
    }
}

const fn part_words(part: LeakPart) -> &'static str {
    match part {
        LeakPart::Total => "",
        LeakPart::ValvesAndGasket => " at the valves and the head gasket",
        LeakPart::Rings => " past the piston and rings",
    }
}

pub(super) fn figure(read: &LeakRead<'_>) -> LeakFigure {
    LeakFigure {
        entry: read.entry,
        reading: read.reading,
        loss: read.loss().map(Range::middle),
        held: read.held(),
        supply: read.supply,
        after_tap: read.after_tap,
        tester: read.tester.map(str::to_owned),
    }
}
