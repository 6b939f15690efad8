//! Which test to make next.
//!
//! For every test still possible the result is predicted from what is believed now, in a score of
//! bins; each bin gives new beliefs. Bits are the mutual information between the result and the
//! causes at work in the cylinder (which causes, not how bad). A step is worth making when what it
//! saves on average, by changing what is done or suspected, is worth the time it takes; what is
//! left is ordered by bits per minute.
//!
//! The level of the engine enters the prediction of a cranking pressure by its mean and variance;
//! everything else is as exact as the bins.

use super::evidence::CylinderEvidence;
use super::finding::NextStep;
use super::infer::{Network, Pass, Shared};
use super::model::EXITS;
use super::posterior::{Belief, Standing};
use super::shared::{GAUGE, STARTER, THROTTLE};
use super::state::State;
use super::step::{ON_CYLINDER, ON_ENGINE, Test, TestRow};
use crate::engine::{Cylinder, Fuel};
use crate::job::Job;
use crate::quantity::Probability;
use crate::record::PlugSign;
use crate::tester::{TesterKind, ZeroCheck};

/// Bins of a predicted number.
const BINS: usize = 24;
/// A first pressure tells nothing by itself. While fewer others than this are read, it is credited
/// with what it will tell once they are.
const ENOUGH: usize = 2;
/// A step is made when it saves at least this part of its own time. Below 1, because a step is judged
/// alone, and some only tell together with the next; set on simulated engines.
const WORTH: f64 = 0.1;
/// A step that changes what is done or suspected less often than this is not made.
const LEAST_CHANGE: f64 = 0.02;
/// States less probable than this do not enter a prediction.
const NEGLIGIBLE: f64 = 1e-8;

/// One cylinder, ready for predictions.
struct Bench<'a> {
    network: &'a Network<'a>,
    known: &'a CylinderEvidence,
    belief: &'a Belief,
    /// Mean and variance of the level that this cylinder is judged against.
    level: (f64, f64),
}

pub(super) fn next_steps(
    network: &Network<'_>,
    job: &Job,
    known: &[CylinderEvidence],
    pass: &Pass,
    beliefs: &[Belief],
) -> Vec<NextStep> {
    let mut steps = Vec::new();
    for cylinder in job.engine.cylinders() {
        let at = cylinder.index();
        let mut level = level_of(network, pass, at);
        let others = known.iter().enumerate().filter(|(other, k)| *other != at && k.dry_read());
        if others.count() < ENOUGH {
            level.1 = 0.0;
        }
        let bench = Bench { network, known: &known[at], belief: &beliefs[at], level };
        let diesel = job.engine.fuel == Some(Fuel::Diesel);
        for row in &ON_CYLINDER {
            if bench.possible(row.test) && !(diesel && row.test == Test::Plug) {
                steps.extend(bench.step(row, cylinder));
            }
        }
    }
    for row in &ON_ENGINE {
        steps.extend(engine_step(network, job, known, pass, beliefs, row));
    }
    steps.sort_by(|a, b| {
        let rate = |step: &NextStep| step.bits / step.minutes;
        rate(b).total_cmp(&rate(a)).then_with(|| a.cylinder.cmp(&b.cylinder))
    });
    steps
}

fn level_of(network: &Network<'_>, pass: &Pass, cylinder: usize) -> (f64, f64) {
    let grid = network.grid;
    let factor = &network.factors[cylinder];
    let rest = pass.rest[cylinder].by_sides(factor.sides);
    let (mut whole, mut sum, mut squares) = (0.0, 0.0, 0.0);
    for (i, (own, rest)) in factor.table.iter().zip(&rest).enumerate() {
        let (weight, level) = (own * rest, grid.at(i % grid.points()));
        whole += weight;
        sum += weight * level;
        squares += weight * level * level;
    }
    let mean = sum / whole;
    (mean, (squares / whole - mean * mean).max(0.0))
}

