//! What is believed of each cylinder once everything is known.

use super::infer::{Network, Pass};
use super::model::Consequence;
use super::state::SIDES;

/// Belief about one cylinder.
#[derive(Debug, Clone)]
pub(super) struct Belief {
    /// Probability of every state, `[side][set][state]`.
    pub joint: Vec<f64>,
    /// Probability of each cause.
    pub causes: Vec<f64>,
    /// Probability that a gasket to a neighbour leaks.
    pub gasket: f64,
    /// Probability of each consequence, in the order of [`Consequence::ALL`].
    pub consequences: [f64; Consequence::ALL.len()],
}

impl Belief {
    pub fn of(network: &Network<'_>, pass: &Pass, cylinder: usize) -> Self {
        let states = &network.model.states.states;
        let factor = &network.factors[cylinder];
        let rest = pass.rest[cylinder].by_sides(factor.sides);
        let mut joint = factor.state_weights(states, &rest);
        let sum: f64 = joint.iter().sum();
        for weight in &mut joint {
            *weight /= sum;
        }
        let mut belief = Self {
            causes: vec![0.0; network.model.causes.len()],
            gasket: 0.0,
            consequences: [0.0; Consequence::ALL.len()],
            joint: Vec::new(),
        };
        let gasket = network.model.shared.gasket.level.consequence;
        for (at, block) in joint.chunks(states.len()).enumerate() {
            let side = at / factor.sets;
            for (state, p) in states.iter().zip(block) {
                for &cause in &state.causes {
                    belief.causes[cause] += p;
                }
                let worst =
                    if side > 0 { state.consequence.max(gasket) } else { state.consequence };
                belief.consequences[worst as usize] += p;
                if side > 0 {
                    belief.gasket += p;
                }
            }
        }
        belief.joint = joint;
        belief
    }

    /// The most probable cause, if any is more probable than not being there: its row, or `None`
    /// for the gasket.
    pub fn first_suspect(&self) -> Suspect {
        first_suspect(&self.causes, self.gasket, 1.0)
    }
}

/// What is suspected first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Suspect {
    Nothing,
    Cause(usize),
    Gasket,
}

/// The cause with the most weight, when that is at least a third of `whole`.
pub(super) fn first_suspect(causes: &[f64], gasket: f64, whole: f64) -> Suspect {
    let mut best = (Suspect::Nothing, whole / 3.0);
    for (cause, &weight) in causes.iter().enumerate() {
        if weight > best.1 {
            best = (Suspect::Cause(cause), weight);
        }
    }
    if gasket > best.1 { Suspect::Gasket } else { best.0 }
}

const _: () = assert!(SIDES == 3);
