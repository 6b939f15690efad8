//! Exact inference.
//!
//! Given the level the engine cranks to and the condition of the leak-down set, the cylinders hang
//! together only through the gaskets between neighbours, which form chains. So: sum each chain by
//! passing messages along it, for every value of the level; mix in the cam timing of the bank,
//! which shifts the level its cylinders see; multiply the banks; sum over the level and the shared
//! causes, in every combination. Nothing is sampled or cut off: the result is that of enumerating
//! every joint state, to rounding.

use std::ops::Range;

use super::evidence::Evidence;
use super::likelihood::{Factor, dot};
use super::model::Model;
use super::scale::LevelGrid;
use super::shared::{COLD, GAUGE, STARTER, SharedTable, THROTTLE};
use super::topology::{Bank, Topology};
use crate::engine::Fuel;
use crate::job::{Job, Warmth};
use crate::tester::{TesterKind, ZeroCheck};

/// How many combinations of the shared causes of [`SharedTable::levels`] there are.
const COMBINATIONS: usize = 16;

/// A cause that is not in one cylinder alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shared {
    /// Row of [`SharedTable::levels`].
    Level(usize),
    /// Cam timing of a bank.
    Timing(usize),
    /// The leak-down set.
    LeakSet,
}

/// What is believed of the shared causes before any reading.
#[derive(Debug, Clone)]
pub(super) struct Prior {
    /// Weight of each combination of level causes.
    combinations: [f64; COMBINATIONS],
    /// The level, given each combination, by grid point.
    level: Vec<Vec<f64>>,
    /// The leak-down set: good, off.
    set: Vec<f64>,
    /// Cam timing right, out, by bank.
    timing: Vec<[f64; 2]>,
    /// Probability of each row of the level causes.
    pub rows: [f64; 4],
}

impl Prior {
    pub fn new(model: &Model, job: &Job, topology: &Topology, sets: usize) -> Self {
        let shared = &model.shared;
        let rows = said_of_levels(shared, job);
        let mut combinations = [1.0; COMBINATIONS];
        let mut level = Vec::with_capacity(COMBINATIONS);
        for (combination, weight) in combinations.iter_mut().enumerate() {
            let (mut left, mut variance) = (0.0, 0.0);
            for (bit, (row, p)) in shared.levels.iter().zip(rows).enumerate() {
                if combination >> bit & 1 == 1 {
                    *weight *= p;
                    left += row.left.ln();
                    variance += row.spread * row.spread;
                } else {
                    *weight *= 1.0 - p;
                }
            }
            level.push(level_prior(model, job.engine.fuel, left, variance));
        }
        let off = said_of_set(shared, job);
        let set = if sets == 2 { vec![1.0 - off, off] } else { vec![1.0] };
        let out = shared.timing.prior;
        let timing = topology.banks.iter().map(|_| [1.0 - out, out]).collect();
        Self { combinations, level, set, timing, rows }
    }

    /// The same with one shared cause taken as present, or as absent, keeping its weight.
    pub fn given(&self, cause: Shared, present: bool) -> Self {
        let mut prior = self.clone();
        match cause {
            Shared::Level(row) => {
                for (combination, weight) in prior.combinations.iter_mut().enumerate() {
                    if (combination >> row & 1 == 1) != present {
                        *weight = 0.0;
                    }
                }
            }
            Shared::Timing(bank) => prior.timing[bank][usize::from(!present)] = 0.0,
            Shared::LeakSet => {
                if prior.set.len() == 2 {
                    prior.set[usize::from(!present)] = 0.0;
                }
            }
        }
        prior
    }

    /// On part of the grid.
    fn cut_to(&mut self, part: &Range<usize>) {
        for level in &mut self.level {
            *level = level[part.clone()].to_vec();
        }
    }

    /// How probable a shared cause is before any reading.
    pub fn of(&self, cause: Shared) -> f64 {
        match cause {
            Shared::Level(row) => self.rows[row],
            Shared::Timing(bank) => self.timing[bank][1],
            Shared::LeakSet => self.set.get(1).copied().unwrap_or(0.0),
        }
    }