impl Bench<'_> {
    fn possible(&self, test: Test) -> bool {
        let known = self.known;
        let leak = known.leak_found();
        match test {
            Test::Dry => !known.dry_read(),
            Test::Wet => known.dry_read() && !known.wet_read(),
            Test::LeakDown => !leak,
            Test::Listen => leak && known.air.is_empty(),
            Test::Tap => leak && !known.leak.iter().any(|read| read.tapped),
            Test::Turn | Test::Rotate => leak && !known.leak.iter().any(|read| read.again),
            Test::Borescope => !known.scoped,
            Test::Plug => !known.plug_seen(),
            Test::ZeroGauge | Test::ZeroSet | Test::Cranking => false,
        }
    }

    /// The step, when it is worth its time.
    fn step(&self, row: &TestRow, cylinder: Cylinder) -> Option<NextStep> {
        let model = self.network.model;
        let table = &model.states;
        let states = table.states.len();
        let sets = self.network.sets;
        let bins = outcomes(row.test, model.causes.len());
        let labels = table.labels * (self.belief.joint.len() / states / sets);
        let mut joint = vec![0.0; labels * bins];
        let before_tested = self.known.leak_found();
        let after_tested = before_tested || row.test == Test::LeakDown;
        let mut now = Standing::none(model.causes.len());
        let mut then = vec![Standing::none(model.causes.len()); bins];
        let mut chances = vec![0.0; bins];
        for (block, weights) in self.belief.joint.chunks(states).enumerate() {
            let (side, set) = (block / sets, block % sets);
            for (state, &weight) in table.states.iter().zip(weights) {
                if weight < NEGLIGIBLE {
                    continue;
                }
                now.add(self.network, state, side, weight, before_tested);
                self.predict(row.test, state, side, set, &mut chances);
                let own = if before_tested { state.label } else { state.engine_label };
                let label = side * table.labels + own;
                for (bin, chance) in chances.iter().enumerate() {
                    let share = weight * chance;
                    joint[label * bins + bin] += share;
                    then[bin].add(self.network, state, side, share, after_tested);
                }
            }
        }
        let saved = 60.0 * (now.loss() - then.iter().map(Standing::loss).sum::<f64>());
        if saved < WORTH * row.minutes {
            return None;
        }
        let decision = now.decision();
        let changes: f64 = then
            .iter()
            .filter(|standing| standing.whole() > 0.0 && standing.decision() != decision)
            .map(Standing::whole)
            .sum();
        let changes = changes / now.whole();
        (changes >= LEAST_CHANGE).then(|| NextStep {
            next_step: format!("{} {cylinder}.", row.says),
            cylinder: Some(cylinder),
            bits: information(&joint, bins),
            minutes: row.minutes,
            changes_advice: Probability::clamped(changes),
            settles: row.settles.to_owned(),
        })
    }

    /// The chance of each outcome of `test` in `state`.
    fn predict(&self, test: Test, state: &State, side: usize, set: usize, chances: &mut [f64]) {
        chances.fill(0.0);
        match test {
            Test::Dry | Test::Wet => self.predict_cranking(test, state, side, chances),
            Test::LeakDown | Test::Tap | Test::Turn | Test::Rotate => {
                self.predict_leak(test, state, side, set, chances);
            }
            Test::Listen => {
                for (heard, chance) in chances.iter_mut().enumerate() {
                    *chance = state.air[side]
                        .iter()
                        .enumerate()
                        .map(|(exit, air)| if heard >> exit & 1 == 1 { *air } else { 1.0 - air })
                        .product();
                }
            }
            Test::Borescope => {
                let mut unseen = 1.0;
                for &cause in &state.causes {
                    let seen = self.network.model.causes[cause].borescope;
                    chances[1 + cause] = unseen * seen;
                    unseen *= 1.0 - seen;
                }
                chances[0] = unseen;
            }
            Test::Plug => chances.copy_from_slice(&state.signs),
            Test::ZeroGauge | Test::ZeroSet | Test::Cranking => {}
        }
    }

    fn predict_cranking(&self, test: Test, state: &State, side: usize, chances: &mut [f64]) {
        let model = self.network.model;
        let class = &model.states.classes[state.class[side]];
        let (level, uncertain) = self.level;
        let own = model.scatter.cranking.powi(2);
        let common = model.scatter.between_cylinders.powi(2) + class.spread + uncertain;
        let dry = self.known.crank.iter().find(|read| !read.wet && read.stroke.is_none());
        match (test, dry) {
            (Test::Wet, Some(dry)) => {
                let gain = common / (common + dry.sd * dry.sd);
                let mean = level + class.wet + gain * (dry.ln - level - class.dry);
                let variance = common * (1.0 - gain) + own + class.rise * class.rise;
                bell(chances, (dry.ln - 0.25, dry.ln + 1.0), mean, variance, 1.0);
            }
            _ => bell(chances, (level - 2.4, level + 0.4), level + class.dry, common + own, 1.0),
        }
    }

    fn predict_leak(
        &self,
        test: Test,
        state: &State,
        side: usize,
        set: usize,
        chances: &mut [f64],
    ) {
        let model = self.network.model;
        let shift = if set == 1 { model.shared.leak_set.shift } else { 0.0 };
        let (between, own) = (model.scatter.leak_between.powi(2), model.scatter.leak.powi(2));
        let found = state.leak[0].found[side] + shift;
        let first = self.known.leak.iter().find(|read| !read.tapped && !read.again);
        let (off, left) = first.map_or((0.0, between), |read| {
            let gain = between / (between + read.sd * read.sd);
            (gain * (read.ln - found), between * (1.0 - gain))
        });
        let mut add = |mean: f64, chance: f64| {
            bell(chances, (-2.4, 2.4), mean + shift + off, left + own, chance);
        };
        match test {
            Test::Tap => add(state.leak[0].tapped[side], 1.0),
            Test::Turn => state.leak.iter().for_each(|case| add(case.turned[side], case.chance)),
            Test::Rotate => add(state.refitted[side], 1.0),
            _ => add(state.leak[0].found[side], 1.0),
        }
    }
}

