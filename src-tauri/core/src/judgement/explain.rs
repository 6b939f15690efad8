//! What speaks for and against a finding, and which entries contradict each other.

use super::evidence::{CrankRead, CylinderEvidence};
use super::finding::{Conflict, Weight};
use super::infer::{Network, Rest};
use super::likelihood::{crank_likelihoods, dot, local_weights};
use super::model::Kind;
use super::state::State;
use crate::engine::Cylinder;

/// Entries whose effect on the odds is smaller than this (about 5 %) are not listed.
const LEAST_WEIGHT: f64 = 0.05;
/// Contradiction is reported from this on: unless the test was at fault, the entries are ten times
/// less probable together than apart.
const CONFLICT: f64 = std::f64::consts::LN_10;

/// The evidence of one cylinder with entries left out, each way that is needed.
pub(super) struct Variants<'a> {
    network: &'a Network<'a>,
    known: &'a CylinderEvidence,
    cylinder: Cylinder,
    /// Likelihoods of each set of cranking readings that occurs; the first is of no readings.
    cranks: Vec<(Vec<usize>, Vec<f64>)>,
    none: Variant,
    all: Variant,
    alone: Vec<Variant>,
    without: Vec<Variant>,
}

/// Some of the entries: the weights of the states, and which set of cranking readings.
struct Variant {
    local: Vec<f64>,
    crank: usize,
}

/// What the rest of the engine leaves of each class of states, for each set of cranking readings:
/// `[crank set]`, then `[left][right][set][class]`.
pub(super) struct Seen(Vec<Vec<f64>>);

impl<'a> Variants<'a> {
    pub fn new(network: &'a Network<'a>, known: &'a CylinderEvidence, cylinder: Cylinder) -> Self {
        let empty = || Variant { local: Vec::new(), crank: 0 };
        let mut variants = Self {
            network,
            known,
            cylinder,
            cranks: vec![(Vec::new(), Vec::new())],
            none: empty(),
            all: empty(),
            alone: Vec::new(),
            without: Vec::new(),
        };
        let entries = 0..known.said.len();
        variants.none = variants.variant(|_| false);
        variants.all = variants.variant(|_| true);
        variants.alone = entries.clone().map(|one| variants.variant(|e| e == one)).collect();
        variants.without = entries.map(|one| variants.variant(|e| e != one)).collect();
        variants
    }

    fn variant(&mut self, counts: impl Fn(usize) -> bool) -> Variant {
        let factor = &self.network.factors[self.cylinder.index()];
        let model = self.network.model;
        let reads: Vec<CrankRead> =
            self.known.crank.iter().filter(|read| counts(read.entry)).copied().collect();
        let entries: Vec<usize> = reads.iter().map(|read| read.entry).collect();
        let place = self.cranks.iter().position(|(made, _)| *made == entries);
        let crank = place.unwrap_or_else(|| {
            self.cranks
                .push((entries, crank_likelihoods(model, self.network.grid, &reads, factor.sides)));
            self.cranks.len() - 1
        });
        let local = local_weights(model, self.known, factor.sides, factor.sets, &counts);
        Variant { local, crank }
    }

    /// Sums the level out against what the rest of the engine says.
    pub fn seen(&self, rest: &Rest) -> Seen {
        let factor = &self.network.factors[self.cylinder.index()];
        let table = &self.network.model.states;
        let points = self.network.grid.points();
        let window = rest.window();
        let of = |(entries, likelihoods): &(Vec<usize>, Vec<f64>)| {
            let mut sums = Vec::with_capacity(4 * factor.sets * table.classes.len());
            for (left, right) in SIDES {
                let used = left + right < factor.sides;
                for rest in rest.of(left, right).chunks(points) {
                    let plain: f64 = rest.iter().sum();
                    sums.extend((0..table.classes.len()).map(|class| {
                        if !used || !table.class_used[left + right][class] {
                            0.0
                        } else if entries.is_empty() {
                            plain
                        } else {
                            let row = &likelihoods[class * points..(class + 1) * points];
                            dot(&row[window.clone()], &rest[window.clone()])
                        }
                    }));
                }
            }
            sums
        };
        Seen(self.cranks.iter().map(of).collect())
    }