    /// Weight of each level, all combinations together.
    fn level_weights(&self, points: usize) -> Vec<f64> {
        let mut weights = vec![0.0; points];
        for (weight, level) in self.combinations.iter().zip(&self.level) {
            for (sum, p) in weights.iter_mut().zip(level) {
                *sum += weight * p;
            }
        }
        weights
    }
}

fn level_prior(model: &Model, fuel: Option<Fuel>, left: f64, variance: f64) -> Vec<f64> {
    let shared = &model.shared;
    let of = |row: &super::shared::HealthyRow| {
        model.grid.normal(row.middle.ln() + left, row.spread.hypot(variance.sqrt()))
    };
    match fuel {
        Some(Fuel::Petrol | Fuel::Lpg) => of(&shared.petrol),
        Some(Fuel::Diesel) => of(&shared.diesel),
        None => {
            let share = shared.diesel_share;
            let (petrol, diesel) = (of(&shared.petrol), of(&shared.diesel));
            petrol.iter().zip(&diesel).map(|(p, d)| (1.0 - share) * p + share * d).collect()
        }
    }
}

fn said_of_levels(shared: &SharedTable, job: &Job) -> [f64; 4] {
    let conditions = &job.conditions;
    let mut said = [None; 4];
    said[STARTER] = conditions.battery_charged.map(|charged| !charged);
    said[THROTTLE] = conditions.throttle_open.map(|open| !open);
    said[COLD] = match conditions.warmth {
        Some(Warmth::Cold) => Some(true),
        Some(Warmth::Hot) => Some(false),
        Some(Warmth::Warm) | None => None,
    };
    said[GAUGE] = zero_said(job, |kind| matches!(kind, TesterKind::CrankingGauge { .. }));
    let mut rows = [0.0; 4];
    for ((p, row), said) in rows.iter_mut().zip(&shared.levels).zip(said) {
        *p = match said {
            Some(true) => row.said_so,
            Some(false) => row.said_not,
            None => row.prior,
        };
    }
    rows
}

fn said_of_set(shared: &SharedTable, job: &Job) -> f64 {
    let row = &shared.leak_set;
    match zero_said(job, |kind| matches!(kind, TesterKind::LeakDownSet { .. })) {
        Some(true) => row.said_so,
        Some(false) => row.said_not,
        None => row.prior,
    }
}

/// Whether the zero of such a tester is off: yes when any is, no when all were checked and good.
fn zero_said(job: &Job, such: impl Fn(&TesterKind) -> bool) -> Option<bool> {
    let mut checks = job.testers.iter().filter(|t| such(&t.kind)).map(|t| &t.zero).peekable();
    checks.peek()?;
    let checks: Vec<_> = checks.collect();
    if checks.iter().any(|zero| matches!(zero, ZeroCheck::Off { .. })) {
        Some(true)
    } else {
        checks.iter().all(|zero| **zero == ZeroCheck::Good).then_some(false)
    }
}

/// What everything but one cylinder says, `[left leaks][right leaks][set][point]`. A cylinder whose
/// neighbour is not known has it as its left.
#[derive(Debug, Clone)]
pub(super) struct Rest {
    table: [[Vec<f64>; 2]; 2],
    /// The points at which it is not negligible.
    window: Range<usize>,
}

/// Levels that the rest of the engine makes less probable than this, relative to the most probable
/// one, are passed over. No likelihood of one cylinder spans as much: its floor is the slip.
const NEGLIGIBLE: f64 = 1e-30;

impl Rest {
    fn new(table: [[Vec<f64>; 2]; 2], points: usize) -> Self {
        let blocks = || table.iter().flatten();
        let most = blocks().flatten().copied().fold(0.0, f64::max) * NEGLIGIBLE;
        let matters = |i: usize| {
            blocks().any(|block| block.iter().skip(i).step_by(points).any(|p| *p > most))
        };
        let first = (0..points).find(|&i| matters(i)).unwrap_or(0);
        let last = (0..points).rev().find(|&i| matters(i)).unwrap_or(points - 1);
        Self { table, window: first..last + 1 }
    }