fn outcomes(test: Test, causes: usize) -> usize {
    match test {
        Test::Listen => 1 << EXITS.len(),
        Test::Borescope => 1 + causes,
        Test::Plug => PlugSign::ALL.len(),
        _ => BINS,
    }
}

/// Adds a normal distribution in bins over a range; what lies outside falls in the end bins.
fn bell(bins: &mut [f64], (from, to): (f64, f64), mean: f64, variance: f64, weight: f64) {
    let width = (to - from) / bins.len() as f64;
    let nearest = mean.clamp(from + width / 2.0, to - width / 2.0);
    let mut heights = [0.0; BINS];
    let mut sum = 0.0;
    for (i, height) in heights.iter_mut().enumerate() {
        let miss = from + (i as f64 + 0.5) * width - nearest;
        *height = (-0.5 * miss * miss / variance).exp();
        sum += *height;
    }
    for (bin, height) in bins.iter_mut().zip(heights) {
        *bin += weight * height / sum;
    }
}

/// Mutual information of the rows and columns of a joint distribution, in bits.
fn information(joint: &[f64], columns: usize) -> f64 {
    let whole: f64 = joint.iter().sum();
    let mut by_column = vec![0.0; columns];
    for row in joint.chunks(columns) {
        for (sum, p) in by_column.iter_mut().zip(row) {
            *sum += p;
        }
    }
    let mut bits = 0.0;
    for row in joint.chunks(columns) {
        let by_row: f64 = row.iter().sum();
        for (p, by_column) in row.iter().zip(&by_column) {
            if *p > 0.0 {
                bits += p / whole * (p * whole / (by_row * by_column)).log2();
            }
        }
    }
    bits.max(0.0)
}

fn engine_step(
    network: &Network<'_>,
    job: &Job,
    known: &[CylinderEvidence],
    pass: &Pass,
    beliefs: &[Belief],
    row: &TestRow,
) -> Option<NextStep> {
    let cranked = known.iter().any(|known| !known.crank.is_empty());
    let unchecked = |such: fn(&TesterKind) -> bool| {
        let mut checks = job.testers.iter().filter(|tester| such(&tester.kind)).peekable();
        checks.peek().is_none() || checks.any(|tester| tester.zero == ZeroCheck::NotDone)
    };
    let gauge = |kind: &TesterKind| matches!(kind, TesterKind::CrankingGauge { .. });
    let set = |kind: &TesterKind| matches!(kind, TesterKind::LeakDownSet { .. });
    let conditions = &job.conditions;
    let causes: &[Shared] = match row.test {
        Test::ZeroGauge if cranked && unchecked(gauge) => &[Shared::Level(GAUGE)],
        Test::ZeroSet if network.sets == 2 && unchecked(set) => &[Shared::LeakSet],
        Test::Cranking
            if cranked
                && (conditions.throttle_open.is_none() || conditions.battery_charged.is_none()) =>
        {
            &[Shared::Level(STARTER), Shared::Level(THROTTLE)]
        }
        _ => return None,
    };
    // The result tells each of the causes; what that does to the cylinders decides its worth.
    let loss = |beliefs: &[Belief]| beliefs.iter().map(|b| b.standing.loss()).sum::<f64>();
    let (mut bits, mut saved, mut changes) = (0.0, 0.0, 0.0);
    for &cause in causes {
        let p = network.shared(cause, pass);
        if !(0.02..=0.98).contains(&p) {
            continue;
        }
        bits -= p * p.log2() + (1.0 - p) * (1.0 - p).log2();
        for (present, chance) in [(true, p), (false, 1.0 - p)] {
            let pass = network.pass(&network.prior.given(cause, present));
            let then: Vec<Belief> = known
                .iter()
                .enumerate()
                .map(|(at, known)| Belief::of(network, &pass, at, known.leak_found()))
                .collect();
            saved += 60.0 * chance * (loss(beliefs) - loss(&then));
            let differs = |(now, then): (&Belief, &Belief)| {
                now.standing.decision() != then.standing.decision()
            };
            if beliefs.iter().zip(&then).any(differs) {
                changes += chance;
            }
        }
    }
    (saved >= WORTH * row.minutes && changes >= LEAST_CHANGE).then(|| NextStep {
        next_step: format!("{}.", row.says),
        cylinder: None,
        bits,
        minutes: row.minutes,
        changes_advice: Probability::clamped(changes),
        settles: row.settles.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn independent_rows_and_columns_tell_nothing() {
        assert!(information(&[0.1, 0.3, 0.15, 0.45], 2).abs() < 1e-12);
    }

    #[test]
    fn a_result_that_names_one_of_two_equal_causes_tells_one_bit() {
        assert!((information(&[0.5, 0.0, 0.0, 0.5], 2) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_prediction_outside_the_range_falls_in_the_end_bin() {
        let mut bins = [0.0; BINS];
        bell(&mut bins, (0.0, 2.4), 9.0, 1e-4, 1.0);
        assert!((bins[BINS - 1] - 1.0).abs() < 1e-9);
    }
}
