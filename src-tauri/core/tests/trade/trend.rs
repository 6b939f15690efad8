//! The same engine over several jobs. All visits are invented.

use borespoke_core::engine::{Engine, FiringOrder};
use borespoke_core::flow::{Air, GaugeError, LeakDownSet, PercentError};
use borespoke_core::job::{Conditions, Job, Warmth};
use borespoke_core::quantity::{
    AbsolutePressure, GaugePressure, LeakPercent, Length, LengthUnit, PressureUnit, StatedPressure,
};
use borespoke_core::record::{Bore, LeakDown, LeakReading, Log, Observation, Stated, Valves};
use borespoke_core::tester::{Tester, TesterKind, ZeroCheck};
use borespoke_core::trend::{
    Change, Comparison, Direction, NotCompared, Outcome, TrendError, Visit, trend,
};
use jiff::Timestamp;
use proptest::prelude::*;

use crate::support::{cranked, dry, engine, leak, log, percent, pressures, psi};
use crate::table::close;

fn gauge(name: &str, marks: Option<f64>) -> Tester {
    let kind = TesterKind::CrankingGauge { resolution: marks.map(psi) };
    Tester { name: name.to_owned(), kind, zero: ZeroCheck::Good }
}

fn leak_set(name: &str, thou: Option<f64>, supply: Option<f64>) -> Tester {
    let restrictor = thou.map(|value| Length::new(value, LengthUnit::Thou));
    let kind = TesterKind::LeakDownSet { restrictor, supply: supply.map(psi) };
    Tester { name: name.to_owned(), kind, zero: ZeroCheck::Good }
}

fn job(engine: Engine, day: i64, testers: Vec<Tester>) -> Job {
    Job {
        begun: Timestamp::from_second(day * 86_400).unwrap(),
        customer: "invented".to_owned(),
        vehicle: "invented".to_owned(),
        question: "invented".to_owned(),
        engine,
        testers,
        conditions: Conditions { warmth: Some(Warmth::Hot), ..Default::default() },
        rule_set: "lowest-75-of-highest".to_owned(),
        makers_figures: borespoke_core::rules::MakersFigures::default(),
        invented: true,
    }
}

/// Two visits to one cylinder, with the second job changed by `change`.
fn two(
    testers: [Vec<Tester>; 2],
    said: [Observation; 2],
    change: impl Fn(&mut Job),
) -> (Vec<Comparison>, Vec<Comparison>) {
    let [first, second] = testers;
    let before = job(engine(1), 1, first);
    let mut after = job(engine(1), 2, second);
    change(&mut after);
    let [one, other] = said.map(|said| log([said]));
    let found = trend(&[Visit { job: &before, log: &one }, Visit { job: &after, log: &other }]);
    let row = found.unwrap().cylinders.remove(0);
    (row.cranking, row.leak_down)
}

fn why(comparisons: &[Comparison]) -> NotCompared {
    match comparisons {
        [Comparison { outcome: Outcome::NotCompared { why }, .. }] => *why,
        other => panic!("compared: {other:?}"),
    }
}

fn compared(comparisons: &[Comparison]) -> (Change, Direction) {
    match comparisons {
        [Comparison { outcome: Outcome::Compared { change, direction }, .. }] => {
            (change.clone(), *direction)
        }
        other => panic!("not compared: {other:?}"),
    }
}

fn same(_: &mut Job) {}

mod cranking {
    use super::*;

    fn dry_twice(values: [f64; 2], change: impl Fn(&mut Job)) -> Vec<Comparison> {
        let engine = engine(1);
        let testers = || vec![gauge("g", Some(5.0))];
        let said = values.map(|value| dry(&engine, 1, psi(value)));
        two([testers(), testers()], said, change).0
    }

    #[test]
    fn a_fall_beyond_the_marks_is_a_fall() {
        let of = |values| compared(&dry_twice(values, same));
        let (change, direction) = of([150.0, 140.0]);
        assert_eq!(direction, Direction::Fell);
        let Change::Cranking { before, after, change, off_by } = change else { panic!() };
        let psi = |pressure: GaugePressure| pressure.in_unit(PressureUnit::Psi);
        close(psi(before), 150.0, 1e-12);
        close(psi(after), 140.0, 1e-12);
        close(psi(change), -10.0, 1e-12);
        // Half a mark of 5 psi on each reading.
        close(psi(off_by), 5.0, 1e-12);
        assert_eq!(of([150.0, 146.0]).1, Direction::WithinError);
        assert_eq!(of([150.0, 156.0]).1, Direction::Rose);
    }

