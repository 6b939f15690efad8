//! Everything one cylinder can be in: nothing, one cause, or two at once, each at a severity.
//! All that a state predicts is worked out once, before any engine is seen.

use std::collections::HashMap;

use super::model::{
    CauseRow, Climb, Consequence, EXITS, Kind, Level, Scatter, USUAL_AIR, USUAL_ODD, USUAL_SIGNS,
};
use super::scale::leak_area;
use super::shared::GasketRow;
use crate::record::{AirExit, PlugSign};

/// How many sides of a cylinder can leak into a neighbour: none, one, both.
pub(super) const SIDES: usize = 3;

/// What a state predicts of the cranking pressure. States that predict the same share a class.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CrankClass {
    /// Natural logarithm of the final dry pressure over the healthy level.
    pub dry: f64,
    /// The same wet.
    pub wet: f64,
    /// Variance that dry and wet share, beyond that between sound cylinders.
    pub spread: f64,
    /// Standard deviation of what oil brings back.
    pub rise: f64,
    /// Share of the final pressure reached on the first stroke.
    pub first: f64,
    /// Share of what is missing that is still missing a stroke later.
    pub decay: f64,
}

/// A leak area to expect from a reading, and the chance of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LeakCase {
    pub chance: f64,
    /// Natural logarithm of the area, by leaking sides: at the first reading, ...
    pub found: [f64; SIDES],
    /// ... at a reading after half a turn, ...
    pub turned: [f64; SIDES],
    /// ... and after a tap on the valves.
    pub tapped: [f64; SIDES],
}

/// One state of a cylinder.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct State {
    /// The causes at work, by row.
    pub causes: Vec<usize>,
    /// The same as bits.
    pub mask: u64,
    /// States with the same causes, however bad, have the same label.
    pub label: usize,
    /// The same, faults of the test left out.
    pub engine_label: usize,
    pub prior: f64,
    pub consequence: Consequence,
    /// Index of the crank class, by leaking sides.
    pub class: [usize; SIDES],
    pub leak: Vec<LeakCase>,
    /// Natural logarithm of the leak area with a sound fitting, by leaking sides.
    pub refitted: [f64; SIDES],
    /// Chance that air is heard, by leaking sides, in the order of `EXITS`.
    pub air: [[f64; EXITS.len()]; SIDES],
    /// Frequency of each sign, in the order of `PlugSign::ALL`.
    pub signs: [f64; PlugSign::ALL.len()],
    pub darker: f64,
    pub lighter: f64,
}

/// All states of a cylinder and the classes they fall in.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct StateTable {
    pub states: Vec<State>,
    /// How many labels there are.
    pub labels: usize,
    pub classes: Vec<CrankClass>,
    /// Which classes occur with so many leaking sides.
    pub class_used: [Vec<bool>; SIDES],
}

type Pick<'a> = (usize, &'a CauseRow, &'a Level);

pub(super) fn tabulate(rows: &[CauseRow], gasket: &GasketRow, scatter: &Scatter) -> StateTable {
    let mut table = StateTable {
        states: Vec::new(),
        labels: 0,
        classes: Vec::new(),
        class_used: Default::default(),
    };
    let mut places = HashMap::new();
    let mut labels = Vec::new();
    for picks in combinations(rows) {
        let class = [0_u8, 1, 2].map(|sides| {
            let class = crank_class(&picks, sides, gasket, scatter);
            let key = [class.dry, class.wet, class.spread, class.rise, class.first, class.decay]
                .map(|x| (x * 1e12).round().to_bits());
            *places.entry(key).or_insert_with(|| {
                table.classes.push(class);
                table.classes.len() - 1
            })
        });
        let mut state = state(&picks, class, gasket, scatter);
        let engine_only: Vec<usize> =
            state.causes.iter().copied().filter(|&cause| rows[cause].kind != Kind::Test).collect();
        state.label = label(&mut labels, &state.causes);
        state.engine_label = label(&mut labels, &engine_only);
        table.states.push(state);
    }
    table.class_used = [0, 1, 2].map(|sides| {
        let mut used = vec![false; table.classes.len()];
        for state in &table.states {
            used[state.class[sides]] = true;
        }
        used
    });
    table.labels = labels.len();
    let sum: f64 = table.states.iter().map(|state| state.prior).sum();
    for state in &mut table.states {
        state.prior /= sum;
    }
    table
}

