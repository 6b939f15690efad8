//! From beliefs to what is said.

use std::collections::BTreeMap;

use super::advice::{Action, action_for};
use super::evidence::{CylinderEvidence, Evidence};
use super::explain::{Seen, Variants, split};
use super::finding::{Advice, Conflict, Finding, Judgement, Posterior};
use super::infer::{Network, Pass, Prior, Shared};
use super::model::{Consequence, Model};
use super::next_step::next_steps;
use super::posterior::{Belief, Suspect};
use crate::engine::Cylinder;
use crate::job::{Job, Warmth};
use crate::quantity::Probability;
use crate::record::Log;

/// A cause is reported from this probability on, ...
const LEAST_PROBABLE: f64 = 0.04;
/// ... when the entries have made it at least this much more probable than it was.
const LEAST_RISE: f64 = 1.5;

/// Said when no step is left.
const SETTLED: &str = "No test left would change what to do often enough to be worth its time.";

struct Report<'a> {
    job: &'a Job,
    evidence: &'a Evidence,
    network: &'a Network<'a>,
    pass: Pass,
    beliefs: Vec<Belief>,
    variants: BTreeMap<Cylinder, (Variants<'a>, Seen)>,
}

/// `look_ahead` is whether to look for the next step.
pub(super) fn report(model: &Model, job: &Job, log: &Log, look_ahead: bool) -> Judgement {
    let evidence = Evidence::gather(job, log, &model.scatter);
    let network = Network::new(model, job, &evidence);
    let pass = network.pass(&network.prior);
    let beliefs = evidence
        .cylinders
        .iter()
        .enumerate()
        .map(|(at, known)| Belief::of(&network, &pass, at, known.leak_found()))
        .collect();
    let mut report = Report {
        job,
        evidence: &evidence,
        network: &network,
        pass,
        beliefs,
        variants: BTreeMap::new(),
    };
    let findings = report.findings();
    let conflicts = report.conflicts();
    let next_steps = if look_ahead {
        next_steps(&network, job, &evidence.cylinders, &report.pass, &report.beliefs)
    } else {
        Vec::new()
    };
    let settled = look_ahead && next_steps.is_empty() && report.anything_known();
    Judgement {
        advice: report.advice(),
        not_tested: report.not_tested(),
        settled: settled.then(|| SETTLED.to_owned()),
        next_steps,
        findings,
        conflicts,
    }
}