    #[test]
    fn a_range_widens_the_bars() {
        let engine = engine(1);
        let testers = || vec![gauge("g", Some(5.0))];
        let range = Stated { value: psi(138.0), up_to: Some(psi(146.0)), about: false };
        let said = [dry(&engine, 1, psi(150.0)), cranked(&engine, 1, Bore::Dry, range)];
        let (change, direction) = compared(&two([testers(), testers()], said, same).0);
        let Change::Cranking { off_by, .. } = change else { panic!() };
        close(off_by.in_unit(PressureUnit::Psi), 9.0, 1e-12);
        assert_eq!(direction, Direction::WithinError);
    }

    #[test]
    fn a_change_of_just_the_marks_is_within_error() {
        let engine = engine(1);
        let kpa = |value| StatedPressure::new(value, PressureUnit::Kilopascal).unwrap();
        let kind = TesterKind::CrankingGauge { resolution: Some(kpa(10.0)) };
        let tester = Tester { name: "g".to_owned(), kind, zero: ZeroCheck::Good };
        let testers = || vec![tester.clone()];
        for (after, expected) in [
            (990.0, Direction::WithinError),
            (1010.0, Direction::WithinError),
            (989.0, Direction::Fell),
            (1011.0, Direction::Rose),
        ] {
            let said = [kpa(1000.0), kpa(after)].map(|value| dry(&engine, 1, value));
            assert_eq!(compared(&two([testers(), testers()], said, same).0).1, expected, "{after}");
        }
    }

    #[test]
    fn only_like_with_like() {
        let of = |change: fn(&mut Job)| why(&dry_twice([150.0, 140.0], change));
        assert_eq!(of(|job| job.conditions.warmth = None), NotCompared::WarmthUnknown);
        assert_eq!(
            of(|job| job.conditions.warmth = Some(Warmth::Cold)),
            NotCompared::WarmthDiffers
        );
        assert_eq!(of(|job| job.testers = vec![gauge("h", Some(5.0))]), NotCompared::GaugeDiffers);
        assert_eq!(of(|job| job.testers = vec![gauge("g", Some(1.0))]), NotCompared::GaugeDiffers);
        assert_eq!(of(|job| job.testers.clear()), NotCompared::TesterUnknown);
        let zero = |job: &mut Job| {
            job.testers[0].zero = ZeroCheck::Off { note: "3 psi".to_owned() };
        };
        assert_eq!(of(zero), NotCompared::ZeroOff);
    }

    #[test]
    fn another_way_of_cranking_is_not_compared() {
        let engine = engine(1);
        let mut jobs = [1, 2].map(|day| job(engine.clone(), day, vec![gauge("g", None)]));
        let logs = [150.0, 140.0].map(|value| log([dry(&engine, 1, psi(value))]));
        let settings: [fn(&mut Conditions) -> &mut Option<bool>; 3] =
            [|c| &mut c.throttle_open, |c| &mut c.all_plugs_out, |c| &mut c.battery_charged];
        for setting in settings {
            for (one, other, refused) in [
                (Some(true), Some(false), true),
                (Some(true), Some(true), false),
                (None, Some(true), false),
            ] {
                *setting(&mut jobs[0].conditions) = one;
                *setting(&mut jobs[1].conditions) = other;
                let visits = [0, 1].map(|i| Visit { job: &jobs[i], log: &logs[i] });
                let row = trend(&visits).unwrap().cylinders.remove(0);
                let not = matches!(
                    row.cranking[0].outcome,
                    Outcome::NotCompared { why: NotCompared::CrankedDifferently }
                );
                assert_eq!(not, refused);
            }
        }
    }

