//! Outside check. The posterior against a general-purpose Bayesian network library: see
//! `tests/outside/judgement/reference.py`, which writes the states, likelihoods and network again
//! from the rows of the model and lets pyAgrum do the inference. The fixture names the versions.

use borespoke_core::judgement::posterior;
use serde::Deserialize;

use crate::random_cases::case;

#[derive(Deserialize)]
struct Fixture {
    library: String,
    cases: Vec<Answer>,
}

#[derive(Deserialize)]
struct Answer {
    causes: Vec<Vec<f64>>,
    gaskets: Vec<(Vec<u8>, f64)>,
    levels: Vec<f64>,
    timing: Vec<f64>,
    leak_set: f64,
}

#[test]
fn two_hundred_random_cases_agree_with_the_library_to_a_billionth() {
    let text = include_str!("../../../../tests/outside/judgement/posteriors.json");
    let fixture: Fixture = serde_json::from_str(text).expect("the fixture");
    assert!(fixture.library.starts_with("pyAgrum "));
    assert_eq!(fixture.cases.len(), 200);
    let mut worst = (0.0, String::new());
    for (number, answer) in (0..).zip(&fixture.cases) {
        let (model, bench) = case(number);
        let ours = posterior(&model, &bench.job, &bench.log);
        let mut compare = |what: &str, ours: f64, theirs: f64| {
            let apart = (ours - theirs).abs();
            if apart > worst.0 || !apart.is_finite() {
                worst = (apart, format!("case {number}, {what}: ours {ours}, theirs {theirs}"));
            }
        };
        for (ours, theirs) in ours.causes.iter().flatten().zip(answer.causes.iter().flatten()) {
            compare("cause", *ours, *theirs);
        }
        assert_eq!(ours.gaskets.len(), answer.gaskets.len());
        for (pair, theirs) in &answer.gaskets {
            let here = ours.gaskets.iter().find(|(cylinders, _)| {
                cylinders.iter().map(|c| c.number()).eq(pair.iter().copied())
            });
            compare("gasket", here.expect("the same pair").1, *theirs);
        }
        for (ours, theirs) in ours.levels.iter().zip(&answer.levels) {
            compare("level cause", *ours, *theirs);
        }
        for (ours, theirs) in ours.timing.iter().zip(&answer.timing) {
            compare("cam timing", *ours, *theirs);
        }
        compare("leak-down set", ours.leak_set, answer.leak_set);
    }
    assert!(worst.0 < 1e-9, "{worst:?}");
}