impl<'a> Report<'a> {
    fn known(&self, cylinder: Cylinder) -> &'a CylinderEvidence {
        self.evidence.of(cylinder)
    }

    fn anything_known(&self) -> bool {
        self.evidence.cylinders.iter().any(|known| !known.said.is_empty())
    }

    /// The evidence of a cylinder with entries left out, and what the rest of the engine leaves of
    /// it.
    fn variants(&mut self, cylinder: Cylinder) -> &(Variants<'a>, Seen) {
        let (network, known) = (self.network, self.known(cylinder));
        let rest = &self.pass.rest[cylinder.index()];
        self.variants.entry(cylinder).or_insert_with(|| {
            let variants = Variants::new(network, known, cylinder);
            let seen = variants.seen(rest);
            (variants, seen)
        })
    }

    fn findings(&mut self) -> Vec<Finding> {
        if !self.anything_known() {
            return Vec::new();
        }
        let mut findings = Vec::new();
        for cylinder in self.job.engine.cylinders() {
            for cause in 0..self.network.model.causes.len() {
                findings.extend(self.cause_finding(cylinder, cause));
            }
        }
        findings.extend(self.gasket_findings());
        let levels = (0..self.network.model.shared.levels.len()).map(Shared::Level);
        let timing = (0..self.network.topology.banks.len()).map(Shared::Timing);
        let shared: Vec<Shared> = levels.chain(timing).chain([Shared::LeakSet]).collect();
        for cause in shared {
            findings.extend(self.shared_finding(cause));
        }
        findings.sort_by(|a, b| {
            b.probability
                .value()
                .total_cmp(&a.probability.value())
                .then_with(|| a.cylinders.cmp(&b.cylinders))
                .then_with(|| a.cause.cmp(&b.cause))
        });
        findings
    }

    fn cause_finding(&mut self, cylinder: Cylinder, cause: usize) -> Option<Finding> {
        let model = self.network.model;
        let probability = self.beliefs[cylinder.index()].standing.causes[cause];
        let prior: f64 = model
            .states
            .states
            .iter()
            .filter(|state| state.causes.contains(&cause))
            .map(|state| state.prior)
            .sum();
        if !worth_saying(probability, prior) {
            return None;
        }
        let (variants, seen) = self.variants(cylinder);
        let weights = variants.weights(seen, |state, _, _| state.mask >> cause & 1 == 1);
        let (in_favour, against) = split(weights);
        let row = &model.causes[cause];
        Some(Finding {
            cause: row.name.to_owned(),
            plain: row.plain.to_owned(),
            cylinders: vec![cylinder],
            probability: Probability::clamped(probability),
            prior: Probability::clamped(prior),
            in_favour,
            against,
            source: row.source.to_owned(),
            advice: action_for(self.worst_of(cylinder, cause)).says().to_owned(),
        })
    }

    /// What most probably follows from a cause, by its severity here.
    fn worst_of(&self, cylinder: Cylinder, cause: usize) -> Consequence {
        let states = &self.network.model.states.states;
        let mut weights = [0.0; Consequence::ALL.len()];
        for block in self.beliefs[cylinder.index()].joint.chunks(states.len()) {
            for (state, p) in states.iter().zip(block) {
                if state.causes.contains(&cause) {
                    weights[state.consequence as usize] += p;
                }
            }
        }
        let mut best = Consequence::Sound;
        for consequence in Consequence::ALL {
            if weights[consequence as usize] > weights[best as usize] {
                best = consequence;
            }
        }
        best
    }

    fn gasket_findings(&mut self) -> Vec<Finding> {
        let row = self.network.model.shared.gasket;
        let mut findings = Vec::new();
        for (here, next) in gasket_places(self.network, self.job) {
            let probability = gasket(self.network, &self.pass, here, next);
            if !worth_saying(probability, row.prior) {
                continue;
            }
            let mut weights = Vec::new();
            for (cylinder, leaks_right) in
                [(Some(here), next.is_some()), (next, false)].into_iter().filter_map(with_side)
            {
                let (variants, seen) = self.variants(cylinder);
                weights.extend(variants.weights(seen, |_, l, r| if leaks_right { r } else { l }));
            }
            let (in_favour, against) = split(weights);
            let mut pair: Vec<Cylinder> = [Some(here), next].into_iter().flatten().collect();
            pair.sort();
            let mut advice = action_for(row.level.consequence).says().to_owned();
            if next.is_none() {
                advice.push_str(" Which neighbour is not known: give the engine's layout.");
            }
            findings.push(Finding {
                cause: row.name.to_owned(),
                plain: row.plain.to_owned(),
                cylinders: pair,
                probability: Probability::clamped(probability),
                prior: Probability::clamped(row.prior),
                in_favour,
                against,
                source: row.source.to_owned(),
                advice,
            });
        }
        findings
    }

    fn shared_finding(&mut self, cause: Shared) -> Option<Finding> {
        let probability = self.network.shared(cause, &self.pass);
        let prior = self.network.prior.of(cause);
        if !worth_saying(probability, prior) {
            return None;
        }
        let all: Vec<Cylinder> = self.job.engine.cylinders().collect();
        let shared = &self.network.model.shared;
        let (name, plain, source, consequence, mut cylinders) = match cause {
            Shared::Level(level) => {
                let row = &shared.levels[level];
                (row.name, row.plain, row.source, row.consequence, all)
            }
            Shared::Timing(bank) => {
                let row = &shared.timing;
                let bank = &self.network.topology.banks[bank].cylinders;
                let cylinders = bank.iter().map(|&cylinder| all[cylinder]).collect();
                (row.name, row.plain, row.source, row.consequence, cylinders)
            }
            Shared::LeakSet => {
                let row = &shared.leak_set;
                (row.name, row.plain, row.source, Consequence::Retest, all)
            }
        };
        cylinders.sort();
        let with = self.network.pass(&self.network.prior.given(cause, true));
        let without = self.network.pass(&self.network.prior.given(cause, false));
        let mut weights = Vec::new();
        for &cylinder in &cylinders {
            let (variants, _) = self.variants(cylinder);
            let with = variants.seen(&with.rest[cylinder.index()]);
            let without = variants.seen(&without.rest[cylinder.index()]);
            weights.extend(variants.shared_weights(&with, &without));
        }
        let (in_favour, against) = split(weights);
        Some(Finding {
            cause: name.to_owned(),
            plain: plain.to_owned(),
            cylinders,
            probability: Probability::clamped(probability),
            prior: Probability::clamped(prior),
            in_favour,
            against,
            source: source.to_owned(),
            advice: action_for(consequence).says().to_owned(),
        })
    }

    fn suspect_name(&self, suspect: Suspect) -> Option<&'static str> {
        match suspect {
            Suspect::Nothing => None,
            Suspect::Cause(cause) => Some(self.network.model.causes[cause].name),
            Suspect::Gasket => Some(self.network.model.shared.gasket.name),
        }
    }

    fn conflicts(&mut self) -> Vec<Conflict> {
        let mut conflicts = Vec::new();
        for cylinder in self.job.engine.cylinders() {
            // A cylinder that is sound by all accounts has no contradiction to explain.
            let sound =
                self.beliefs[cylinder.index()].standing.consequences[Consequence::Sound as usize];
            if self.known(cylinder).said.len() < 2 || sound > 0.5 {
                continue;
            }
            let suspect = self.suspect_name(self.beliefs[cylinder.index()].standing.decision().1);
            let (variants, seen) = self.variants(cylinder);
            conflicts.extend(variants.conflict(seen, suspect));
        }
        conflicts.sort_by(|a: &Conflict, b| b.measure.total_cmp(&a.measure));
        conflicts
    }

    /// One advice per action and suspect, for the cylinders about which something is known.
    fn advice(&self) -> Vec<Advice> {
        let mut grouped: BTreeMap<(std::cmp::Reverse<Action>, String), Vec<Cylinder>> =
            BTreeMap::new();
        for cylinder in self.job.engine.cylinders() {
            if self.known(cylinder).said.is_empty() {
                continue;
            }
            let (action, suspect) = self.beliefs[cylinder.index()].standing.decision();
            let because = match self.suspect_name(suspect) {
                Some(cause) => format!("Suspected first: {cause}."),
                None if action == Action::CarryOn => {
                    "Nothing that was read points to a fault.".to_owned()
                }
                None => "Something is likely wrong, but no single cause stands out.".to_owned(),
            };
            grouped.entry((std::cmp::Reverse(action), because)).or_default().push(cylinder);
        }
        grouped
            .into_iter()
            .map(|((std::cmp::Reverse(action), because), cylinders)| Advice {
                cylinders,
                action,
                says: action.says().to_owned(),
                because,
            })
            .collect()
    }

    fn not_tested(&self) -> Vec<String> {
        let mut said = Vec::new();
        let mut missing = |what: &str, done: &dyn Fn(&CylinderEvidence) -> bool| {
            let open: Vec<String> = self
                .job
                .engine
                .cylinders()
                .filter(|&cylinder| !done(self.known(cylinder)))
                .map(|cylinder| cylinder.to_string())
                .collect();
            if open.len() == self.evidence.cylinders.len() {
                said.push(format!("{what}: not done on any cylinder."));
            } else if !open.is_empty() {
                said.push(format!("{what}: not done on cylinder {}.", open.join(", ")));
            }
        };
        missing("Cranking pressure", &|known| known.dry_read());
        missing("Wet cranking pressure", &|known| known.wet_read());
        missing("Leak-down", &|known| known.leak_found());
        missing("Listening for air", &|known| !known.air.is_empty());
        missing("Plugs", &CylinderEvidence::plug_seen);
        let conditions = &self.job.conditions;
        if conditions.warmth != Some(Warmth::Hot) {
            let warmth = match conditions.warmth {
                Some(Warmth::Cold) => {
                    "The engine was cold: readings are lower than when it is hot."
                }
                Some(Warmth::Warm) => "The engine was not at working temperature.",
                Some(Warmth::Hot) | None => "Whether the engine was hot was not said.",
            };
            said.push(warmth.to_owned());
        }
        if conditions.throttle_open.is_none() {
            said.push("Whether the throttle was held open was not said.".to_owned());
        }
        if !self.evidence.whole_set.is_empty() {
            let signs: Vec<&str> = self.evidence.whole_set.iter().map(|sign| sign.name()).collect();
            said.push(format!(
                "Most plugs are {}: that speaks of mixture, heat or oil for the whole engine and is \
                 not held against single cylinders.",
                signs.join(", ")
            ));
        }
        said.extend(self.network.topology.assumed.clone());
        said
    }
}