/// The place of a set of causes among those met so far.
fn label(labels: &mut Vec<Vec<usize>>, causes: &[usize]) -> usize {
    labels.iter().position(|met| met == causes).unwrap_or_else(|| {
        labels.push(causes.to_vec());
        labels.len() - 1
    })
}

/// Nothing, every cause at every severity, every two causes.
fn combinations(rows: &[CauseRow]) -> Vec<Vec<Pick<'_>>> {
    let single: Vec<Pick<'_>> = rows
        .iter()
        .enumerate()
        .flat_map(|(i, row)| row.levels.iter().map(move |level| (i, row, level)))
        .collect();
    let mut all = vec![Vec::new()];
    all.extend(single.iter().map(|&pick| vec![pick]));
    for (at, &first) in single.iter().enumerate() {
        let others = single[at + 1..].iter().filter(|second| second.0 != first.0);
        all.extend(others.map(|&second| vec![first, second]));
    }
    all
}

fn state(
    picks: &[Pick<'_>],
    class: [usize; SIDES],
    gasket: &GasketRow,
    scatter: &Scatter,
) -> State {
    let odds: f64 =
        picks.iter().map(|(_, row, level)| row.prior / (1.0 - row.prior) * level.share).product();
    let darker = picks.iter().map(|(_, row, _)| row.darker).fold(USUAL_ODD, f64::max);
    let lighter = picks.iter().map(|(_, row, _)| row.lighter).fold(USUAL_ODD, f64::max);
    State {
        causes: picks.iter().map(|pick| pick.0).collect(),
        mask: picks.iter().map(|pick| 1 << pick.0).sum(),
        label: 0,
        engine_label: 0,
        prior: odds,
        consequence: picks
            .iter()
            .map(|pick| pick.2.consequence)
            .max()
            .unwrap_or(Consequence::Sound),
        class,
        leak: leak_cases(picks, gasket, scatter),
        refitted: refitted(picks, gasket, scatter),
        air: [0, 1, 2].map(|sides| air(picks, sides, gasket)),
        signs: signs(picks),
        darker,
        lighter,
    }
}

fn crank_class(picks: &[Pick<'_>], sides: u8, gasket: &GasketRow, scatter: &Scatter) -> CrankClass {
    let n = f64::from(sides);
    let mut class = CrankClass {
        dry: n * gasket.level.dry.ln(),
        wet: n * gasket.level.wet.ln() + scatter.wet_gain.ln(),
        spread: n * gasket.level.spread.powi(2),
        rise: n.sqrt() * gasket.level.rise,
        first: 0.0,
        decay: 0.0,
    };
    let mut shapes = Vec::new();
    if sides > 0 {
        shapes.push(gasket.climb.shape());
    }
    for (_, row, level) in picks {
        class.dry += level.dry.ln();
        class.wet += level.wet.ln();
        class.spread += level.spread.powi(2);
        class.rise = class.rise.hypot(level.rise);
        if row.climb != Climb::Even {
            shapes.push(row.climb.shape());
        }
    }
    if shapes.is_empty() {
        shapes.push(Climb::Even.shape());
    }
    // Two causes at once: the needle climbs in between.
    class.first = shapes.iter().map(|shape| shape.0).sum::<f64>() / shapes.len() as f64;
    class.decay = shapes.iter().map(|shape| shape.1).sum::<f64>() / shapes.len() as f64;
    class
}

/// Areas add. A fault of the test may be gone after half a turn: one case for each way that can
/// fall out.
fn leak_cases(picks: &[Pick<'_>], gasket: &GasketRow, scatter: &Scatter) -> Vec<LeakCase> {
    let sound = leak_area(scatter.sound_leak);
    let side = leak_area(gasket.level.leak) - sound;
    let area = |level: &Level| leak_area(level.leak) - sound;
    let fleeting: Vec<&Pick<'_>> =
        picks.iter().filter(|(_, row, _)| row.kind == Kind::Test).collect();
    (0..1_usize << fleeting.len())
        .map(|gone| {
            let mut chance = 1.0;
            let mut lost = 0.0;
            for (bit, (_, row, level)) in fleeting.iter().enumerate() {
                if gone >> bit & 1 == 1 {
                    chance *= 1.0 - row.after_turn;
                    lost += area(level);
                } else {
                    chance *= row.after_turn;
                }
            }
            let found: f64 = sound + picks.iter().map(|pick| area(pick.2)).sum::<f64>();
            let tapped: f64 = sound
                + picks.iter().map(|(_, row, level)| area(level) * row.after_tap).sum::<f64>();
            let by_side = |own: f64| [0.0, 1.0, 2.0].map(|n: f64| (own + n * side).ln());
            LeakCase {
                chance,
                found: by_side(found),
                turned: by_side(found - lost),
                tapped: by_side(tapped),
            }
        })
        .collect()
}

fn refitted(picks: &[Pick<'_>], gasket: &GasketRow, scatter: &Scatter) -> [f64; SIDES] {
    let at_fitting =
        |row: &CauseRow| row.kind == Kind::Test && row.air.iter().any(|a| a.0 == AirExit::Fitting);
    let rest: Vec<Pick<'_>> =
        picks.iter().filter(|(_, row, _)| !at_fitting(row)).copied().collect();
    leak_cases(&rest, gasket, scatter)[0].found
}

/// Each cause lets air out on its own account (noisy or).
fn air(picks: &[Pick<'_>], sides: i32, gasket: &GasketRow) -> [f64; EXITS.len()] {
    let mut silent = USUAL_AIR.map(|heard| 1.0 - heard);
    for (slot, exit) in silent.iter_mut().zip(EXITS) {
        if exit == AirExit::NextPlugHole {
            *slot *= (1.0 - gasket.air).powi(sides);
        }
        for (_, row, _) in picks {
            for &(at, sure) in row.air {
                if at == exit {
                    *slot *= 1.0 - sure;
                }
            }
        }
    }
    silent.map(|quiet| 1.0 - quiet)
}

fn signs(picks: &[Pick<'_>]) -> [f64; PlugSign::ALL.len()] {
    let mut often = USUAL_SIGNS;
    for (_, row, _) in picks {
        for &(sign, frequency) in row.signs {
            if let Some(place) = PlugSign::ALL.iter().position(|&s| s == sign) {
                often[place] = often[place].max(frequency);
            }
        }
    }
    let sum: f64 = often.iter().sum();
    often.map(|frequency| frequency / sum)
}

#[cfg(test)]
mod tests {
    use super::super::model::Model;

    #[test]
    fn priors_of_the_states_sum_to_one_and_leak_cases_too() {
        let table = &Model::standard().states;
        let sum: f64 = table.states.iter().map(|state| state.prior).sum();
        assert!((sum - 1.0).abs() < 1e-12);
        for state in &table.states {
            let chances: f64 = state.leak.iter().map(|case| case.chance).sum();
            assert!((chances - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn two_leaks_show_more_than_either() {
        let table = &Model::standard().states;
        let alone = |cause: usize| {
            table.states.iter().find(|state| state.causes == [cause]).unwrap().leak[0].found[0]
        };
        let both = table.states.iter().find(|state| state.causes == [0, 3]).unwrap();
        assert!(both.leak[0].found[0] > alone(0).max(alone(3)));
    }
}
