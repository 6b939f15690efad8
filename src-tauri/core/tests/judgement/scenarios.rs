//! The plain cases every mechanic knows.

use borespoke_core::engine::Cylinder;
use borespoke_core::judgement::{Action, Model, NextStep, posterior};
use borespoke_core::quantity::{Length, LengthUnit};
use borespoke_core::record::{AirExit, PlugSign};
use borespoke_core::tester::{Tester, TesterKind, ZeroCheck};

use crate::support::{Bench, assert_first, lines, probability};

#[test]
fn low_dry_rising_wet_with_air_at_the_filler_is_rings() {
    let judgement = Bench::in_line("1-3-4-2")
        .dry(&[150.0, 105.0, 152.0, 148.0])
        .wet(2, 138.0)
        .leak(2, 38.0)
        .air(2, AirExit::OilFiller)
        .judge();
    assert_first(&judgement, "worn or stuck rings", &[2]);
    assert!(probability(&judgement, "worn", &[2]) > 0.5, "{}", lines(&judgement));
    let first = &judgement.findings[0];
    assert!(first.in_favour.iter().any(|w| w.says.contains("with oil")), "{first:?}");
}

#[test]
fn low_without_rise_and_air_at_the_exhaust_is_the_exhaust_valve() {
    let judgement = Bench::in_line("1-5-3-6-2-4")
        .dry(&[150.0, 152.0, 90.0, 148.0, 151.0, 149.0])
        .wet(3, 92.0)
        .leak(3, 60.0)
        .air(3, AirExit::Exhaust)
        .judge();
    assert_first(&judgement, "burnt or leaking exhaust valve", &[3]);
    assert!(probability(&judgement, "burnt", &[3]) > 0.6, "{}", lines(&judgement));
    assert_eq!(judgement.advice[0].action, Action::OpenTop);
}

#[test]
fn two_low_neighbours_with_air_in_the_next_plug_hole_is_the_gasket() {
    let judgement = Bench::in_line("1-5-3-6-2-4")
        .dry(&[150.0, 152.0, 92.0, 95.0, 151.0, 149.0])
        .wet(3, 95.0)
        .wet(4, 97.0)
        .leak(3, 50.0)
        .air(3, AirExit::NextPlugHole)
        .judge();
    assert_first(&judgement, "head gasket leaking between", &[3, 4]);
    assert!(probability(&judgement, "head gasket", &[3, 4]) > 0.9, "{}", lines(&judgement));
}

#[test]
fn a_healthy_engine_has_no_finding_worth_worry() {
    let judgement = Bench::in_line("1-3-4-2")
        .dry(&[150.0, 146.0, 152.0, 148.0])
        .leaks(&[6.0, 8.0, 5.0, 9.0])
        .judge();
    let most = judgement.findings.first().map_or(0.0, |f| f.probability.value());
    assert!(most < 0.2, "{}", lines(&judgement));
    assert!(judgement.advice.iter().all(|advice| advice.action == Action::CarryOn));
}

#[test]
fn an_empty_job_has_no_finding_no_advice_and_says_what_was_not_tested() {
    let judgement = Bench::in_line("1-3-4-2").judge();
    assert!(judgement.findings.is_empty() && judgement.advice.is_empty());
    assert!(judgement.not_tested.iter().any(|line| line.starts_with("Cranking pressure")));
}

#[test]
fn good_pressure_with_an_awful_leak_is_a_contradiction_and_suspects_the_test() {
    let judgement = Bench::in_line("1-3-4-2")
        .dry(&[150.0, 149.0, 152.0, 148.0])
        .leaks(&[6.0, 90.0, 7.0, 8.0])
        .judge();
    assert_first(&judgement, "test fault", &[2]);
    let conflict = &judgement.conflicts[0];
    assert_eq!(conflict.cylinder.number(), 2);
    assert!(conflict.says.contains("149 psi") && conflict.says.contains("90 %"), "{conflict:?}");
}

#[test]
fn low_pressure_with_little_leak_is_the_valve_gear() {
    let judgement = Bench::in_line("1-3-4-2")
        .dry(&[150.0, 95.0, 152.0, 148.0])
        .wet(2, 97.0)
        .leaks(&[6.0, 7.0, 7.0, 8.0])
        .judge();
    let gear = probability(&judgement, "worn cam lobe", &[2])
        + probability(&judgement, "broken or weak", &[2]);
    assert!(gear > 0.8, "{}", lines(&judgement));
}

