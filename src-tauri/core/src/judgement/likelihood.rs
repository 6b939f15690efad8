//! How well each state of one cylinder explains what is known about it.

use super::evidence::{CrankRead, CylinderEvidence, LeakRead, Tone};
use super::infer::Rest;
use super::model::{EXITS, Model};
use super::scale::LevelGrid;
use super::state::{CrankClass, LeakCase, State};
use crate::record::{AirExit, PlugSign};

/// Everything the readings of one cylinder say, summed over its states: a function of the level of
/// the engine, of how many sides leak into a neighbour, and of whether the leak-down set is off.
#[derive(Debug, Clone)]
pub(super) struct Factor {
    /// How many leaking sides are possible, plus one.
    pub sides: usize,
    /// How many conditions of the leak-down set are told apart (1 when nothing was read on it).
    pub sets: usize,
    points: usize,
    /// Prior times likelihood of all but the cranking readings, `[side][set][state]`.
    local: Vec<f64>,
    /// Likelihood of the cranking readings, `[class][point]`; `None` when there are none.
    crank: Option<Vec<f64>>,
    states: usize,
    /// The sum over the states, `[side][set][point]`.
    pub table: Vec<f64>,
}

impl Factor {
    /// The factor of everything known, on `grid`.
    pub fn new(
        model: &Model,
        grid: LevelGrid,
        known: &CylinderEvidence,
        sides: usize,
        sets: usize,
    ) -> Self {
        let table = &model.states;
        let points = grid.points();
        let states = table.states.len();
        let local = local_weights(model, known, sides, sets, &|_| true);
        let crank =
            (!known.crank.is_empty()).then(|| crank_likelihoods(model, grid, &known.crank, sides));
        let mut factor = Self {
            sides,
            sets,
            points,
            local,
            crank,
            states,
            table: vec![0.0; sides * sets * points],
        };
        factor.sum_states(&table.states, table.classes.len());
        factor
    }

    fn sum_states(&mut self, states: &[State], classes: usize) {
        let Some(crank) = &self.crank else {
            for (block, local) in
                self.table.chunks_mut(self.points).zip(self.local.chunks(self.states))
            {
                block.fill(local.iter().sum());
            }
            return self.rescale();
        };
        let mut by_class = vec![0.0; classes];
        let blocks = self.table.chunks_mut(self.points).zip(self.local.chunks(self.states));
        for (at, (block, local)) in blocks.enumerate() {
            let side = at / self.sets;
            by_class.fill(0.0);
            for (state, weight) in states.iter().zip(local) {
                by_class[state.class[side]] += weight;
            }
            for (weight, row) in by_class.iter().zip(crank.chunks(self.points)) {
                if *weight > 0.0 {
                    for (sum, likelihood) in block.iter_mut().zip(row) {
                        *sum += weight * likelihood;
                    }
                }
            }
        }
        self.rescale();
    }

    fn rescale(&mut self) {
        let most = self.table.iter().copied().fold(0.0, f64::max);
        for value in self.table.iter_mut().chain(&mut self.local) {
            *value /= most;
        }
    }

    /// The weight of every state, `[side][set][state]`, when the rest of the engine says `rest`. Not
    /// normalised.
    pub fn state_weights(&self, states: &[State], rest: &Rest) -> Vec<f64> {
        let mut weights = self.local.clone();
        let rests = rest.by_sides(self.sides);
        let window = rest.window();
        let blocks = weights.chunks_mut(self.states).zip(rests.chunks(self.points));
        let Some(crank) = &self.crank else {
            for (block, rest) in blocks {
                let sum: f64 = rest.iter().sum();
                for weight in block {
                    *weight *= sum;
                }
            }
            return weights;
        };
        let mut by_class = vec![f64::NAN; crank.len() / self.points];
        for (at, (block, rest)) in blocks.enumerate() {
            let side = at / self.sets;
            by_class.fill(f64::NAN);
            for (state, weight) in states.iter().zip(block) {
                let class = state.class[side];
                if by_class[class].is_nan() {
                    let row = &crank[class * self.points..(class + 1) * self.points];
                    by_class[class] = dot(&row[window.clone()], &rest[window.clone()]);
                }
                *weight *= by_class[class];
            }
        }
        weights
    }
}

/// Four sums side by side, so that the compiler can use vector registers.
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (a4, b4) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = a4.remainder().iter().zip(b4.remainder()).map(|(x, y)| x * y).sum();
    for (x, y) in a4.zip(b4) {
        for ((sum, x), y) in sums.iter_mut().zip(x).zip(y) {
            *sum += x * y;
        }
    }
    sums.iter().sum::<f64>() + rest
}

