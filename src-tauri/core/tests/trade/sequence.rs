//! The leak-down round: angles, marks and cautions.

use borespoke_core::engine::{Cylinder, FiringOrder};
use borespoke_core::quantity::CrankAngle;
use borespoke_core::sequence::{
    CAUTIONS, Cycle, FiringTiming, MUST_SEE, Moment, TimingError, WHEN_PASSED, cautions,
};
use borespoke_core::source::Source;
use proptest::prelude::*;

use crate::table::close;

fn order(text: &str) -> FiringOrder {
    text.parse().unwrap()
}

fn degrees(values: &[f64]) -> Vec<CrankAngle> {
    values.iter().map(|&value| CrankAngle::from_degrees(value)).collect()
}

fn first(order: &FiringOrder) -> Cylinder {
    order.iter().next().unwrap()
}

/// The numbers of the cylinders that share a mark with the first of the order.
fn sharing(timing: &FiringTiming, cylinder: Cylinder) -> Vec<u8> {
    timing.shares_mark_with(cylinder).iter().map(|other| other.number()).collect()
}

/// Outside check. Source: 720 degrees over the number of cylinders (144 for five in an encyclopaedia
/// table; the rest is arithmetic), by count.
#[test]
fn even_intervals() {
    for (count, interval) in [
        (3, 240.0),
        (4, 180.0),
        (5, 144.0),
        (6, 120.0),
        (7, 102.857),
        (8, 90.0),
        (9, 80.0),
        (10, 72.0),
        (12, 60.0),
        (14, 51.429),
        (18, 40.0),
    ] {
        let order = FiringOrder::new(1..=count).unwrap();
        let timing = FiringTiming::even(&order, Cycle::FourStroke);
        let round = timing.round_from(first(&order));
        assert_eq!(round.len(), count as usize);
        for step in &round[1..] {
            close(step.turn.degrees(), interval, 1e-5);
        }
        let last = round.last().unwrap();
        close(last.from_start.degrees(), 720.0 - 720.0 / f64::from(count), 1e-12);
    }
}

/// Outside check. Sources: FAA Aviation Maintenance Technician Handbook, Powerplant (in-line, opposed
/// and radial engines); US Army OD1001 lesson 1; Goodheart-Willcox, Auto Engine Repair, figure 6-2
/// (V6, V8); an encyclopaedia's table (three, five, V10 and V12 cylinders, and the British four).
/// Every printed order is one, and its turns make two turns of the crank.
#[test]
fn printed_firing_orders() {
    for printed in [
        "1-2-3",
        "1-3-2",
        "1-3-4-2",
        "1-2-4-3",
        "1-3-2-4",
        "1-4-3-2",
        "1-4-2-3",
        "1-2-4-5-3",
        "1-5-3-6-2-4",
        "1-4-5-2-3-6",
        "1-6-5-4-3-2",
        "1-2-3-4-5-6",
        "1-4-2-5-3-6",
        "1-4-3-6-2-5",
        "1-8-4-3-6-5-7-2",
        "1-10-9-4-3-6-5-8-7-2",
        "1-7-5-11-3-9-6-12-2-8-4-10",
        "1-3-5-2-4",
        "1-3-5-7-2-4-6",
        "1-3-5-7-9-2-4-6-8",
        "1-10-5-14-9-4-13-8-3-12-7-2-11-6",
        "1-12-5-16-9-2-13-6-17-10-3-14-7-18-11-4-15-8",
    ] {
        let order = order(printed);
        let timing = FiringTiming::even(&order, Cycle::FourStroke);
        let round = timing.round_from(first(&order));
        let visited: Vec<_> = round.iter().map(|step| step.cylinder).collect();
        assert_eq!(visited, order.iter().collect::<Vec<_>>(), "{printed}");
        let back = timing.turn(*visited.last().unwrap(), visited[0]).unwrap();
        close(round.last().unwrap().from_start.degrees() + back.degrees(), 720.0, 1e-12);
    }
}