#[test]
fn a_tap_that_frees_the_leak_is_carbon_on_a_seat_or_an_unseated_valve() {
    let judgement = Bench::in_line("1-3-4-2")
        .dry(&[150.0, 134.0, 152.0])
        .dry_one(4, 148.0)
        .leaks(&[6.0, 32.0, 7.0, 8.0])
        .air(2, AirExit::Exhaust)
        .tapped(2, 9.0)
        .judge();
    let freed = probability(&judgement, "carbon on a valve seat", &[2])
        + probability(&judgement, "test fault: valve not seated", &[2]);
    assert!(freed > 0.8, "{}", lines(&judgement));
    assert!(judgement.advice.iter().all(|advice| advice.action < Action::OpenTop));
}

#[test]
fn low_from_the_first_stroke_on_speaks_for_valves_and_a_slow_climb_for_rings() {
    let bench = || Bench::in_line("1-3-4-2").dry(&[150.0, 100.0, 152.0, 148.0]);
    let rings = |b: Bench| probability(&b.judge(), "worn or stuck rings", &[2]);
    let before = rings(bench());
    assert!(rings(bench().stroke(2, 1, 42.0)) > before);
    assert!(rings(bench().stroke(2, 1, 86.0)) < before);
}

#[test]
fn an_oil_wet_plug_speaks_for_rings_unless_every_plug_is_oily() {
    let bench = || Bench::in_line("1-3-4-2").dry(&[150.0, 120.0, 152.0, 148.0]);
    let rings = |b: Bench| probability(&b.judge(), "worn or stuck rings", &[2]);
    let one = bench()
        .plug(1, PlugSign::Normal)
        .plug(2, PlugSign::OilWet)
        .plug(3, PlugSign::Normal)
        .plug(4, PlugSign::Normal);
    let all = (1..=4).fold(bench(), |b, n| b.plug(n, PlugSign::OilWet));
    assert!(rings(one) > 1.2 * rings(bench()));
    assert!((rings(all) - rings(bench())).abs() < 1e-9);
}

#[test]
fn the_next_step_is_not_one_that_was_done() {
    let judgement = Bench::in_line("1-3-4-2").dry(&[150.0, 105.0, 152.0, 148.0]).judge();
    let first = &judgement.next_steps[0];
    assert_eq!(first.cylinder.map(Cylinder::number), Some(2), "{first:?}");
    assert!(judgement.next_steps.iter().all(|step| !step.next_step.starts_with("Read the dry")));
    let more = Bench::in_line("1-3-4-2").dry(&[150.0, 105.0, 152.0, 148.0]).wet(2, 140.0).judge();
    let wet = |step: &NextStep| {
        step.next_step.contains("spoonful") && step.cylinder.map(Cylinder::number) == Some(2)
    };
    assert!(judgement.next_steps.iter().any(wet) && !more.next_steps.iter().any(wet));
}

#[test]
fn an_engine_about_which_nothing_is_known_is_cranked_first() {
    let judgement = Bench::in_line("1-3-4-2").judge();
    let steps: Vec<_> =
        judgement.next_steps.iter().map(|s| (&s.next_step, s.bits / s.minutes)).collect();
    assert!(judgement.next_steps[0].next_step.starts_with("Read the dry"), "{steps:#?}");
    assert_eq!(judgement.settled, None);
}

#[test]
fn a_tested_healthy_engine_is_settled() {
    let bench =
        Bench::in_line("1-3-4-2").dry(&[150.0, 149.0, 152.0, 151.0]).leaks(&[6.0, 7.0, 5.0, 6.0]);
    let judgement = bench.judge();
    assert!(judgement.next_steps.is_empty(), "{:#?}", judgement.next_steps);
    assert!(judgement.settled.is_some());
}

/// Outside check. The two-restrictor flow: 60 psi held of 80 on a 0.040 in restrictor is 75.3 psi on
/// a 0.060 in one (computed from the de Saint-Venant and Wantzel equation, choked and not). The same
/// leak on either set must give the same judgement.
#[test]
fn the_same_leak_on_another_restrictor_is_judged_alike() {
    let on = |thou: f64, percent: f64| {
        let mut bench = Bench::in_line("1-3-4-2").leaks(&[percent]);
        bench.job.testers.push(Tester {
            name: "set".to_owned(),
            kind: TesterKind::LeakDownSet {
                restrictor: Some(Length::new(thou, LengthUnit::Thou)),
                supply: Some(bench.pressure(80.0)),
            },
            zero: ZeroCheck::Good,
        });
        posterior(Model::standard(), &bench.job, &bench.log).tight[0]
    };
    let (small, large) = (on(40.0, 25.0), on(60.0, 100.0 * (80.0 - 75.3) / 80.0));
    assert!((small - large).abs() < 0.02, "{small} {large}");
    assert!(on(60.0, 25.0) < 0.8 * small);
}
