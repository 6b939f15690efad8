//! What is believed of each cylinder once everything is known.

use super::advice::{Action, best_action, least_loss};
use super::infer::{Network, Pass};
use super::model::{Consequence, Kind};
use super::state::State;

/// What it costs, in hours, to suspect the wrong cause of a fault first: work begun in the wrong
/// place. Common practice, no source.
const WRONG_SUSPECT: f64 = 4.0;

/// Belief about one cylinder.
#[derive(Debug, Clone)]
pub(super) struct Belief {
    /// Probability of every state, `[side][set][state]`.
    pub joint: Vec<f64>,
    /// The same summed for what is to be done.
    pub standing: Standing,
}

impl Belief {
    /// `tested` is whether a leak-down was read, so that a fault of that test can have happened.
    pub fn of(network: &Network<'_>, pass: &Pass, cylinder: usize, tested: bool) -> Self {
        let states = &network.model.states.states;
        let factor = &network.factors[cylinder];
        let mut joint = factor.state_weights(states, &pass.rest[cylinder]);
        let sum: f64 = joint.iter().sum();
        for weight in &mut joint {
            *weight /= sum;
        }
        let mut standing = Standing::none(network.model.causes.len());
        for (at, block) in joint.chunks(states.len()).enumerate() {
            for (state, &p) in states.iter().zip(block) {
                standing.add(network, state, at / factor.sets, p, tested);
            }
        }
        Self { joint, standing }
    }

    /// The chance that nothing leaks and no test was at fault.
    pub fn tight(&self, network: &Network<'_>) -> f64 {
        let (states, causes) = (&network.model.states.states, &network.model.causes);
        let shut = |state: &State| {
            let leaks = |kind| matches!(kind, Kind::Seal | Kind::Test);
            !state.causes.iter().any(|&cause| leaks(causes[cause].kind))
        };
        let no_gasket = self.joint.iter().take(states.len() * network.sets);
        no_gasket.zip(states.iter().cycle()).filter(|(_, state)| shut(state)).map(|(p, _)| p).sum()
    }
}

/// Weight of everything that decides what is done about a cylinder.
#[derive(Debug, Clone)]
pub(super) struct Standing {
    /// By [`Consequence::ALL`].
    pub consequences: [f64; Consequence::ALL.len()],
    /// By cause.
    pub causes: Vec<f64>,
    /// A gasket to a neighbour leaks.
    pub gasket: f64,
    /// Anything is wrong.
    faulty: f64,
}

impl Standing {
    pub fn none(causes: usize) -> Self {
        Self {
            consequences: [0.0; Consequence::ALL.len()],
            causes: vec![0.0; causes],
            gasket: 0.0,
            faulty: 0.0,
        }
    }

    pub fn whole(&self) -> f64 {
        self.consequences.iter().sum()
    }

    pub fn decision(&self) -> (Action, Suspect) {
        let suspect = first_suspect(&self.causes, self.gasket, self.whole());
        (best_action(&self.consequences), suspect)
    }

    /// Hours lost on average by acting best, times the weight.
    pub fn loss(&self) -> f64 {
        let named = self.causes.iter().copied().fold(self.gasket, f64::max);
        least_loss(&self.consequences) + WRONG_SUSPECT * (self.faulty - named).max(0.0)
    }

    /// `tested` is whether faults of the leak-down test can have happened.
    pub fn add(
        &mut self,
        network: &Network<'_>,
        state: &State,
        side: usize,
        weight: f64,
        tested: bool,
    ) {
        let model = network.model;
        let mut worst = state.consequence;
        if !tested && worst == Consequence::Retest {
            worst = Consequence::Sound;
        }
        if side > 0 {
            worst = worst.max(model.shared.gasket.level.consequence);
            self.gasket += weight;
        }
        self.consequences[worst as usize] += weight;
        let mut faulty = side > 0;
        for &cause in &state.causes {
            if tested || model.causes[cause].kind != Kind::Test {
                self.causes[cause] += weight;
                faulty = true;
            }
        }
        if faulty {
            self.faulty += weight;
        }
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