/// Outside check. Source: in a 1-5-3-6-2-4 engine pistons 1 and 6, 5 and 2, 3 and 4 move together
/// (FAA Aviation Maintenance Technician Handbook, Powerplant; it follows from the order).
#[test]
fn pistons_that_move_together_share_a_mark() {
    let six = order("1-5-3-6-2-4");
    let timing = FiringTiming::even(&six, Cycle::FourStroke);
    let pairs: Vec<_> = six.iter().map(|c| (c.number(), sharing(&timing, c))).collect();
    let expected = [(1, 6), (5, 2), (3, 4), (6, 1), (2, 5), (4, 3)].map(|(a, b)| (a, vec![b]));
    assert_eq!(pairs, expected);
    // An odd number of evenly firing cylinders shares none.
    let five = order("1-2-4-5-3");
    let timing = FiringTiming::even(&five, Cycle::FourStroke);
    assert!(five.iter().all(|c| timing.shares_mark_with(c).is_empty()));
}

#[test]
fn a_two_stroke_fires_at_each_turn() {
    let three = order("1-3-2");
    let timing = FiringTiming::even(&three, Cycle::TwoStroke);
    let round = timing.round_from(first(&three));
    close(round[1].turn.degrees(), 120.0, 1e-12);
    // Its mark comes up once per cycle, so no other piston is meant by it.
    assert!(round.iter().all(|step| step.shares_mark_with.is_empty()));
    // But two that fire together share it.
    let pair = order("1-2");
    let together = FiringTiming::uneven(&pair, Cycle::TwoStroke, &degrees(&[0.0, 360.0])).unwrap();
    assert_eq!(sharing(&together, first(&pair)), [2]);
}

#[test]
fn an_uneven_engine_turns_by_its_own_angles() {
    let twin = order("1-2");
    let timing = FiringTiming::uneven(&twin, Cycle::FourStroke, &degrees(&[270.0, 450.0])).unwrap();
    let round = timing.round_from(first(&twin));
    close(round[1].turn.degrees(), 270.0, 1e-12);
    let second = round[1].cylinder;
    close(timing.turn(second, first(&twin)).unwrap().degrees(), 450.0, 1e-12);
    assert!(timing.shares_mark_with(second).is_empty());
    // A parallel twin with both pistons up together.
    let parallel =
        FiringTiming::uneven(&twin, Cycle::FourStroke, &degrees(&[360.0, 360.0])).unwrap();
    assert_eq!(sharing(&parallel, first(&twin)), [2]);
    // An odd-fire V6 of 90 degrees: 150 and 90 by turns. Pistons meet the mark in pairs three
    // firings apart only where 360 degrees lie between.
    let v6 = order("1-6-5-4-3-2");
    let angles = degrees(&[150.0, 90.0, 150.0, 90.0, 150.0, 90.0]);
    let odd = FiringTiming::uneven(&v6, Cycle::FourStroke, &angles).unwrap();
    assert!(v6.iter().all(|c| odd.shares_mark_with(c).is_empty()));
    close(odd.round_from(first(&v6))[2].from_start.degrees(), 240.0, 1e-12);
}

/// A turn of a whole round is none: a difference too small for the digits must not make one.
#[test]
fn a_turn_is_less_than_a_round() {
    let twin = order("1-2");
    let angles = degrees(&[1e-20, 720.0]);
    let timing = FiringTiming::uneven(&twin, Cycle::FourStroke, &angles).unwrap();
    let second = timing.round_from(first(&twin))[1].cylinder;
    assert!(timing.turn(second, first(&twin)).unwrap().degrees() < 1.0);
}

#[test]
fn angles_that_make_no_round_are_refused_by_name() {
    let twin = order("1-2");
    let of = |angles: &[f64]| {
        FiringTiming::uneven(&twin, Cycle::FourStroke, &degrees(angles)).unwrap_err()
    };
    assert_eq!(of(&[720.0]), TimingError::Count { given: 1, cylinders: 2 });
    assert_eq!(of(&[-90.0, 810.0]), TimingError::Backwards { given: -90.0 });
    assert!(matches!(of(&[f64::NAN, 360.0]), TimingError::Backwards { .. }));
    let refusal = of(&[270.0, 270.0]).to_string();
    assert_eq!(refusal, "firing intervals: together 540 degrees, allowed is 720 for a full round");
}

