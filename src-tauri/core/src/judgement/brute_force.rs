//! Inference against plain enumeration of every joint state, on two cylinders that share a gasket.
//! The messages, the window, the cam timing and the shared causes are all in what is compared.

use super::evidence::Evidence;
use super::infer::{Network, Shared};
use super::likelihood::{crank_likelihoods, local_weights};
use super::model::{Model, SCATTER};
use super::posterior::Belief;
use super::scale::LevelGrid;
use crate::job::Job;
use crate::record::{Entry, Log};

fn job(fuel: &str, warmth: &str) -> Job {
    let text = format!(
        r#"{{"begun":"1970-01-01T00:00:00Z","customer":"","vehicle":"","question":"",
        "engine":{{"firing_order":[1,2],"layout":[[1,2]],"fuel":{fuel}}},
        "testers":[],"conditions":{{"warmth":{warmth}}},"rule_set":"","invented":true}}"#
    );
    serde_json::from_str(&text).expect("a job")
}

/// One entry per line of observations.
fn log(observations: &[&str]) -> Log {
    let entries: Vec<Entry> = observations
        .iter()
        .enumerate()
        .map(|(n, observation)| {
            let text = format!(
                r#"{{"id":"00000000-0000-0000-0000-{n:012}","at":"1970-01-01T00:00:00Z",
                "origin":{{"by":"typed"}},"act":"observe","observation":{observation}}}"#
            );
            serde_json::from_str(&text).expect("an entry")
        })
        .collect();
    Log::try_from(entries).expect("a log")
}

fn crank(cylinder: u8, psi: f64, bore: &str) -> String {
    format!(
        r#"{{"kind":"cranking","cylinder":{cylinder},"bore":"{bore}","stroke":"final",
        "pressure":{{"value":{{"value":{psi},"unit":"psi"}}}}}}"#
    )
}

fn leak(cylinder: u8, percent: f64) -> String {
    format!(
        r#"{{"kind":"leak-down","cylinder":{cylinder},"valves":"as-found",
        "reading":{{"as":"percent","leak":{{"value":{percent}}}}}}}"#
    )
}

struct Enumerated {
    causes: [Vec<f64>; 2],
    gasket: f64,
    timing: f64,
    levels: [f64; 4],
    leak_set: f64,
}

/// Every state of both cylinders, the gasket, the cam timing, the leak-down set, the level and the
/// sixteen combinations of what lowers it.
fn enumerate(model: &Model, job: &Job, log: &Log) -> Enumerated {
    let evidence = Evidence::gather(job, log, &model.scatter);
    let grid = model.grid;
    let points = grid.points();
    let states = &model.states.states;
    let of = |at: usize| {
        let known = &evidence.cylinders[at];
        let local = local_weights(model, known, 2, 2, &|_| true);
        let crank = crank_likelihoods(model, grid, &known.crank, 2);
        move |side: usize, set: usize, state: usize, level: usize| {
            let class = states[state].class[side];
            let cranked = if known.crank.is_empty() { 1.0 } else { crank[class * points + level] };
            local[(side * 2 + set) * states.len() + state] * cranked
        }
    };
    let (one, two) = (of(0), of(1));
    let network = Network::new(model, job, &evidence);
    let steps = (-model.shared.timing.left.ln() / grid.step()).round();
    let mut out = Enumerated {
        causes: [vec![0.0; model.causes.len()], vec![0.0; model.causes.len()]],
        gasket: 0.0,
        timing: 0.0,
        levels: [0.0; 4],
        leak_set: 0.0,
    };
    let mut whole = 0.0;
    let p = |present: usize, of: f64| if present == 1 { of } else { 1.0 - of };
    for combination in 0..16_usize {
        let on: Vec<usize> = (0..4).map(|row| combination >> row & 1).collect();
        let shared = &model.shared;
        let (mut weight, mut left, mut variance) = (1.0, 0.0, 0.0);
        for (row, &present) in on.iter().enumerate() {
            weight *= p(present, network.prior.rows[row]);
            if present == 1 {
                left += shared.levels[row].left.ln();
                variance += shared.levels[row].spread.powi(2);
            }
        }
        let healthy = if job.engine.fuel == Some(crate::engine::Fuel::Diesel) {
            shared.diesel
        } else {
            shared.petrol
        };
        let level_prior =
            grid.normal(healthy.middle.ln() + left, healthy.spread.hypot(f64::sqrt(variance)));
        for (level, level_p) in level_prior.iter().enumerate() {
            for timing in 0..2 {
                let late = if timing == 1 { steps } else { 0.0 };
                let seen = (0..=level).rev().find(|&l| level as f64 - l as f64 >= late);
                let seen = seen.unwrap_or(0);
                for (set, gasket) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
                    let base = weight
                        * level_p
                        * p(timing, shared.timing.prior)
                        * p(set, shared.leak_set.prior)
                        * p(gasket, shared.gasket.prior);
                    for first in 0..states.len() {
                        let here = base * one(gasket, set, first, seen);
                        for second in 0..states.len() {
                            let joint = here * two(gasket, set, second, seen);
                            whole += joint;
                            for (causes, state) in out.causes.iter_mut().zip([first, second]) {
                                states[state].causes.iter().for_each(|&c| causes[c] += joint);
                            }
                            out.gasket += gasket as f64 * joint;
                            out.timing += timing as f64 * joint;
                            out.leak_set += set as f64 * joint;
                            for (sum, present) in out.levels.iter_mut().zip(&on) {
                                *sum += *present as f64 * joint;
                            }
                        }
                    }
                }
            }
        }
    }
    out.causes.iter_mut().flatten().for_each(|sum| *sum /= whole);
    out.levels.iter_mut().for_each(|sum| *sum /= whole);
    out.gasket /= whole;
    out.timing /= whole;
    out.leak_set /= whole;
    out
}

