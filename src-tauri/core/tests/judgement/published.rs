//! Outside check. Worked cases from the text of published manuals: the symptoms as printed, put into
//! numbers where the text has none (150 psi healthy), and the cause the text names. That cause must
//! come first or tie with the first. Sources stand beside each case as read from stored excerpts of
//! the documents; the numbers in place of words are ours.

use borespoke_core::record::{AirExit, PlugSign};

use crate::support::{Bench, assert_first, lines, probability};

fn four() -> Bench {
    Bench::in_line("1-3-4-2")
}

/// Four healthy cylinders but for cylinder 2.
fn second_at(psi: f64) -> Bench {
    four().dry(&[150.0, psi, 152.0, 148.0])
}

/// GM Epica 2009 and Solstice 2006 service manuals, Ford Probe 1997: low on the first stroke, builds
/// on the following strokes but does not reach normal, improves considerably with oil: rings.
#[test]
fn low_first_then_builds_and_improves_with_oil_is_rings() {
    let judgement = second_at(108.0).stroke(2, 1, 46.0).stroke(2, 2, 70.0).wet(2, 139.0).judge();
    assert_first(&judgement, "worn or stuck rings", &[2]);
}

/// Ford Probe 1997, "Interpreting compression readings": a rise of 10 % or more with oil is rings.
#[test]
fn a_rise_of_a_quarter_with_oil_is_rings() {
    let judgement = second_at(115.0).wet(2, 140.0).judge();
    assert_first(&judgement, "worn or stuck rings", &[2]);
}

/// GM Solstice 2006, Ford Probe 1997: low on the first stroke, does not build, little help from
/// oil: valves.
#[test]
fn low_first_that_does_not_build_is_valves() {
    let judgement = second_at(90.0).stroke(2, 1, 78.0).stroke(2, 2, 86.0).wet(2, 92.0).judge();
    let valves = ["burnt or leaking exhaust", "leaking intake", "valve lash", "carbon on a valve"];
    let sum: f64 = valves.iter().map(|name| probability(&judgement, name, &[2])).sum();
    assert_first(&judgement, "burnt or leaking exhaust valve", &[2]);
    assert!(sum > 0.6, "{sum} {}", lines(&judgement));
}

/// US Army TM 5-4210-230-14&P-1 addendum 2, Ford 1996 03-00, GM: two adjacent cylinders low, oil
/// does not raise them: head gasket between them.
#[test]
fn two_adjacent_low_that_oil_does_not_raise_is_the_gasket_between_them() {
    let judgement = four().dry(&[150.0, 90.0, 92.0, 148.0]).wet(2, 93.0).wet(3, 94.0).judge();
    assert_first(&judgement, "head gasket leaking between", &[2, 3]);
}

/// The same text, with the layout of a vee engine: cylinders 1 and 2 face each other and share no
/// gasket, 1 and 3 do.
#[test]
fn adjacent_is_by_layout() {
    let layout = borespoke_core::engine::Layout::new(vec![vec![1, 3, 5], vec![2, 4, 6]]).unwrap();
    let vee = || Bench::new("1-2-3-4-5-6", Some(layout.clone()));
    let apart = vee().dry(&[90.0, 92.0, 150.0, 149.0, 151.0, 150.0]).wet(1, 92.0).wet(2, 94.0);
    let beside = vee().dry(&[90.0, 150.0, 92.0, 149.0, 151.0, 150.0]).wet(1, 92.0).wet(3, 94.0);
    assert_first(&beside.judge(), "head gasket leaking between", &[1, 3]);
    assert!(probability(&apart.judge(), "head gasket leaking between", &[1, 2]) == 0.0);
}

/// Ford Probe 1997: above specification: carbon build-up.
#[test]
fn above_the_others_is_carbon_build_up() {
    let judgement = second_at(181.0).judge();
    assert_first(&judgement, "carbon build-up", &[2]);
}

/// Mazda B2300 2008 "Cylinder leakage detection", Chevrolet Silverado 2005 "Cylinder leakage test",
/// AOPA 2016: leakage over the limit and air at the throttle: intake valve.
#[test]
fn air_at_the_throttle_is_the_intake_valve() {
    let judgement = four().leaks(&[7.0, 40.0, 6.0, 8.0]).air(2, AirExit::Intake).judge();
    assert_first(&judgement, "leaking intake valve", &[2]);
}

/// The same: air at the tailpipe: exhaust valve.
#[test]
fn air_at_the_tailpipe_is_the_exhaust_valve() {
    let judgement = four().leaks(&[7.0, 40.0, 6.0, 8.0]).air(2, AirExit::Exhaust).judge();
    assert_first(&judgement, "burnt or leaking exhaust valve", &[2]);
}

/// The same: air at the crankcase (oil filler, breather, dipstick): rings, piston or bore.
#[test]
fn air_at_the_oil_filler_is_rings_or_piston() {
    let judgement = four().leaks(&[7.0, 40.0, 6.0, 8.0]).air(2, AirExit::OilFiller).judge();
    assert_first(&judgement, "worn or stuck rings", &[2]);
}