    /// Source: pressure-ratio rule, standard atmosphere (ISO 2533): 150 psi at sea level is 124.81
    /// psi at 5,000 ft, so that an engine that shows it there has not changed.
    #[test]
    fn a_reading_is_carried_to_the_air_of_the_later() {
        let engine = engine(1);
        let mut low = job(engine.clone(), 1, vec![gauge("g", Some(1.0))]);
        low.conditions.altitude = Some(Length::from_metres(0.0));
        let mut high = job(engine.clone(), 2, vec![gauge("g", Some(1.0))]);
        high.conditions.altitude = Some(Length::from_metres(1524.0));
        let [one, other] = [150.0, 125.0].map(|value| log([dry(&engine, 1, psi(value))]));
        let visits = [Visit { job: &low, log: &one }, Visit { job: &high, log: &other }];
        let row = trend(&visits).unwrap().cylinders.remove(0);
        let (change, direction) = compared(&row.cranking);
        let Change::Cranking { before, off_by, .. } = change else { panic!() };
        close(before.in_unit(PressureUnit::Psi), 124.807, 1e-5);
        // The marks of the earlier reading are carried along.
        close(off_by.in_unit(PressureUnit::Psi), 0.5 * 0.832_048 + 0.5, 1e-6);
        assert_eq!(direction, Direction::WithinError);
        // With a barometer at the second visit that says sea level, the same figures are a fall.
        high.conditions.barometer = Some(AbsolutePressure::STANDARD_ATMOSPHERE);
        let visits = [Visit { job: &low, log: &one }, Visit { job: &high, log: &other }];
        let row = trend(&visits).unwrap().cylinders.remove(0);
        assert_eq!(compared(&row.cranking).1, Direction::Fell);
        // A barometer that shows nothing is none.
        high.conditions.barometer = Some(AbsolutePressure::from_pascals(0.0));
        let visits = [Visit { job: &low, log: &one }, Visit { job: &high, log: &other }];
        let row = trend(&visits).unwrap().cylinders.remove(0);
        assert_eq!(compared(&row.cranking).1, Direction::WithinError);
    }
}

mod leak_down {
    use super::*;

    fn twice(
        testers: [Tester; 2],
        readings: [LeakReading; 2],
        change: impl Fn(&mut Job),
    ) -> Vec<Comparison> {
        let engine = engine(1);
        let said = readings.map(|reading| Observation::LeakDown(leak(&engine, 1, reading)));
        two(testers.map(|tester| vec![tester]), said, change).1
    }

    #[test]
    fn two_testers_are_compared_through_the_area() {
        // 60/80 on 0.040 in is 75.3/80 on 0.060 in: the same leak.
        let forty = leak_set("a", Some(40.0), Some(80.0));
        let sixty = leak_set("b", Some(60.0), Some(80.0));
        let of = |held| {
            let readings = [pressures(80.0, 60.0), pressures(80.0, held)];
            compared(&twice([forty.clone(), sixty.clone()], readings, same))
        };
        let (change, direction) = of(75.3);
        assert_eq!(direction, Direction::WithinError);
        let Change::LeakArea { before, after, least, most } = change else { panic!() };
        close(before.unwrap().square_metres(), after.unwrap().square_metres(), 2e-3);
        assert!(least.unwrap().square_metres() < 0.0 && most.unwrap().square_metres() > 0.0);
        assert_eq!(of(70.0).1, Direction::Rose);
        assert_eq!(of(78.5).1, Direction::Fell);
        // The same pressure held on the larger restrictor is a larger leak.
        assert_eq!(of(60.0).1, Direction::Rose);
    }

    #[test]
    fn the_bars_are_those_of_both_readings() {
        let forty = leak_set("a", Some(40.0), Some(80.0));
        let readings = [percent(10.0), percent(20.0)];
        let (change, _) = compared(&twice([forty.clone(), forty], readings, same));
        let Change::LeakArea { least, most, .. } = change else { panic!() };
        let set = LeakDownSet::new(
            Length::new(40.0, LengthUnit::Thou),
            GaugePressure::new(80.0, PressureUnit::Psi),
        );
        let bars = |value| {
            let loss = LeakPercent::new(value).unwrap();
            let error = PercentError::ASSUMED;
            set.as_ref().unwrap().bars_at_loss(loss, loss, error, Air::STANDARD).unwrap()
        };
        let (was, is) = (bars(10.0), bars(20.0));
        let area = |area: borespoke_core::quantity::Area| area.square_metres();
        close(area(least.unwrap()), area(is.least) - area(was.most.unwrap()), 1e-12);
        close(area(most.unwrap()), area(is.most.unwrap()) - area(was.least), 1e-12);
    }

