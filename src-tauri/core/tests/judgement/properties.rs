//! What must hold whatever is read.

use borespoke_core::engine::{FiringOrder, Layout};
use borespoke_core::judgement::{Model, Posterior, judge, posterior};
use borespoke_core::quantity::PressureUnit;
use borespoke_core::record::{AirExit, Bore, Stroke};
use proptest::prelude::*;

use crate::random_cases::case;
use crate::support::Bench;

fn standard(bench: &Bench) -> Posterior {
    posterior(Model::standard(), &bench.job, &bench.log)
}

/// Dry, leak and exit of each of four cylinders.
fn readings() -> impl Strategy<Value = Vec<(f64, f64, usize)>> {
    prop::collection::vec((40.0..200.0_f64, 2.0..95.0_f64, 0..AirExit::ALL.len()), 4)
}

fn bench(readings: &[(f64, f64, usize)], unit: PressureUnit) -> Bench {
    let mut bench = Bench::in_line("1-3-4-2");
    bench.unit = unit;
    for (number, (psi, leak, exit)) in (1..).zip(readings) {
        bench.crank(number, *psi, Bore::Dry, Stroke::Final);
        bench = bench.leak(number, *leak).air(number, AirExit::ALL[*exit]);
    }
    bench
}

fn close(ours: &Posterior, theirs: &Posterior, within: f64) -> Result<(), TestCaseError> {
    let of = |p: &Posterior| -> Vec<f64> {
        let causes = p.causes.iter().flatten().copied();
        causes.chain(p.gaskets.iter().map(|g| g.1)).chain(p.levels.iter().copied()).collect()
    };
    for (a, b) in of(ours).into_iter().zip(of(theirs)) {
        prop_assert!((a - b).abs() < within, "{a} {b}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// The chance that the chamber is tight and the test was right never rises when the leak-down
    /// reads more, all else alike.
    #[test]
    fn more_leak_never_makes_a_sealing_fault_less_likely(
        readings in readings(), more in 1.0..40.0_f64,
    ) {
        let sound = |readings: &[(f64, f64, usize)]| {
            standard(&bench(readings, PressureUnit::Psi)).tight[1]
        };
        let before = sound(&readings);
        let mut worse = readings.clone();
        worse[1].1 = (worse[1].1 + more).min(100.0);
        prop_assert!(sound(&worse) <= before + 1e-12);
    }

    #[test]
    fn units_do_not_matter(readings in readings()) {
        let psi = standard(&bench(&readings, PressureUnit::Psi));
        for unit in PressureUnit::ALL {
            close(&psi, &standard(&bench(&readings, unit)), 1e-9)?;
        }
    }

    /// The same engine numbered from the other end.
    #[test]
    fn renumbering_cylinders_renumbers_findings(readings in readings()) {
        let forward = bench(&readings, PressureUnit::Psi);
        let mut backward: Vec<_> = readings.clone();
        backward.reverse();
        let mut other = bench(&backward, PressureUnit::Psi);
        let order = FiringOrder::new([4, 2, 1, 3]).unwrap();
        other.job.engine = borespoke_core::engine::Engine::new(
            order,
            Some(Layout::new(vec![vec![4, 3, 2, 1]]).unwrap()),
        ).unwrap();
        let (one, two) = (standard(&forward), standard(&other));
        for (here, there) in one.causes.iter().zip(two.causes.iter().rev()) {
            for (a, b) in here.iter().zip(there) {
                prop_assert!((a - b).abs() < 1e-9, "{a} {b}");
            }
        }
        let named = |judgement: borespoke_core::judgement::Judgement, turn: bool| {
            let mut found: Vec<_> = judgement.findings.into_iter().map(|finding| {
                let mut cylinders: Vec<u8> = finding
                    .cylinders
                    .iter()
                    .map(|c| if turn { 5 - c.number() } else { c.number() })
                    .collect();
                cylinders.sort_unstable();
                (finding.cause, cylinders)
            }).collect();
            found.sort();
            found
        };
        prop_assert_eq!(named(forward.judge(), false), named(other.judge(), true));
    }

    #[test]
    fn judging_twice_gives_the_same(number in 0..1000_u64) {
        let (_, bench) = case(number);
        prop_assert_eq!(judge(&bench.job, &bench.log), judge(&bench.job, &bench.log));
    }
}

#[test]
fn an_empty_job_gives_no_finding_for_any_engine() {
    for number in 0..50 {
        let (_, mut bench) = case(number);
        bench.log = borespoke_core::record::Log::new();
        let judgement = bench.judge();
        assert!(judgement.findings.is_empty() && judgement.conflicts.is_empty());
        assert!(judgement.advice.is_empty());
    }
}

/// Only what is in force counts: a withdrawn reading leaves no trace.
#[test]
fn a_withdrawn_reading_leaves_no_trace() {
    use borespoke_core::record::{Act, Entry, EntryId, Origin};
    let clean = Bench::in_line("1-3-4-2").dry(&[150.0, 149.0, 151.0, 150.0]);
    let mut other = clean.clone();
    let wrong = other.crank(2, 15.0, Bore::Dry, Stroke::Final);
    let id = EntryId(uuid::Uuid::from_u128(9_999));
    let act = Act::Withdraw { entry: wrong };
    other
        .log
        .append(Entry { id, at: jiff::Timestamp::UNIX_EPOCH, origin: Origin::Typed, act })
        .unwrap();
    assert_eq!(clean.judge(), other.judge());
}

/// A hedged reading moves belief less than a plain one.
#[test]
fn about_moves_belief_less() {
    use borespoke_core::record::{Cranking, Observation, Stated};
    let with = |about: bool| {
        let mut bench = Bench::in_line("1-3-4-2").dry(&[150.0]);
        let cylinder = bench.cylinder(2);
        let pressure = Stated { value: bench.pressure(128.0), up_to: None, about };
        bench.says(Observation::Cranking(Cranking {
            cylinder,
            pressure,
            bore: Bore::Dry,
            stroke: Stroke::Final,
            tester: None,
        }));
        bench.crank(3, 151.0, Bore::Dry, Stroke::Final);
        bench.crank(4, 149.0, Bore::Dry, Stroke::Final);
        standard(&bench).causes[1].iter().sum::<f64>()
    };
    assert!(with(true) < with(false));
}

/// Numbers at the ends of what a gauge can show give probabilities, not nonsense.
#[test]
fn extreme_readings_give_probabilities() {
    for psi in [0.0, 1.0, 1000.0] {
        for leak in [0.0, 100.0] {
            let bench = Bench::in_line("1-5-3-6-2-4")
                .dry(&[psi, 150.0, psi, 1000.0, 0.0, 20.0])
                .wet(1, 1000.0)
                .leaks(&[leak; 6]);
            for p in standard(&bench).causes.iter().flatten() {
                assert!((0.0..=1.0 + 1e-9).contains(p), "{p}");
            }
            let _ = bench.judge();
        }
    }
}
