//! How likely each thing is to be said now, from the job alone.

use borespoke_core::quantity::{PressureUnit, StatedPressure};

use super::context::{Context, Expect, Span};
use super::meaning::{Fact, Meaning, Statement};

// The shares below are our own estimate of how a job is talked through, made before any was
// recorded; only their order of magnitude matters to the recogniser.
const STATE: f64 = 0.85;
const CORRECT: f64 = 0.06;
const OTHER_ACT: f64 = 0.02;
/// How often one reading follows another in the same breath.
const GOES_ON: f64 = 0.4;
/// How often a reading is of the cylinder that the firing order says.
const IN_ORDER: f64 = 0.8;
/// How often a reading is of another quantity than the one in hand.
const OUT_OF_HAND: f64 = 0.05;
/// How often a reading lies outside the plausible span.
const IMPLAUSIBLE: f64 = 0.002;
/// How often a cranking pressure is one that no cylinder with a piston in it shows, by its share of
/// the plausible most: under a fifteenth (20 psi of 300), and up to a fifth (60 psi).
const NEXT_TO_NOTHING: (f64, f64) = (1.0 / 15.0, 0.01);
const VERY_LOW: (f64, f64) = (1.0 / 5.0, 0.12);
/// How often a reading is finer than a gauge is marked: half a psi.
const FINER_THAN_THE_GAUGE: f64 = 0.02;
/// Nobody reads a needle that swings over more than so many psi or percent as a range; how often it
/// is said all the same.
const WIDE: f64 = 5.0;
const WIDE_RANGE: f64 = 0.03;
/// How often a percentage is read between the marks, 1 percent apart.
const BETWEEN_THE_MARKS: f64 = 0.25;

pub(super) fn weight(context: &Context, meaning: &Meaning) -> f64 {
    match meaning {
        Meaning::State(statement) => STATE.ln() + of_statement(context, statement),
        Meaning::Correct { statement, .. } => CORRECT.ln() + of_value(context, &statement.fact),
        Meaning::Remark { .. } => 0.0,
        _ => OTHER_ACT.ln(),
    }
}

/// What several acts in one breath weigh. Only the first is as the job expects it: who goes on
/// counting off cylinders in a breath is in an order of his own.
pub(super) fn weight_of_all(context: &Context, meanings: &[Meaning]) -> f64 {
    let Some((first, rest)) = meanings.split_first() else { return 0.0 };
    let further = |meaning: &Meaning| match meaning {
        Meaning::State(statement) => GOES_ON.ln() + of_value(context, &statement.fact),
        other => weight(context, other),
    };
    weight(context, first) + rest.iter().map(further).sum::<f64>()
}

fn of_statement(context: &Context, statement: &Statement) -> f64 {
    let count = context.engine.cylinder_count();
    let others = count.saturating_sub(1).max(1) as f64;
    let cylinder = match context.next {
        Some(next) if next == statement.cylinder => IN_ORDER,
        Some(_) => (1.0 - IN_ORDER) / others,
        None => 1.0 / count as f64,
    };
    cylinder.ln() + of_value(context, &statement.fact)
}

fn of_value(context: &Context, fact: &Fact) -> f64 {
    let plausible = &context.plausible;
    let (expected, span, value) = match fact {
        Fact::Cranking { pressure, .. } => (
            Expect::Cranking,
            plausible.cranking_psi,
            pressure.value.gauge().in_unit(PressureUnit::Psi),
        ),
        Fact::LeakDown { leak, .. } => {
            (Expect::LeakDown, plausible.leak_percent, leak.value.percent())
        }
        Fact::Gap { gap } => {
            let unit = gap.value.unit();
            (Expect::Plugs, plausible.gap(unit), gap.value.value())
        }
        Fact::TwoGauge { .. } | Fact::Air { .. } => (Expect::LeakDown, Span::new(0.0, 0.0), 0.0),
        Fact::Plug { .. } => (Expect::Plugs, Span::new(0.0, 0.0), 0.0),
    };
    let in_hand = match context.expect {
        Expect::Anything => 1.0,
        expect if expect == expected => 1.0 - OUT_OF_HAND,
        _ => OUT_OF_HAND,
    };
    let likely = if span.holds(value) { 1.0 - IMPLAUSIBLE } else { IMPLAUSIBLE };
    f64::ln(in_hand * likely) + f64::ln(of_number(fact, value / span.most))
}

/// How likely the number is among those that the quantity can have, 1 for an everyday one. `share`
/// is its part of the plausible most.
fn of_number(fact: &Fact, share: f64) -> f64 {
    let wide = match fact {
        Fact::Cranking { pressure, .. } => pressure.up_to.is_some_and(|up_to| {
            let psi = |p: StatedPressure| p.gauge().in_unit(PressureUnit::Psi);
            psi(up_to) - psi(pressure.value) > WIDE
        }),
        Fact::LeakDown { leak, .. } => {
            leak.up_to.is_some_and(|up_to| up_to.percent() - leak.value.percent() > WIDE)
        }
        _ => false,
    };
    let range = if wide { WIDE_RANGE } else { 1.0 };
    range
        * match fact {
            Fact::Cranking { pressure, .. } => {
                let low = match share {
                    share if share < NEXT_TO_NOTHING.0 => NEXT_TO_NOTHING.1,
                    share if share < VERY_LOW.0 => VERY_LOW.1,
                    _ => 1.0,
                };
                let whole = pressure.value.value().fract() == 0.0;
                let finer = pressure.value.unit().decimals() == 0 && !whole;
                low * if finer { FINER_THAN_THE_GAUGE } else { 1.0 }
            }
            Fact::LeakDown { leak, .. } if leak.value.percent().fract() != 0.0 => BETWEEN_THE_MARKS,
            _ => 1.0,
        }
}