#[test]
fn the_posterior_is_that_of_enumerating_everything() {
    let rows: Vec<_> = [0, 3, 12].map(|row| Model::standard().causes()[row].clone()).to_vec();
    let grid = LevelGrid::new(2e5, 0.1, 24).expect("a grid");
    let model = Model::new(rows, grid).expect("a model");
    assert_eq!(*model.scatter(), SCATTER);
    let cases: [(&str, &str, Vec<String>); 4] = [
        (
            "\"petrol\"",
            "\"hot\"",
            vec![crank(1, 150.0, "dry"), crank(2, 95.0, "dry"), leak(2, 45.0)],
        ),
        (
            "\"petrol\"",
            "null",
            vec![crank(1, 80.0, "dry"), crank(2, 84.0, "dry"), crank(2, 86.0, "wet")],
        ),
        (
            "\"diesel\"",
            "\"cold\"",
            vec![crank(1, 300.0, "dry"), leak(1, 90.0), leak(1, 8.0), leak(2, 30.0)],
        ),
        ("\"petrol\"", "null", vec![leak(1, 60.0), leak(2, 55.0)]),
    ];
    for (fuel, warmth, observations) in cases {
        let job = job(fuel, warmth);
        let log = log(&observations.iter().map(String::as_str).collect::<Vec<_>>());
        let all = enumerate(&model, &job, &log);
        let evidence = Evidence::gather(&job, &log, &model.scatter);
        let network = Network::new(&model, &job, &evidence);
        let pass = network.pass(&network.prior);
        let close = |what: &str, ours: f64, theirs: f64| {
            assert!((ours - theirs).abs() < 1e-9, "{what}: {ours} {theirs}");
        };
        for (at, theirs) in all.causes.iter().enumerate() {
            let belief = Belief::of(&network, &pass, at, true);
            for (ours, theirs) in belief.standing.causes.iter().zip(theirs) {
                close("cause", *ours, *theirs);
            }
            close("gasket", belief.standing.gasket, all.gasket);
        }
        for (row, theirs) in all.levels.iter().enumerate() {
            close("level", network.shared(Shared::Level(row), &pass), *theirs);
        }
        close("timing", network.shared(Shared::Timing(0), &pass), all.timing);
        if network.sets == 2 {
            close("leak-down set", network.shared(Shared::LeakSet, &pass), all.leak_set);
        }
    }
}