    /// The weight of the states that are `wanted`, told whether the left and right gasket leak, and
    /// of the others.
    fn split(
        &self,
        variant: &Variant,
        seen: &Seen,
        wanted: impl Fn(&State, bool, bool) -> bool,
    ) -> (f64, f64) {
        let factor = &self.network.factors[self.cylinder.index()];
        let table = &self.network.model.states;
        let (states, classes) = (table.states.len(), table.classes.len());
        let (mut on, mut off) = (0.0, 0.0);
        for (at, (left, right)) in SIDES.into_iter().enumerate() {
            let side = left + right;
            if side >= factor.sides {
                continue;
            }
            for set in 0..factor.sets {
                let start = (side * factor.sets + set) * states;
                let local = &variant.local[start..start + states];
                let start = (at * factor.sets + set) * classes;
                let seen = &seen.0[variant.crank][start..start + classes];
                for (state, weight) in table.states.iter().zip(local) {
                    let weight = weight * seen[state.class[side]];
                    if wanted(state, left == 1, right == 1) { on += weight } else { off += weight }
                }
            }
        }
        (on, off)
    }

    /// What each entry does to the odds of the states that are `wanted`.
    pub fn weights(
        &self,
        seen: &Seen,
        wanted: impl Fn(&State, bool, bool) -> bool + Copy,
    ) -> Vec<(bool, Weight)> {
        self.effects(|variant| {
            let (on, off) = self.split(variant, seen, wanted);
            (on / off).ln()
        })
    }

    /// What each entry does to the odds of a shared cause, from what the rest of the engine says
    /// with the cause and without it.
    pub fn shared_weights(&self, with: &Seen, without: &Seen) -> Vec<(bool, Weight)> {
        let any = |_: &State, _, _| true;
        self.effects(|variant| {
            (self.split(variant, with, any).0 / self.split(variant, without, any).0).ln()
        })
    }

    fn effects(&self, log_odds: impl Fn(&Variant) -> f64) -> Vec<(bool, Weight)> {
        let (none, all) = (log_odds(&self.none), log_odds(&self.all));
        let mut weights = Vec::new();
        for (entry, said) in self.known.said.iter().enumerate() {
            let first = log_odds(&self.alone[entry]) - none;
            let last = all - log_odds(&self.without[entry]);
            let effect = f64::midpoint(first, last);
            if effect.is_finite() && effect.abs() >= LEAST_WEIGHT {
                let weight = Weight {
                    entry: said.id,
                    cylinder: self.cylinder,
                    says: said.says.clone(),
                    log_odds: effect.abs(),
                };
                weights.push((effect > 0.0, weight));
            }
        }
        weights
    }

    /// The contradiction among the entries of this cylinder, if it is large.
    pub fn conflict(&self, seen: &Seen, suspect: Option<&str>) -> Option<Conflict> {
        let entries = self.known.said.len();
        let of_the_test: u64 = (0_u32..)
            .zip(&self.network.model.causes)
            .filter(|(_, row)| row.kind == Kind::Test)
            .map(|(place, _)| 1 << place)
            .sum();
        let tested_well = |state: &State, _, _| state.mask & of_the_test == 0;
        let ln = |variant: &Variant| self.split(variant, seen, tested_well).0.ln();
        let none = ln(&self.none);
        let alone: Vec<f64> = self.alone.iter().map(|variant| ln(variant) - none).collect();
        let measure = alone.iter().sum::<f64>() - (ln(&self.all) - none);
        if measure < CONFLICT {
            return None;
        }
        // The entry that the others speak against most, and among the others the one that it makes
        // least probable by the odds it would add alone.
        let strain = |one: usize| alone[one] - (ln(&self.all) - ln(&self.without[one]));
        let one = (0..entries).max_by(|&a, &b| strain(a).total_cmp(&strain(b)))?;
        let other = (0..entries)
            .filter(|&other| other != one)
            .max_by(|&a, &b| strain(a).total_cmp(&strain(b)))?;
        let (one, other) = (one.min(other), one.max(other));
        let (one, other) = (&self.known.said[one], &self.known.said[other]);
        let suspect = suspect.map_or_else(
            || "Check the test first, then the valve gear.".to_owned(),
            |cause| format!("Most probable so far: {cause}. Check the test itself first."),
        );
        let cylinder = self.cylinder;
        let says = format!(
            "Cylinder {cylinder}: \"{}\" and \"{}\" contradict each other. {suspect}",
            one.says, other.says
        );
        Some(Conflict { cylinder, entries: [one.id, other.id], measure, says })
    }
}

/// Whether the left and the right gasket leak.
const SIDES: [(usize, usize); 4] = [(0, 0), (0, 1), (1, 0), (1, 1)];

/// For and against, each strongest first.
pub(super) fn split(weights: Vec<(bool, Weight)>) -> (Vec<Weight>, Vec<Weight>) {
    let (mut in_favour, mut against) = (Vec::new(), Vec::new());
    for (speaks_for, weight) in weights {
        if speaks_for { in_favour.push(weight) } else { against.push(weight) }
    }
    for side in [&mut in_favour, &mut against] {
        side.sort_by(|a, b| b.log_odds.total_cmp(&a.log_odds).then(a.entry.cmp(&b.entry)));
    }
    (in_favour, against)
}