/// The same: bubbles in the radiator: head gasket, or cracked head or block.
#[test]
fn bubbles_in_the_radiator_are_the_gasket_to_the_coolant() {
    let judgement = four().leaks(&[7.0, 40.0, 6.0, 8.0]).air(2, AirExit::Coolant).judge();
    assert_first(&judgement, "head gasket leaking to the coolant", &[2]);
}

/// The same: air at the adjacent plug hole: head gasket.
#[test]
fn air_at_the_adjacent_plug_hole_is_the_gasket_between() {
    let judgement = four()
        .leaks(&[7.0, 42.0, 40.0, 8.0])
        .air(2, AirExit::NextPlugHole)
        .air(3, AirExit::NextPlugHole)
        .judge();
    assert_first(&judgement, "head gasket leaking between", &[2, 3]);
}

/// Continental IOF-240-B manual p. 7-22, TSIO-520-BE step 8 (staking): a leak past a valve that goes
/// after a tap over the stem was something on the seat or a valve that had not seated.
#[test]
fn a_leak_past_a_valve_that_a_tap_cures_is_carbon_or_an_unseated_valve() {
    let judgement =
        four().leaks(&[7.0, 40.0, 6.0, 8.0]).air(2, AirExit::Exhaust).tapped(2, 10.0).judge();
    let first = &judgement.findings[0].cause;
    assert!(
        first.starts_with("carbon on a valve seat") || first.contains("valve not seated"),
        "{}",
        lines(&judgement)
    );
}

/// AC 43.13-1B para 8-14 steps (g) and (i): if the flat spot was passed, back up and come up again;
/// recheck. A great leak at intake and exhaust that is gone on coming up afresh was the piston's
/// position.
#[test]
fn a_leak_that_is_gone_on_coming_up_afresh_was_the_test() {
    let judgement = second_at(149.0)
        .leaks(&[7.0, 88.0, 6.0, 8.0])
        .air(2, AirExit::Intake)
        .air(2, AirExit::Exhaust)
        .leak(2, 8.0)
        .judge();
    assert_first(&judgement, "test fault: piston not at top dead centre", &[2]);
}

/// US Army TM 10-3930-633-12 table 4-3: wet, black plug: oil past rings and pistons (or guides),
/// here with low compression.
#[test]
fn an_oil_fouled_plug_on_a_weak_cylinder_is_rings() {
    let judgement = second_at(118.0)
        .plug(1, PlugSign::Normal)
        .plug(2, PlugSign::OilWet)
        .plug(3, PlugSign::Normal)
        .plug(4, PlugSign::Normal)
        .judge();
    assert_first(&judgement, "worn or stuck rings", &[2]);
}

/// US Army TM 10-3930-633-12 table 4-3: soot on one plug only: sticking valves (or a bad lead).
#[test]
fn one_sooty_plug_speaks_for_valves() {
    let with = |sign| {
        let judgement = second_at(120.0)
            .plug(1, PlugSign::Normal)
            .plug(2, sign)
            .plug(3, PlugSign::Normal)
            .plug(4, PlugSign::Normal)
            .judge();
        ["carbon on a valve", "burnt or leaking", "leaking intake"]
            .map(|name| probability(&judgement, name, &[2]))
            .iter()
            .sum::<f64>()
    };
    assert!(with(PlugSign::DryCarbon) > 1.2 * with(PlugSign::Normal));
}

/// AC 43.13-1B CHG 1 para 8-16d: metal spray on one plug only: that cylinder, generally the piston.
#[test]
fn metal_on_one_plug_is_the_piston() {
    let judgement = second_at(60.0)
        .plug(1, PlugSign::Normal)
        .plug(2, PlugSign::MetalSpecks)
        .plug(3, PlugSign::Normal)
        .plug(4, PlugSign::Normal)
        .judge();
    assert_first(&judgement, "holed or broken piston", &[2]);
}

/// Ford LSG-875 p. 1-08, worked example: highest 196 psi, lowest 155 psi: all right (75 % of 196 is
/// 147). A spread of a fifth is within that rule; the model, which knows the 10 % rule of the XVS1100
/// manual too, may raise a doubt but must not open the engine.
#[test]
fn the_worked_example_of_196_and_155_does_not_open_the_engine() {
    let judgement = four().dry(&[196.0, 180.0, 172.0, 155.0]).judge();
    let most = judgement.advice.iter().map(|advice| advice.action).max();
    assert!(most <= Some(borespoke_core::judgement::Action::RetestNow), "{judgement:#?}");
}

/// Lycoming IO-390-D manual 72-30 table 2: all cylinders at 70 psi of 80 or better and within 5 psi
/// of each other: satisfactory.
#[test]
fn all_at_74_to_78_of_80_is_sound() {
    let judgement = four().leaks(&[5.0, 7.5, 2.5, 6.25]).judge();
    let most = judgement.findings.first().map_or(0.0, |f| f.probability.value());
    assert!(most < 0.2, "{}", lines(&judgement));
}