/// Pairs of neighbours; a cylinder alone where its neighbour is not known.
fn gasket_places(network: &Network<'_>, job: &Job) -> Vec<(Cylinder, Option<Cylinder>)> {
    let cylinders: Vec<Cylinder> = job.engine.cylinders().collect();
    let mut places = Vec::new();
    for bank in &network.topology.banks {
        for (place, &here) in bank.cylinders.iter().enumerate() {
            if bank.unknown_neighbour {
                places.push((cylinders[here], None));
            } else if bank.joined && place + 1 < bank.cylinders.len() {
                places.push((cylinders[here], Some(cylinders[bank.cylinders[place + 1]])));
            }
        }
    }
    places
}

fn gasket(network: &Network<'_>, pass: &Pass, here: Cylinder, next: Option<Cylinder>) -> f64 {
    let factor = &network.factors[here.index()];
    let rest = &pass.rest[here.index()];
    let leaks = |left: bool, right: bool| if next.is_some() { right } else { left };
    rest.total_where(factor, leaks) / rest.total(factor)
}

pub(super) fn posterior(model: &Model, job: &Job, log: &Log) -> Posterior {
    let evidence = Evidence::gather(job, log, &model.scatter);
    let network = Network::new(model, job, &evidence);
    let pass = network.pass(&network.prior);
    let beliefs: Vec<Belief> =
        (0..evidence.cylinders.len()).map(|at| Belief::of(&network, &pass, at, true)).collect();
    let tight = beliefs.iter().map(|belief| belief.tight(&network)).collect();
    let causes = beliefs.into_iter().map(|belief| belief.standing.causes).collect();
    let gaskets = gasket_places(&network, job)
        .into_iter()
        .map(|(here, next)| {
            let mut pair: Vec<Cylinder> = [Some(here), next].into_iter().flatten().collect();
            pair.sort();
            (pair, gasket(&network, &pass, here, next))
        })
        .collect();
    let levels = 0..model.shared.levels.len();
    let timing = 0..network.topology.banks.len();
    let leak_set = if network.sets == 2 {
        network.shared(Shared::LeakSet, &pass)
    } else {
        Prior::new(model, job, &network.topology, 2).of(Shared::LeakSet)
    };
    Posterior {
        causes,
        tight,
        gaskets,
        levels: levels.map(|row| network.shared(Shared::Level(row), &pass)).collect(),
        timing: timing.map(|bank| network.shared(Shared::Timing(bank), &pass)).collect(),
        leak_set,
    }
}

fn with_side((cylinder, right): (Option<Cylinder>, bool)) -> Option<(Cylinder, bool)> {
    cylinder.map(|cylinder| (cylinder, right))
}

fn worth_saying(probability: f64, prior: f64) -> bool {
    probability >= LEAST_PROBABLE && probability >= LEAST_RISE * prior
}