    pub fn window(&self) -> Range<usize> {
        self.window.clone()
    }

    /// By the number of leaking sides, laid out as [`Factor::table`].
    pub fn by_sides(&self, sides: usize) -> Vec<f64> {
        let mut all = self.table[0][0].clone();
        if sides > 1 {
            all.extend(self.table[0][1].iter().zip(&self.table[1][0]).map(|(a, b)| a + b));
        }
        if sides > 2 {
            all.extend_from_slice(&self.table[1][1]);
        }
        all
    }

    /// By set and point, for a left and a right gasket that is sound (0) or leaks (1).
    pub fn of(&self, left: usize, right: usize) -> &[f64] {
        &self.table[left][right]
    }

    /// The weight of everything, with this cylinder's factor.
    pub fn total(&self, factor: &Factor) -> f64 {
        self.total_where(factor, |_, _| true)
    }

    /// The weight of the joint states whose left and right sides leak as `wanted` says.
    pub fn total_where(&self, factor: &Factor, wanted: impl Fn(bool, bool) -> bool) -> f64 {
        let block = factor.table.len() / factor.sides;
        let mut sum = 0.0;
        for (left, row) in self.table.iter().enumerate() {
            for (right, rest) in row.iter().enumerate() {
                let side = left + right;
                if side < factor.sides && wanted(left == 1, right == 1) {
                    sum += dot(&factor.table[side * block..(side + 1) * block], rest);
                }
            }
        }
        sum
    }
}

/// An engine set up for inference.
#[derive(Debug, Clone)]
pub(super) struct Network<'a> {
    pub model: &'a Model,
    pub topology: Topology,
    pub factors: Vec<Factor>,
    pub prior: Prior,
    pub sets: usize,
    /// The part of the model's grid that is not negligible.
    pub grid: LevelGrid,
}

/// The result of one pass.
#[derive(Debug, Clone)]
pub(super) struct Pass {
    /// By cylinder index.
    pub rest: Vec<Rest>,
    /// The weight of everything.
    pub total: f64,
}

impl<'a> Network<'a> {
    pub fn new(model: &'a Model, job: &Job, evidence: &Evidence) -> Self {
        let topology = Topology::of(&job.engine);
        let sets = if evidence.cylinders.iter().any(|c| !c.leak.is_empty()) { 2 } else { 1 };
        let mut places = vec![(0, 0); evidence.cylinders.len()];
        for (b, bank) in topology.banks.iter().enumerate() {
            for (place, &cylinder) in bank.cylinders.iter().enumerate() {
                places[cylinder] = (b, place);
            }
        }
        let on = |grid: LevelGrid| -> Vec<Factor> {
            evidence
                .cylinders
                .iter()
                .zip(&places)
                .map(|(known, &(b, place))| {
                    let sides = topology.banks[b].sides(place) + 1;
                    Factor::new(model, grid, known, sides, sets)
                })
                .collect()
        };
        let mut prior = Prior::new(model, job, &topology, sets);
        let part = if evidence.cylinders.iter().any(|known| !known.crank.is_empty()) {
            worth_summing(model, &on(model.grid.every(STRIDE)), &prior)
        } else {
            0..model.grid.points()
        };
        prior.cut_to(&part);
        let grid = model.grid.part(&part);
        let factors = on(grid);
        Self { model, topology, factors, prior, sets, grid }
    }