/// Prior times likelihood of every entry but cranking readings, `[side][set][state]`.
pub(super) fn local_weights(
    model: &Model,
    known: &CylinderEvidence,
    sides: usize,
    sets: usize,
    counts: &impl Fn(usize) -> bool,
) -> Vec<f64> {
    let states = &model.states.states;
    let leaks: Vec<LeakRead> =
        known.leak.iter().filter(|read| counts(read.entry)).copied().collect();
    let heard: Vec<AirExit> =
        known.air.iter().filter(|(entry, _)| counts(*entry)).map(|(_, exit)| *exit).collect();
    let heard = (!heard.is_empty()).then(|| heard_at(&heard, model.scatter.listened));
    let signs: Vec<usize> = known
        .signs
        .iter()
        .filter(|(entry, _)| counts(*entry))
        .filter_map(|(_, sign)| PlugSign::ALL.iter().position(|s| s == sign))
        .collect();
    let tone = known.tone.filter(|(entry, _)| counts(*entry)).map(|(_, tone)| tone);
    let leak = LeakJudge::new(&leaks, model.scatter.leak_between);
    let mut local = Vec::with_capacity(sides * sets * states.len());
    for side in 0..sides {
        let plain: Vec<f64> = states
            .iter()
            .map(|state| {
                let mut weight = state.prior;
                if let Some(heard) = &heard {
                    weight *= air_likelihood(&state.air[side], heard);
                }
                for &sign in &signs {
                    weight *= state.signs[sign];
                }
                match tone {
                    Some(Tone::Darker) => weight * state.darker,
                    Some(Tone::Lighter) => weight * state.lighter,
                    Some(Tone::Like) => weight * (1.0 - state.darker - state.lighter),
                    None => weight,
                }
            })
            .collect();
        for set in 0..sets {
            let shift = if set == 1 { model.shared.leak_set.shift } else { 0.0 };
            if leaks.is_empty() {
                local.extend_from_slice(&plain);
            } else {
                let judged = states.iter().zip(&plain);
                local.extend(judged.map(|(s, plain)| plain * leak.likelihood(s, side, shift)));
            }
        }
    }
    local
}

/// Readings of one leak share the scatter between cylinders, so they are judged together: normal
/// with a common part.
struct LeakJudge<'a> {
    reads: &'a [LeakRead],
    /// Whether one was read after half a turn, so that faults of the test may be gone.
    again: bool,
    /// Share of the squared sum of the misses that the common part explains.
    explained: f64,
    peak: f64,
}

impl<'a> LeakJudge<'a> {
    fn new(reads: &'a [LeakRead], between: f64) -> Self {
        let weight: f64 = reads.iter().map(|read| 1.0 / (read.sd * read.sd)).sum();
        let shared = 1.0 + between * between * weight;
        let sds: f64 = reads.iter().map(|read| read.sd).product();
        Self {
            reads,
            again: reads.iter().any(|read| read.again),
            explained: between * between / shared,
            peak: 1.0 / (sds * shared.sqrt()),
        }
    }

    fn likelihood(&self, state: &State, side: usize, shift: f64) -> f64 {
        if self.again {
            state.leak.iter().map(|case| case.chance * self.of(case, side, shift)).sum()
        } else {
            self.of(&state.leak[0], side, shift)
        }
    }

    fn of(&self, case: &LeakCase, side: usize, shift: f64) -> f64 {
        let (mut sum, mut squares) = (0.0, 0.0);
        for read in self.reads {
            let expected = match (read.tapped, read.again) {
                (true, _) => case.tapped,
                (false, true) => case.turned,
                (false, false) => case.found,
            };
            let miss = read.ln - expected[side] - shift;
            let weighted = miss / (read.sd * read.sd);
            sum += weighted;
            squares += weighted * miss;
        }
        self.peak * (-0.5 * (squares - self.explained * sum * sum).max(0.0)).exp()
    }
}

/// How an exit bears on the states.
#[derive(Debug, Clone, Copy)]
enum Heard {
    /// Air was heard there.
    Yes,
    /// None was, and with this probability someone listened there.
    No(f64),
}

/// Exits that were heard; exits that were not, by how surely someone listened there.
fn heard_at(heard: &[AirExit], listened: f64) -> [Heard; EXITS.len()] {
    let nowhere = heard.contains(&AirExit::Nowhere);
    EXITS.map(|exit| {
        if heard.contains(&exit) {
            Heard::Yes
        } else {
            Heard::No(if nowhere { 1.0 } else { listened })
        }
    })
}

fn air_likelihood(chances: &[f64; EXITS.len()], heard: &[Heard; EXITS.len()]) -> f64 {
    chances
        .iter()
        .zip(heard)
        .map(|(chance, heard)| match heard {
            Heard::Yes => *chance,
            Heard::No(listened) => 1.0 - listened * chance,
        })
        .product()
}

/// Normal readings with scatter of their own and a part in common, in closed form (the covariance
/// is diagonal plus a constant, whose inverse and determinant Sherman and Morrison give).
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Joint {
    weight: f64,
    sum: f64,
    squares: f64,
    ln_det: f64,
    common: f64,
}