    #[test]
    fn one_tester_without_its_restrictor_is_compared_by_percent() {
        let unknown = leak_set("a", None, None);
        let of = |readings| compared(&twice([unknown.clone(), unknown.clone()], readings, same));
        let (change, direction) = of([percent(10.0), percent(12.5)]);
        assert_eq!(direction, Direction::Rose);
        let Change::Loss { before, after, change, off_by } = change else { panic!() };
        assert_eq!((before.percent(), after.percent()), (10.0, 12.5));
        close(change, 2.5, 1e-12);
        close(off_by, 1.0, 1e-12);
        let range = |low, high| LeakReading::Percent {
            leak: Stated {
                value: LeakPercent::new(low).unwrap(),
                up_to: Some(LeakPercent::new(high).unwrap()),
                about: false,
            },
        };
        let (wide, _) = of([range(8.0, 12.0), range(14.0, 15.0)]);
        let Change::Loss { change, off_by, .. } = wide else { panic!() };
        close(change, 4.5, 1e-12);
        close(off_by, 2.0 + 0.5 + 1.0, 1e-12);
        assert_eq!(of([percent(10.0), percent(10.9)]).1, Direction::WithinError);
        assert_eq!(of([percent(10.0), percent(8.0)]).1, Direction::Fell);
        let (change, _) = of([pressures(80.0, 60.0), pressures(81.0, 60.0)]);
        assert!(matches!(change, Change::Loss { .. }));
    }

    #[test]
    fn only_like_with_like() {
        let known = leak_set("a", Some(40.0), Some(80.0));
        let unknown = leak_set("b", None, Some(80.0));
        let tens = || [percent(10.0), percent(10.0)];
        let of = |testers: [&Tester; 2], readings, change: fn(&mut Job)| {
            why(&twice(testers.map(Clone::clone), readings, change))
        };
        assert_eq!(of([&known, &unknown], tens(), same), NotCompared::SetDiffers);
        let at_two_supplies = [pressures(80.0, 60.0), pressures(100.0, 75.0)];
        assert_eq!(of([&unknown, &unknown], at_two_supplies, same), NotCompared::SupplyDiffers);
        let once_with_supply = [pressures(80.0, 60.0), percent(25.0)];
        let bare = leak_set("c", None, None);
        assert_eq!(of([&bare, &bare], once_with_supply, same), NotCompared::SupplyDiffers);
        assert_eq!(
            of([&known, &known], tens(), |job| job.conditions.warmth = Some(Warmth::Warm)),
            NotCompared::WarmthDiffers
        );
        assert_eq!(
            of([&known, &known], tens(), |job| job.testers.clear()),
            NotCompared::TesterUnknown
        );
        let zero = |job: &mut Job| {
            job.testers[0].zero = ZeroCheck::Off { note: "2 %".to_owned() };
        };
        assert_eq!(of([&known, &known], tens(), zero), NotCompared::ZeroOff);
        let impossible = [percent(10.0), pressures(80.0, 95.0)];
        assert_eq!(of([&known, &known], impossible, same), NotCompared::ImpossiblePressures);
        assert_eq!(of([&bare, &bare], impossible, same), NotCompared::SupplyDiffers);
        let both_impossible = [pressures(80.0, 95.0), pressures(80.0, 95.0)];
        assert_eq!(of([&bare, &bare], both_impossible, same), NotCompared::ImpossiblePressures);
    }

    #[test]
    fn a_tap_between_is_not_compared() {
        let engine = engine(1);
        let known = || vec![leak_set("a", Some(40.0), Some(80.0))];
        let as_found = leak(&engine, 1, percent(10.0));
        let tapped = LeakDown { valves: Valves::Tapped, ..as_found.clone() };
        let said = [Observation::LeakDown(as_found), Observation::LeakDown(tapped)];
        assert_eq!(why(&two([known(), known()], said, same).1), NotCompared::TappedOnce);
    }

    #[test]
    fn a_leak_past_measuring_only_sets_one_end() {
        let known = leak_set("a", Some(40.0), Some(80.0));
        let readings = [percent(20.0), percent(100.0)];
        let (change, direction) = compared(&twice([known.clone(), known], readings, same));
        let Change::LeakArea { after, most, .. } = change else { panic!() };
        assert!(after.is_none() && most.is_none());
        assert_eq!(direction, Direction::Rose);
    }
}