#[test]
fn a_cylinder_of_another_engine_has_no_round() {
    let twin = FiringTiming::even(&order("1-2"), Cycle::FourStroke);
    let six = order("1-5-3-6-2-4").iter().find(|c| c.number() == 6).unwrap();
    let one = first(&order("1-2"));
    assert!(twin.round_from(six).is_empty());
    assert!(twin.shares_mark_with(six).is_empty());
    assert_eq!(twin.turn(one, six), None);
    assert_eq!(twin.turn(six, one), None);
}

/// Design invariant: cautions stand where the hazard is.
#[test]
fn a_caution_stands_before_each_hazard() {
    for moment in [
        Moment::BeforeIgnition,
        Moment::BeforeCranking,
        Moment::BeforeTurning,
        Moment::BeforeAir,
        Moment::WhileAirIsOn,
        Moment::BeforeTapping,
    ] {
        assert!(cautions(moment).count() > 0, "{moment:?}");
    }
    let before_air: Vec<_> = cautions(Moment::BeforeAir).map(|caution| caution.says).collect();
    assert!(before_air.iter().any(|says| says.contains("hold or lock the crank")));
    assert!(before_air.iter().any(|says| says.contains("open the air slowly")));
    assert!(MUST_SEE.iter().any(|see| see.says.contains("Both valves closed")));
    assert!(MUST_SEE.iter().any(|see| see.says.contains("Lash on both valves")));
    assert!(WHEN_PASSED.says.contains("half a turn"));
    for caution in CAUTIONS {
        assert!(!caution.says.contains("  "), "{}", caution.says);
        if let Source::Published { document, place } = caution.source {
            assert!(!document.is_empty() && !place.is_empty());
        }
    }
}

proptest! {
    /// From any cylinder the round visits each once and comes back after the full round.
    #[test]
    fn the_round_visits_each_once(
        count in 1_u32..=18,
        start in 0_usize..18,
        shares in prop::collection::vec(0.0..1.0_f64, 18),
    ) {
        let order = FiringOrder::new(1..=count).unwrap();
        let shares = &shares[..count as usize];
        let sum: f64 = shares.iter().sum();
        prop_assume!(sum > 0.1);
        let angles: Vec<f64> = shares.iter().map(|share| share / sum * 720.0).collect();
        let timing = FiringTiming::uneven(&order, Cycle::FourStroke, &degrees(&angles)).unwrap();
        let from = order.iter().nth(start % count as usize).unwrap();
        let round = timing.round_from(from);
        let mut visited: Vec<_> = round.iter().map(|step| step.cylinder).collect();
        prop_assert_eq!(visited[0], from);
        prop_assert!(round.iter().all(|step| (0.0..720.0).contains(&step.turn.degrees())));
        visited.sort_unstable();
        visited.dedup();
        prop_assert_eq!(visited.len(), count as usize);
        prop_assert!(round.last().unwrap().from_start.degrees() < 720.0 + 1e-9);
    }

    /// A shared mark is shared both ways.
    #[test]
    fn a_mark_is_shared_both_ways(count in 1_u32..=18) {
        let order = FiringOrder::new(1..=count).unwrap();
        let timing = FiringTiming::even(&order, Cycle::FourStroke);
        for cylinder in order.iter() {
            for other in timing.shares_mark_with(cylinder) {
                prop_assert!(timing.shares_mark_with(other).contains(&cylinder));
                let apart = timing.turn(cylinder, other).unwrap().degrees();
                prop_assert!((apart - 360.0).abs() < 1e-9);
            }
        }
        prop_assert_eq!(
            order.iter().all(|c| timing.shares_mark_with(c).len() == 1), count % 2 == 0
        );
    }
}