impl Joint {
    /// `misses` are pairs of a distance from what is expected and a standard deviation; `common` is
    /// the shared variance.
    pub fn of(misses: impl Iterator<Item = (f64, f64)>, common: f64) -> Self {
        let mut joint = Self { common, ..Self::default() };
        for (miss, sd) in misses {
            let precision = 1.0 / (sd * sd);
            joint.weight += precision;
            joint.sum += precision * miss;
            joint.squares += precision * miss * miss;
            joint.ln_det += 2.0 * sd.ln();
        }
        joint
    }

    /// The density as a function of a level that all the misses are measured from: its peak, where
    /// the peak is, and the curvature.
    pub fn as_level(&self) -> (f64, f64, f64) {
        let shared = 1.0 + self.common * self.weight;
        let at = self.sum / self.weight;
        let within = (self.squares - self.sum * at).max(0.0);
        let peak = (-0.5 * (within + self.ln_det + shared.ln())).exp();
        (peak, at, self.weight / shared)
    }
}

/// What is expected of a reading, over the level, as a natural logarithm.
pub(super) fn crank_expected(class: &CrankClass, wet: bool, stroke: Option<u8>) -> f64 {
    let rest = if wet { class.wet } else { class.dry };
    match stroke {
        None => rest,
        Some(strokes) => {
            let missing = (1.0 - class.first) * class.decay.powi(i32::from(strokes) - 1);
            rest + (1.0 - missing).ln()
        }
    }
}

/// Likelihood of cranking readings, `[class][point]`; of no use when there are none.
pub(super) fn crank_likelihoods(
    model: &Model,
    grid: LevelGrid,
    reads: &[CrankRead],
    sides: usize,
) -> Vec<f64> {
    let scatter = &model.scatter;
    let points = grid.points();
    let floor: Vec<f64> = (0..points)
        .map(|i| {
            let slip = reads.iter().map(|read| {
                let miss = (read.ln - grid.at(i)) / scatter.slip_spread;
                (-0.5 * miss * miss).exp() / scatter.slip_spread
            });
            scatter.slip * slip.product::<f64>()
        })
        .collect();
    let used = |class: usize| (0..sides).any(|side| model.states.class_used[side][class]);
    let mut table = vec![0.0; model.states.classes.len() * points];
    for (at, (class, row)) in model.states.classes.iter().zip(table.chunks_mut(points)).enumerate()
    {
        if reads.is_empty() || !used(at) {
            continue;
        }
        let misses = reads.iter().map(|r| {
            let sd = if r.wet { r.sd.hypot(class.rise) } else { r.sd };
            (r.ln - crank_expected(class, r.wet, r.stroke), sd)
        });
        let common = scatter.between_cylinders.powi(2) + class.spread;
        let (peak, at, curvature) = Joint::of(misses, common).as_level();
        row.copy_from_slice(&floor);
        add_bell(row, grid, (1.0 - scatter.slip) * peak, at, curvature);
    }
    table
}

/// Adds `peak * exp(-curvature / 2 * (level - at)^2)` at every grid point. The ratio of neighbours
/// changes by a constant factor, so two multiplications stand for an exponential; the walk ends
/// where the bell is below the last digit of the floor under it.
fn add_bell(row: &mut [f64], grid: LevelGrid, peak: f64, at: f64, curvature: f64) {
    // Below the last digit of what the row holds already.
    let least = row.iter().copied().fold(f64::INFINITY, f64::min);
    let negligible = (least * 1e-18).max(f64::MIN_POSITIVE);
    let last = (row.len() - 1) as f64;
    let nearest = ((at - grid.at(0)) / grid.step()).round().clamp(0.0, last);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to the grid's indices, which are small and not negative"
    )]
    let start = nearest as usize;
    let from_peak = grid.at(start) - at;
    let value = peak * (-0.5 * curvature * from_peak * from_peak).exp();
    let bend = (-curvature * grid.step() * grid.step()).exp();
    let ratio = |direction: f64| {
        (-curvature * grid.step() * (direction * from_peak + 0.5 * grid.step())).exp()
    };
    let (mut up, mut up_ratio) = (value, ratio(1.0));
    for slot in &mut row[start..] {
        if up < negligible {
            break;
        }
        *slot += up;
        up *= up_ratio;
        up_ratio *= bend;
    }
    let (mut down, mut down_ratio) = (value * ratio(-1.0), ratio(-1.0) * bend);
    for slot in row[..start].iter_mut().rev() {
        if down < negligible {
            break;
        }
        *slot += down;
        down *= down_ratio;
        down_ratio *= bend;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_walk_agrees_with_the_exponential() {
        let grid = LevelGrid::STANDARD;
        for (at, curvature) in [(13.9, 270.0), (12.0, 20.0), (11.0, 270.0), (15.7, 2.0)] {
            let mut row = vec![0.0; grid.points()];
            add_bell(&mut row, grid, 3.0, at, curvature);
            for (i, value) in row.iter().enumerate() {
                let exact = 3.0 * (-0.5 * curvature * (grid.at(i) - at).powi(2)).exp();
                assert!((value - exact).abs() < 1e-12 + 1e-11 * exact, "{at} {i}");
            }
        }
    }
}
