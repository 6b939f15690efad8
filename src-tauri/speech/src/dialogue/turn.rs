//! Whose turn it is: the state of the job for the next utterance.

use borespoke_core::engine::{Cylinder, Engine};
use borespoke_core::quantity::PressureUnit;
use borespoke_core::record::{Bore, Log, Observation, Stroke, Valves};

use crate::language::{Context, Expect};

/// What can be said next, from what is in force.
///
/// The cylinder expected is the first behind the newest reading, in firing order, that has no
/// reading of the quantity in hand; where all have one, the next in the order. Cranking pressures
/// are taken for dry ones until every cylinder has one, then for wet ones.
#[must_use]
pub fn context(engine: &Engine, log: &Log, expect: Expect) -> Context {
    let standing: Vec<&Observation> =
        log.in_force().into_iter().map(|(_, observation)| observation).collect();
    let bore = if engine.cylinders().all(|cylinder| is_read(&standing, cylinder, Round::Dry)) {
        Bore::Wet
    } else {
        Bore::Dry
    };
    let round = match (expect, bore) {
        (Expect::Cranking, Bore::Dry) => Round::Dry,
        (Expect::Cranking, Bore::Wet) => Round::Wet,
        (Expect::LeakDown, _) => Round::LeakDown,
        (Expect::Plugs, _) => Round::Plugs,
        (Expect::Anything, _) => Round::Newest,
    };
    let spoken = standing
        .iter()
        .rev()
        .find(|observation| !matches!(observation, Observation::Remark(_)))
        .copied();
    Context {
        pressure_unit: unit_in_hand(&standing),
        bore,
        next: next(engine, &standing, round),
        last: spoken.cloned(),
        ..Context::new(engine.clone(), expect)
    }
}

/// A round of readings over all cylinders.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Round {
    Dry,
    Wet,
    LeakDown,
    Plugs,
    /// Whichever the newest reading belongs to.
    Newest,
}

fn round_of(observation: &Observation) -> Option<Round> {
    match observation {
        Observation::Cranking(read) if read.stroke == Stroke::Final => match read.bore {
            Bore::Dry => Some(Round::Dry),
            Bore::Wet => Some(Round::Wet),
        },
        Observation::LeakDown(read) if read.valves == Valves::AsFound => Some(Round::LeakDown),
        // A picture alone does not end the mechanic's turn at a plug.
        Observation::Look(look) if !look.signs.is_empty() => Some(Round::Plugs),
        _ => None,
    }
}

fn is_read(standing: &[&Observation], cylinder: Cylinder, round: Round) -> bool {
    standing.iter().any(|observation| {
        round_of(observation) == Some(round) && observation.cylinder() == Some(cylinder)
    })
}

fn next(engine: &Engine, standing: &[&Observation], round: Round) -> Option<Cylinder> {
    let order = engine.firing_order();
    let newest = standing.iter().rev().find_map(|observation| {
        let of = round_of(observation)?;
        (round == Round::Newest || of == round).then_some((of, observation.cylinder()?))
    });
    let Some((round, last)) = newest else { return order.iter().next() };
    let mut candidate = order.after(last)?;
    let first = candidate;
    loop {
        if !is_read(standing, candidate, round) {
            return Some(candidate);
        }
        candidate = order.after(candidate)?;
        if candidate == first {
            return Some(first);
        }
    }
}

fn unit_in_hand(standing: &[&Observation]) -> PressureUnit {
    standing
        .iter()
        .rev()
        .find_map(|observation| match observation {
            Observation::Cranking(read) => Some(read.pressure.value.unit()),
            _ => None,
        })
        .unwrap_or(PressureUnit::Psi)
}