    /// Sums everything, and everything but each cylinder in turn.
    pub fn pass(&self, prior: &Prior) -> Pass {
        let points = self.grid.points();
        let level = prior.level_weights(points);
        let start: Vec<f64> =
            prior.set.iter().flat_map(|set| level.iter().map(move |level| set * level)).collect();
        let chains: Vec<Chain> = self.topology.banks.iter().map(|bank| self.chain(bank)).collect();
        let mixed: Vec<Vec<f64>> = chains
            .iter()
            .zip(&prior.timing)
            .map(|(chain, timing)| self.mix_timing(&chain.sum, *timing))
            .collect();
        let all = mixed.iter().fold(start.clone(), |product, bank| times(product, bank));
        let empty = || Rest { table: Default::default(), window: 0..points };
        let mut rest: Vec<Rest> = self.factors.iter().map(|_| empty()).collect();
        for (b, (bank, chain)) in self.topology.banks.iter().zip(&chains).enumerate() {
            let others = mixed
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != b)
                .fold(start.clone(), |product, (_, bank)| times(product, bank));
            let seen = self.unmix_timing(&others, prior.timing[b]);
            for (place, &cylinder) in bank.cylinders.iter().enumerate() {
                let table = [0, 1].map(|left| {
                    [0, 1].map(|right| {
                        let product = times(seen.clone(), &chain.before[place][left]);
                        times(product, &chain.after[place][right])
                    })
                });
                rest[cylinder] = Rest::new(table, points);
            }
        }
        Pass { rest, total: all.iter().sum() }
    }

    /// Messages along one bank.
    fn chain(&self, bank: &Bank) -> Chain {
        let size = self.sets * self.grid.points();
        let leaks = self.model.shared.gasket.prior;
        let edge = if bank.joined { [1.0 - leaks, leaks] } else { [1.0, 0.0] };
        let stub = if bank.unknown_neighbour { [1.0 - leaks, leaks] } else { [1.0, 0.0] };
        let ends = [vec![1.0; size], vec![0.0; size]];
        let count = bank.cylinders.len();
        // What stands left of a cylinder, by whether the gasket on that side leaks.
        let mut before = Vec::with_capacity(count);
        let mut carried = ends.clone();
        for (place, &cylinder) in bank.cylinders.iter().enumerate() {
            if !bank.joined {
                // Cylinders stand alone: what is left of one is the product of those before it, and
                // its own unknown neighbour.
                let through = self.across(
                    cylinder,
                    &[scaled(&carried[0], stub[0]), scaled(&carried[0], stub[1])],
                    0,
                );
                before.push([scaled(&carried[0], stub[0]), scaled(&carried[0], stub[1])]);
                carried = [through, vec![0.0; size]];
                continue;
            }
            before.push(carried.clone());
            let last = place + 1 == count;
            let next = if last { [1.0, 0.0] } else { edge };
            carried = [0, 1].map(|right| {
                if next[right] > 0.0 {
                    scaled(&self.across(cylinder, &carried, right), next[right])
                } else {
                    vec![0.0; size]
                }
            });
        }
        let sum = carried[0].clone();
        let mut after = vec![ends.clone(); count];
        let mut carried = ends;
        for (place, &cylinder) in bank.cylinders.iter().enumerate().rev() {
            if !bank.joined {
                after[place] = [carried[0].clone(), vec![0.0; size]];
                let own = self.across(cylinder, &[vec![stub[0]; size], vec![stub[1]; size]], 0);
                carried = [times(own, &carried[0]), vec![0.0; size]];
                continue;
            }
            let prior = if place + 1 == count { [1.0, 0.0] } else { edge };
            after[place] = [scaled(&carried[0], prior[0]), scaled(&carried[1], prior[1])];
            let (here, first) = (&after[place], place == 0);
            carried = [0, 1].map(|left| {
                if first && left == 1 { vec![0.0; size] } else { self.across(cylinder, here, left) }
            });
        }
        Chain { before, after, sum }
    }

    /// Sums a message over the gasket it comes through, for a given state of the other side.
    fn across(&self, cylinder: usize, message: &[Vec<f64>; 2], other: usize) -> Vec<f64> {
        let factor = &self.factors[cylinder];
        let block = factor.table.len() / factor.sides;
        let mut sum = vec![0.0; block];
        for (leaks, message) in message.iter().enumerate() {
            let side = leaks + other;
            if side < factor.sides {
                let rows = factor.table[side * block..(side + 1) * block].iter();
                for ((sum, row), m) in sum.iter_mut().zip(rows).zip(message) {
                    *sum += row * m;
                }
            }
        }
        sum
    }

    /// Steps of the grid that cam timing out takes off the level a bank sees.
    fn timing_steps(&self) -> usize {
        timing_steps(self.model)
    }

    /// A bank as the engine's level sees it. A level that timing would push below the grid stays on
    /// its lowest point.
    fn mix_timing(&self, bank: &[f64], timing: [f64; 2]) -> Vec<f64> {
        let points = self.grid.points();
        let steps = self.timing_steps();
        bank.chunks(points)
            .flat_map(|set| {
                (0..points)
                    .map(move |i| timing[0] * set[i] + timing[1] * set[i.saturating_sub(steps)])
            })
            .collect()
    }

    /// The engine as a bank's level sees it.
    fn unmix_timing(&self, engine: &[f64], timing: [f64; 2]) -> Vec<f64> {
        let points = self.grid.points();
        let steps = self.timing_steps();
        let mut seen = vec![0.0; engine.len()];
        for (seen, set) in seen.chunks_mut(points).zip(engine.chunks(points)) {
            for (i, value) in set.iter().enumerate() {
                seen[i] += timing[0] * value;
                seen[i.saturating_sub(steps)] += timing[1] * value;
            }
        }
        seen
    }

    /// Probability of a shared cause.
    pub fn shared(&self, cause: Shared, pass: &Pass) -> f64 {
        if self.prior.of(cause) <= 0.0 {
            return 0.0;
        }
        self.pass(&self.prior.given(cause, true)).total / pass.total
    }
}