#[test]
fn three_visits_are_laid_in_order_with_the_whole_way() {
    let engine = engine(1);
    let jobs = [3, 1, 2].map(|day| job(engine.clone(), day, vec![gauge("g", Some(1.0))]));
    let logs = [130.0, 150.0, 140.0].map(|value| log([dry(&engine, 1, psi(value))]));
    let visits = [0, 1, 2].map(|i| Visit { job: &jobs[i], log: &logs[i] });
    let row = trend(&visits).unwrap().cylinders.remove(0);
    let changes: Vec<f64> = row
        .cranking
        .iter()
        .chain(&row.cranking_overall)
        .map(|comparison| {
            let (change, _) = compared(std::slice::from_ref(comparison));
            let Change::Cranking { change, .. } = change else { panic!() };
            change.in_unit(PressureUnit::Psi).round()
        })
        .collect();
    assert_eq!(changes, [-10.0, -10.0, -20.0]);
    assert_eq!(row.cranking[0].from, jobs[1].begun);
    assert_eq!(row.cranking_overall.unwrap().to, jobs[0].begun);
    assert!(row.leak_down.is_empty() && row.leak_down_overall.is_none());
}

#[test]
fn a_visit_without_the_reading_is_passed_over() {
    let engine = engine(1);
    let jobs = [1, 2, 3].map(|day| job(engine.clone(), day, vec![gauge("g", Some(1.0))]));
    let read = |value| log([dry(&engine, 1, psi(value))]);
    let logs = [read(150.0), Log::new(), read(140.0)];
    let visits = [0, 1, 2].map(|i| Visit { job: &jobs[i], log: &logs[i] });
    let row = trend(&visits).unwrap().cylinders.remove(0);
    assert_eq!(compared(&row.cranking).1, Direction::Fell);
    assert_eq!((row.cranking[0].from, row.cranking[0].to), (jobs[0].begun, jobs[2].begun));
    assert!(row.cranking_overall.is_none());
}

#[test]
fn another_engine_is_refused_and_no_visit_gives_nothing() {
    let other = Engine::new(FiringOrder::new([1, 3, 4, 2]).unwrap(), None).unwrap();
    let [one, two] = [job(engine(4), 1, vec![]), job(other, 2, vec![])];
    let log = Log::new();
    let visits = [Visit { job: &one, log: &log }, Visit { job: &two, log: &log }];
    let refusal = trend(&visits).unwrap_err();
    assert!(matches!(refusal, TrendError::AnotherEngine { .. }));
    assert_eq!(
        refusal.to_string(),
        "trend: the job of 1970-01-03T00:00:00Z is on another engine, with firing order 1-3-4-2; \
         allowed is 1-2-3-4"
    );
    assert!(trend(&[]).unwrap().cylinders.is_empty());
}

#[test]
fn a_trend_is_plain_data() {
    let engine = engine(1);
    let jobs = [1, 2].map(|day| job(engine.clone(), day, vec![gauge("g", Some(1.0))]));
    let logs = [150.0, 140.0].map(|value| log([dry(&engine, 1, psi(value))]));
    let visits = [0, 1].map(|i| Visit { job: &jobs[i], log: &logs[i] });
    let json = serde_json::to_value(trend(&visits).unwrap()).unwrap();
    let step = &json["cylinders"][0]["cranking"][0];
    assert_eq!(step["outcome"], "compared");
    assert_eq!(step["of"], "cranking");
    assert_eq!(step["direction"], "fell");
}

proptest! {
    /// The unit a reading was made in changes no direction, and turning the visits round turns the
    /// direction round.
    #[test]
    fn units_and_order(
        values in prop::array::uniform2(50.0..250.0_f64),
        units in prop::array::uniform2(prop::sample::select(&PressureUnit::ALL[..])),
    ) {
        let engine = engine(1);
        let testers = || vec![gauge("g", Some(2.0))];
        prop_assume!(((values[0] - values[1]).abs() - 2.0).abs() > 1e-6);
        let in_psi = values.map(|value| dry(&engine, 1, psi(value)));
        let in_units = [0, 1].map(|i| {
            let value = psi(values[i]).gauge().in_unit(units[i]);
            dry(&engine, 1, StatedPressure::new(value, units[i]).unwrap())
        });
        let turned = [1, 0].map(|i| dry(&engine, 1, psi(values[i])));
        let direction = |said| compared(&two([testers(), testers()], said, same).0).1;
        let forward = direction(in_psi);
        prop_assert_eq!(forward, direction(in_units));
        let expected = match forward {
            Direction::Rose => Direction::Fell,
            Direction::Fell => Direction::Rose,
            Direction::WithinError => Direction::WithinError,
        };
        prop_assert_eq!(direction(turned), expected);
    }
}

#[test]
fn the_assumed_errors_are_one_mark() {
    assert_eq!(GaugeError::ASSUMED.resolution, GaugePressure::new(1.0, PressureUnit::Psi));
    close(PercentError::ASSUMED.resolution.percent(), 1.0, 0.0);
}
