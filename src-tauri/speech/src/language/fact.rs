//! A clause with its quantity known, as a checked fact.

use std::num::NonZeroU8;

use borespoke_core::quantity::{
    LeakPercent, LengthUnit, PressureUnit, StatedLength, StatedPressure,
};
use borespoke_core::record::{Bore, Stated, Stroke, Valves};

use super::draft::{Draft, Kind, SaidStroke};
use super::meaning::Fact;
use super::number::Decimal;
use super::problem::Problem;

/// Ends of a range further apart than this share of the lower one are two readings.
const WIDEST_RANGE: f64 = 0.2;
/// Ends of a range as near as this are always a range: 5 percent, 5 psi.
const NARROW_RANGE: f64 = 5.0;

/// What a clause takes over when it does not say it.
#[derive(Clone, Copy)]
pub(super) struct Defaults {
    pub(super) unit: PressureUnit,
    pub(super) bore: Bore,
    pub(super) stroke: Stroke,
}

/// Whether two numbers may be the ends of one reading's range.
pub(super) fn near(from: f64, to: f64) -> bool {
    to > from && to - from <= NARROW_RANGE.max(from * WIDEST_RANGE)
}

/// The facts of a clause about this quantity: one, but for air that comes out in several places.
pub(super) fn facts(draft: &Draft, kind: Kind, defaults: Defaults) -> Result<Vec<Fact>, Problem> {
    Ok(match kind {
        Kind::Cranking => {
            let unit = draft.pressure_unit.unwrap_or(defaults.unit);
            let pressure = stated(draft, |value| Ok(StatedPressure::new(value, unit)?))?;
            let stroke = said_stroke(draft, defaults.stroke)?;
            let bore = draft.bore.unwrap_or(defaults.bore);
            vec![Fact::Cranking { pressure, bore, stroke }]
        }
        Kind::LeakDown => {
            let leak = stated(draft, |value| Ok(LeakPercent::new(value)?))?;
            vec![Fact::LeakDown { leak, valves: valves(draft) }]
        }
        Kind::TwoGauge => {
            let unit = draft.pressure_unit.unwrap_or(defaults.unit);
            let [low, high] = draft.numbers[..] else { return Err(Problem::CorrectionUnclear) };
            if low > high {
                return Err(not_a_range(low, high));
            }
            vec![Fact::TwoGauge {
                supply: StatedPressure::new(high.value(), unit)?,
                cylinder_side: StatedPressure::new(low.value(), unit)?,
                valves: valves(draft),
            }]
        }
        Kind::Gap => {
            let first = draft.numbers.first().map_or(0.0, |number| number.value());
            // Gaps lie at 10 to 80 thou and at 0.2 to 2 mm: the number says the unit.
            let guess = if first < 5.0 { LengthUnit::Millimetre } else { LengthUnit::Thou };
            let unit = draft.length_unit.unwrap_or(guess);
            let gap = stated(draft, |value| Ok(StatedLength::new(value, unit)?))?;
            vec![Fact::Gap { gap }]
        }
        Kind::Plug if draft.signs.is_empty() => return Err(Problem::PlugUnclear),
        Kind::Plug => vec![Fact::Plug { signs: draft.signs.clone() }],
        Kind::Air => draft.air.iter().map(|&at| Fact::Air { at }).collect(),
    })
}

fn said_stroke(draft: &Draft, otherwise: Stroke) -> Result<Stroke, Problem> {
    match draft.stroke {
        None => Ok(otherwise),
        Some(SaidStroke::Final) => Ok(Stroke::Final),
        Some(SaidStroke::After(n)) => u8::try_from(n)
            .ok()
            .and_then(NonZeroU8::new)
            .map(Stroke::After)
            .ok_or(Problem::Strokes(n)),
    }
}

const fn valves(draft: &Draft) -> Valves {
    if draft.tapped { Valves::Tapped } else { Valves::AsFound }
}

fn not_a_range(from: Decimal, to: Decimal) -> Problem {
    Problem::NotARange { from: from.to_string(), to: to.to_string() }
}

fn stated<Q>(
    draft: &Draft,
    make: impl Fn(f64) -> Result<Q, Problem>,
) -> Result<Stated<Q>, Problem> {
    match draft.numbers[..] {
        [value] => Ok(Stated { value: make(value.value())?, up_to: None, about: draft.about }),
        [from, to] if near(from.value(), to.value()) => Ok(Stated {
            value: make(from.value())?,
            up_to: Some(make(to.value())?),
            about: draft.about,
        }),
        [from, to] => Err(not_a_range(from, to)),
        _ => Err(Problem::CorrectionUnclear),
    }
}

/// The fact with only the unit, dry or wet, or the stroke changed.
pub(super) fn changed(draft: &Draft, fact: &Fact) -> Result<Fact, Problem> {
    if draft.only_cylinder {
        return Ok(fact.clone());
    }
    let Fact::Cranking { pressure, bore, stroke } = fact else {
        return Err(Problem::CorrectionUnclear);
    };
    let unit = draft.pressure_unit.unwrap_or_else(|| pressure.value.unit());
    let restated = |value: StatedPressure| StatedPressure::new(value.value(), unit);
    let stroke = said_stroke(draft, *stroke)?;
    Ok(Fact::Cranking {
        pressure: Stated {
            value: restated(pressure.value)?,
            up_to: pressure.up_to.map(restated).transpose()?,
            about: pressure.about,
        },
        bore: draft.bore.unwrap_or(*bore),
        stroke,
    })
}

pub(super) const fn kind_of(fact: &Fact) -> Kind {
    match fact {
        Fact::Cranking { .. } => Kind::Cranking,
        Fact::LeakDown { .. } => Kind::LeakDown,
        Fact::TwoGauge { .. } => Kind::TwoGauge,
        Fact::Plug { .. } => Kind::Plug,
        Fact::Gap { .. } => Kind::Gap,
        Fact::Air { .. } => Kind::Air,
    }
}