fn timing_steps(model: &Model) -> usize {
    let steps = (-model.shared.timing.left.ln() / model.grid.step()).round();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a fraction below 1 gives a small positive number of steps"
    )]
    let steps = steps.max(0.0) as usize;
    steps
}

/// Levels are looked at so many points apart to find those worth summing.
const STRIDE: usize = 4;

/// The part of the grid outside which the whole is negligible, found from a bound on every cylinder
/// at every `STRIDE`-th point, with a point of that coarse grid to spare on either side and room
/// for cam timing below.
fn worth_summing(model: &Model, coarse: &[Factor], prior: &Prior) -> Range<usize> {
    // Far below any posterior worth printing, and far above what is lost between coarse points.
    const OUTSIDE: f64 = -92.0;
    let points = model.grid.every(STRIDE).points();
    let late = timing_steps(model).div_ceil(STRIDE);
    let level = prior.level_weights(model.grid.points());
    let bound: Vec<f64> = (0..points)
        .map(|i| {
            let cylinders = coarse.iter().map(|factor| {
                let at = |i: usize| {
                    factor.table.iter().skip(i).step_by(points).copied().fold(0.0, f64::max)
                };
                at(i).max(at(i.saturating_sub(late))).ln()
            });
            level[i * STRIDE].ln() + cylinders.sum::<f64>()
        })
        .collect();
    let most = bound.iter().copied().fold(f64::NEG_INFINITY, f64::max) + OUTSIDE;
    let first = bound.iter().position(|b| *b > most).unwrap_or(0);
    let last = bound.iter().rposition(|b| *b > most).unwrap_or(points - 1);
    let spare = STRIDE + timing_steps(model);
    (first * STRIDE).saturating_sub(spare)..((last + 1) * STRIDE + 1).min(model.grid.points())
}

struct Chain {
    /// By place and by whether the left gasket leaks, `[set][point]`.
    before: Vec<[Vec<f64>; 2]>,
    /// By place and by whether the right gasket leaks.
    after: Vec<[Vec<f64>; 2]>,
    sum: Vec<f64>,
}

fn times(mut product: Vec<f64>, by: &[f64]) -> Vec<f64> {
    for (a, b) in product.iter_mut().zip(by) {
        *a *= b;
    }
    product
}

fn scaled(of: &[f64], by: f64) -> Vec<f64> {
    of.iter().map(|x| x * by).collect()
}
