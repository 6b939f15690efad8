//! The leak-down tester's physics against reference libraries and tables, and what must hold for any
//! tester.

use crate::table::{close, rounds_to, rows};
use borespoke_core::flow::{
    Air, CRITICAL_PRESSURE_RATIO, FlowError, GaugeError, LeakDownSet, PercentError, mass_flow,
};
use borespoke_core::quantity::{
    AbsolutePressure, Area, GaugePressure, LeakPercent, Length, LengthUnit, MassFlow, PressureUnit,
    Share, StatedPressure, Temperature,
};
use borespoke_core::tester::{Tester, TesterKind, ZeroCheck};
use proptest::prelude::*;

const PSI: f64 = 6_894.757_293_168_361;

fn psi(value: f64) -> GaugePressure {
    GaugePressure::new(value, PressureUnit::Psi)
}

fn thou(value: f64) -> Length {
    Length::new(value, LengthUnit::Thou)
}

fn set(restrictor_thou: f64, supply_psi: f64) -> LeakDownSet {
    LeakDownSet::new(thou(restrictor_thou), psi(supply_psi)).unwrap()
}

fn percent(value: f64) -> LeakPercent {
    LeakPercent::new(value).unwrap()
}

fn square_metres(value: f64) -> Area {
    Area::from_square_metres(value)
}

/// Flow through 0.040 in from 80 psi to `held` psi, standard air at 20 °C.
fn through_forty(held: f64) -> f64 {
    let up = psi(80.0).above(AbsolutePressure::STANDARD_ATMOSPHERE);
    let down = psi(held).above(AbsolutePressure::STANDARD_ATMOSPHERE);
    mass_flow(Area::of_circle(thou(40.0)), up, down, Air::STANDARD).kilograms_per_second()
}

mod nozzle {
    use super::*;

    /// Outside check. Source: fluids 1.3.1, `P_critical_flow(1.0, 1.4)`, and
    /// `T_critical_flow(293.15, 1.4)` through the isentropic relation.
    #[test]
    fn the_critical_ratio() {
        close(CRITICAL_PRESSURE_RATIO, 0.528_281_787_717_174_2, 1e-15);
        let throat = 293.15 * CRITICAL_PRESSURE_RATIO.powf(0.4 / 1.4);
        close(throat, 244.291_666_666_666_66, 1e-9);
    }

    /// Outside check. Source: fluids 1.3.1, `nozzle_expansibility(D=1.0, Do=1e-6, P1=652905.583,
    /// P2, k=1.4)`: the flow over that of an incompressible fluid.
    #[test]
    fn the_expansibility_of_a_nozzle() {
        let upstream: f64 = 652_905.583;
        for (downstream, expansibility) in [
            (597_747.525, 0.953_674_021),
            (515_010.438, 0.879_701_994),
            (646_010.826, 0.994_326_712),
            (404_694.321, 0.770_588_764),
        ] {
            let flow = mass_flow(
                square_metres(1.0),
                AbsolutePressure::from_pascals(upstream),
                AbsolutePressure::from_pascals(downstream),
                Air::STANDARD,
            );
            let density = upstream / (287.052_87 * 293.15);
            let incompressible = (2.0 * density * (upstream - downstream)).sqrt();
            // The pressures are given to a millipascal, which is 1e-9 of their difference.
            close(flow.kilograms_per_second() / incompressible, expansibility, 2e-9);
        }
    }

    /// Outside check. Source: fluids 1.3.1, expansibility x area x root(2 density drop), 0.040 in.
    #[test]
    fn the_flow_through_forty_thou() {
        for (held, flow) in [
            (79.0, 2.636_818_205e-4),
            (72.0, 7.153_128_510e-4),
            (60.0, 1.043_281_860e-3),
            (44.0, 1.226_097_494e-3),
        ] {
            close(through_forty(held), flow, 1e-9);
        }
        close(Area::of_circle(thou(40.0)).square_metres(), 8.107_319_666e-7, 1e-9);
    }

    /// Outside check. Source: de Saint-Venant and Wantzel's choked form, computed in Python; and
    /// `CoolProp` 8.0.0 for real air, the largest isentropic mass flux, 0.29 % above the ideal.
    #[test]
    fn the_choked_flow() {
        close(through_forty(0.0), 1.249_459_155e-3, 1e-9);
        close(through_forty(0.0), 1.253_082_038e-3, 5e-3);
    }

    /// Outside check. Source: ISO 6358, the ellipse with the critical ratio 0.52828, set against the
    /// flow here: the ellipse is low by these shares, in percent (computed in Python).
    #[test]
    fn the_ellipse_of_iso_6358() {
        let flow = |ratio: f64| {
            let one = AbsolutePressure::from_pascals(1e5);
            let down = AbsolutePressure::from_pascals(1e5 * ratio);
            mass_flow(square_metres(1.0), one, down, Air::STANDARD).kilograms_per_second()
        };
        let choked = flow(0.1);
        for (ratio, off) in [
            (0.55, -0.002),
            (0.70, -0.089),
            (0.80, -0.167),
            (0.90, -0.241),
            (0.95, -0.274),
            (0.99, -0.298),
        ] {
            let b: f64 = 0.528_28;
            let ellipse = (1.0 - ((ratio - b) / (1.0 - b)).powi(2)).sqrt();
            rounds_to((ellipse * choked / flow(ratio) - 1.0) * 100.0, off, 1e-3);
        }
    }

    /// Outside check. Source: ISO 6358: the sonic conductance C of an ideal nozzle, m3/(s Pa), for
    /// choked flow = upstream x C x 1.185 kg/m3 x root(293.15 K / temperature) (computed in Python).
    #[test]
    fn the_sonic_conductance() {
        let up = AbsolutePressure::from_pascals(8e5);
        let down = AbsolutePressure::STANDARD_ATMOSPHERE;
        for (diameter, conductance) in [(40.0, 1.614_929e-9), (60.0, 3.633_589e-9)] {
            let flow = mass_flow(Area::of_circle(thou(diameter)), up, down, Air::STANDARD);
            close(flow.kilograms_per_second() / (8e5 * 1.185), conductance, 5e-7);
        }
    }

    /// Outside check. Source: `CoolProp` 8.0.0, `CPMASS`/`CVMASS` of air at 293.15 K and 101325 Pa is
    /// 1.40197; an ideal gas of that gamma chokes at a ratio 0.09 % from the one used here.
    #[test]
    fn the_ratio_of_specific_heats_is_that_of_air() {
        let real: f64 = 1.401_967_894_629_562;
        let chokes = (2.0 / (real + 1.0)).powf(real / (real - 1.0));
        close(CRITICAL_PRESSURE_RATIO, chokes, 1e-3);
    }
}

mod leak {
    use super::*;

    /// Outside check. Source: the head of the file.
    #[test]
    fn the_table_at_80_psi() {
        let (forty, sixty) = (set(40.0, 80.0), set(60.0, 80.0));
        let inches = |length: Length| length.metres() / 0.0254;
        let table = rows(include_str!("data/leak-down-80-psi.tsv"));
        assert_eq!(table.len(), 24);
        for row in table {
            let [held, loss, ratio, across_40, across_60, flow, litres] = row[..] else { panic!() };
            let leak = forty.leak_at_held(psi(held), Air::STANDARD).unwrap();
            rounds_to(leak.ratio, ratio, 1e-6);
            rounds_to(inches(leak.diameter), across_40, 1e-5);
            close(leak.flow.kilograms_per_second(), flow, 5e-7);
            rounds_to(leak.flow.free_air_litres_per_minute(), litres, 1e-3);
            let on_sixty = sixty.leak_at_held(psi(held), Air::STANDARD).unwrap();
            rounds_to(inches(on_sixty.diameter), across_60, 1e-5);
            // A percentage is the same reading.
            let by_loss = forty.leak_at_loss(percent(loss), Air::STANDARD).unwrap();
            close(by_loss.ratio, leak.ratio, 1e-12);
            // And back.
            let shown = forty.reading(leak.area, Air::STANDARD).unwrap();
            close(shown.held.in_unit(PressureUnit::Psi), held, 1e-9);
            close(shown.loss.percent(), loss, 1e-9);
            assert_eq!(leak.leak_choked, held > 13.1224, "{held}");
            assert_eq!(leak.restrictor_choked, held < 35.3302, "{held}");
        }
    }

    /// Outside check. Source: the head of the file.
    #[test]
    fn the_inverse_at_80_psi() {
        let forty = set(40.0, 80.0);
        for row in rows(include_str!("data/leak-down-80-psi-inverse.tsv")) {
            let area = square_metres(row[0] * forty.area().square_metres());
            let shown = forty.reading(area, Air::STANDARD).unwrap();
            rounds_to(shown.held.in_unit(PressureUnit::Psi), row[1], 1e-5);
        }
    }

    /// Outside check. Source: the head of the file.
    #[test]
    fn the_table_at_100_psi() {
        let table = rows(include_str!("data/leak-down-100-psi.tsv"));
        assert_eq!(table.len(), 8);
        for row in table {
            let leak = set(40.0, 100.0).leak_at_held(psi(row[0]), Air::STANDARD).unwrap();
            rounds_to(leak.ratio, row[1], 1e-6);
        }
    }

    /// Outside check. Source: computed in Python with scipy 1.17.1: where each restrictor begins to
    /// choke at 80 psi, and the closed form when both do.
    #[test]
    fn where_each_restrictor_chokes() {
        let forty = set(40.0, 80.0);
        let at = |held| forty.leak_at_held(psi(held), Air::STANDARD).unwrap();
        assert!(!at(13.122).leak_choked && at(13.123).leak_choked);
        assert!(at(35.330).restrictor_choked && !at(35.331).restrictor_choked);
        let supply = psi(80.0).above(AbsolutePressure::STANDARD_ATMOSPHERE).pascals();
        for held in [14.0, 20.0, 30.0, 35.0] {
            let between = psi(held).above(AbsolutePressure::STANDARD_ATMOSPHERE).pascals();
            close(at(held).ratio, supply / between, 1e-12);
        }
        rounds_to(at(35.3302).ratio, 1.892_93, 1e-5);
    }

    /// Outside check. Source: computed in Python with scipy 1.17.1: the limit of 60/80 in FAA AC
    /// 43.13-1B read through 0.040 in and through 0.060 in, and a leak the size of 0.040 in.
    #[test]
    fn one_leak_on_two_testers() {
        let (forty, sixty) = (set(40.0, 80.0), set(60.0, 80.0));
        let air = Air::STANDARD;
        let shown = sixty.equivalent_of(&forty, percent(25.0), air).unwrap();
        rounds_to(shown.held.in_unit(PressureUnit::Psi), 75.312, 1e-3);
        let back = forty.equivalent_of(&sixty, shown.loss, air).unwrap();
        close(back.held.in_unit(PressureUnit::Psi), 60.0, 1e-9);
        let forty_hole = sixty.reading(forty.area(), air).unwrap();
        rounds_to(forty_hole.held.in_unit(PressureUnit::Psi), 75.796, 1e-3);
        let same_size = forty.reading(forty.area(), air).unwrap();
        rounds_to(same_size.held.in_unit(PressureUnit::Psi), 61.77, 1e-2);
    }

    /// Outside check. Source: computed in Python with scipy 1.17.1: a leak the size of the restrictor
    /// at four pressures of the air around.
    #[test]
    fn altitude_barely_matters() {
        let forty = set(40.0, 80.0);
        for (ambient, held) in
            [(101_325.0, 61.767), (94_212.0, 61.966), (84_307.0, 62.242), (69_682.0, 62.651)]
        {
            let around = AbsolutePressure::from_pascals(ambient);
            let air = Air::new(around, Temperature::TWENTY_CELSIUS).unwrap();
            let shown = forty.reading(forty.area(), air).unwrap();
            rounds_to(shown.held.in_unit(PressureUnit::Psi), held, 1e-3);
        }
    }

    #[test]
    fn the_ends_are_an_area_of_nothing_and_a_clear_refusal() {
        let forty = set(40.0, 80.0);
        let tight = forty.leak_at_loss(percent(0.0), Air::STANDARD).unwrap();
        assert!(tight.ratio.abs() < 1e-300 && tight.flow.kilograms_per_second().abs() < 1e-300);
        let shown = forty.reading(square_metres(0.0), Air::STANDARD).unwrap();
        assert_eq!((shown.held, shown.loss), (psi(80.0), percent(0.0)));
        for refused in [
            forty.leak_at_loss(percent(100.0), Air::STANDARD),
            forty.leak_at_held(psi(0.0), Air::STANDARD),
            forty.leak_at_held(psi(-1.0), Air::STANDARD),
        ] {
            assert_eq!(refused, Err(FlowError::NothingHeld));
        }
        let above = forty.leak_at_held(psi(81.0), Air::STANDARD).unwrap_err().to_string();
        let words =
            "leak-down: 81.0 psi held of 80.0 psi supply; allowed is no more than the supply";
        assert_eq!(above, words);
        let not_a_number = GaugePressure::from_pascals(f64::NAN);
        assert!(forty.leak_at_held(not_a_number, Air::STANDARD).is_err());
        for area in [-1.0, f64::NAN, f64::INFINITY] {
            assert!(forty.reading(square_metres(area), Air::STANDARD).is_err());
        }
        // A hole larger than any: all is lost, and it is said as a number.
        let gone = forty.reading(square_metres(1e12), Air::STANDARD).unwrap();
        assert!(gone.loss.percent() > 99.999);
    }

    #[test]
    fn a_set_that_cannot_be_is_refused_by_name() {
        let supply = psi(80.0);
        let refusal = LeakDownSet::new(Length::from_metres(1.0), supply).unwrap_err().to_string();
        assert_eq!(refusal, "restrictor diameter: given 1000 mm, allowed 0.1 to 10 mm");
        assert!(LeakDownSet::new(thou(40.0), psi(0.0)).is_err());
        let thin = AbsolutePressure::from_pascals(101.325);
        let refusal = Air::new(thin, Temperature::TWENTY_CELSIUS).unwrap_err().to_string();
        let words = "pressure of the air around: given 0.1013 kPa, allowed 40 to 120 kPa";
        assert_eq!(refusal, words);
    }

    #[test]
    fn a_tester_of_the_job_says_what_it_lacks() {
        let tester = |kind| Tester { name: "red".to_owned(), kind, zero: ZeroCheck::Good };
        let stated = |value| StatedPressure::new(value, PressureUnit::Psi).unwrap();
        let kind = |restrictor, supply| TesterKind::LeakDownSet { restrictor, supply };
        let known = tester(kind(Some(thou(40.0)), Some(stated(80.0))));
        assert_eq!(LeakDownSet::of(&known, None), Ok(set(40.0, 80.0)));
        // What was read with the reading counts before what the tester is set to.
        assert_eq!(LeakDownSet::of(&known, Some(psi(78.0))), Ok(set(40.0, 78.0)));
        let no_hole = tester(kind(None, Some(stated(80.0))));
        let refusal = LeakDownSet::of(&no_hole, None).unwrap_err();
        assert_eq!(refusal, FlowError::RestrictorUnknown("red".to_owned()));
        let no_supply = tester(kind(Some(thou(40.0)), None));
        let refusal = LeakDownSet::of(&no_supply, None).unwrap_err();
        assert_eq!(refusal, FlowError::SupplyUnknown("red".to_owned()));
        let gauge = tester(TesterKind::CrankingGauge { resolution: None });
        let refusal = LeakDownSet::of(&gauge, Some(psi(80.0))).unwrap_err();
        assert_eq!(refusal, FlowError::NotALeakDownSet("red".to_owned()));
    }
}

mod error_bars {
    use super::*;

    #[test]
    fn a_percentage_has_the_bars_of_its_ends() {
        let forty = set(40.0, 80.0);
        let area = |value: f64| forty.leak_at_loss(percent(value), Air::STANDARD).unwrap().area;
        let error = PercentError {
            resolution: Share::from_percent(2.0).unwrap(),
            zero: Share::from_percent(0.5).unwrap(),
        };
        let bars = forty.bars_at_loss(percent(20.0), percent(20.0), error, Air::STANDARD).unwrap();
        assert_eq!((bars.least, bars.most), (area(18.5), Some(area(21.5))));
        assert_eq!(bars.as_read.unwrap().area, area(20.0));
        // A range widens them, said either way round.
        let range = forty.bars_at_loss(percent(24.0), percent(20.0), error, Air::STANDARD).unwrap();
        assert_eq!((range.least, range.most), (area(18.5), Some(area(25.5))));
    }

    #[test]
    fn the_bars_stop_at_nothing_and_open_at_all() {
        let forty = set(40.0, 80.0);
        let error = PercentError::ASSUMED;
        let low = forty.bars_at_loss(percent(0.2), percent(0.2), error, Air::STANDARD).unwrap();
        assert_eq!(low.least, square_metres(0.0));
        let high = forty.bars_at_loss(percent(99.8), percent(99.8), error, Air::STANDARD).unwrap();
        assert_eq!(high.most, None);
        assert!(high.as_read.is_some());
        let all = forty.bars_at_loss(percent(100.0), percent(100.0), error, Air::STANDARD).unwrap();
        assert!(all.as_read.is_none() && all.most.is_none());
        assert!(all.least > high.least);
    }

    #[test]
    fn two_gauges_have_the_bars_of_their_worst_pair() {
        let forty = set(40.0, 80.0);
        let error = GaugeError { resolution: psi(2.0), zero: psi(0.5) };
        let bars = forty.bars_at_held(psi(60.0), error, error, Air::STANDARD).unwrap();
        let area = |supply: f64, held: f64| {
            set(40.0, supply).leak_at_held(psi(held), Air::STANDARD).unwrap().area.square_metres()
        };
        close(bars.least.square_metres(), area(78.5, 61.5), 1e-12);
        close(bars.most.unwrap().square_metres(), area(81.5, 58.5), 1e-12);
    }

    #[test]
    fn a_hair_above_the_supply_is_a_tight_cylinder() {
        let forty = set(40.0, 80.0);
        let error = GaugeError::ASSUMED;
        let bars = forty.bars_at_held(psi(80.5), error, error, Air::STANDARD).unwrap();
        assert_eq!(bars.least, square_metres(0.0));
        assert_eq!(bars.as_read.unwrap().area, square_metres(0.0));
        assert!(bars.most.unwrap() > square_metres(0.0));
        let far = forty.bars_at_held(psi(82.0), error, error, Air::STANDARD);
        assert!(matches!(far, Err(FlowError::HeldAboveSupply { .. })));
    }

    #[test]
    fn nothing_held_still_has_a_least_area() {
        let forty = set(40.0, 80.0);
        let bars =
            forty.bars_at_held(psi(0.0), GaugeError::ASSUMED, GaugeError::ASSUMED, Air::STANDARD);
        let bars = bars.unwrap();
        assert!(bars.as_read.is_none() && bars.most.is_none());
        assert!(bars.least > square_metres(0.0));
        let sure = GaugeError { resolution: psi(0.0), zero: psi(0.0) };
        let refused = forty.bars_at_held(psi(0.0), sure, sure, Air::STANDARD);
        assert_eq!(refused, Err(FlowError::NothingHeld));
    }
}

fn any_set() -> impl Strategy<Value = LeakDownSet> {
    (10.0..120.0_f64, 5.0..150.0_f64).prop_map(|(diameter, supply)| set(diameter, supply))
}

fn any_air() -> impl Strategy<Value = Air> {
    (60e3..105e3_f64, -20.0..45.0_f64).prop_map(|(ambient, celsius)| {
        let around = AbsolutePressure::from_pascals(ambient);
        Air::new(around, Temperature::from_celsius(celsius).unwrap()).unwrap()
    })
}

proptest! {
    /// A reading gives an area that gives the reading.
    #[test]
    fn round_trip_from_a_reading(set in any_set(), air in any_air(), loss in 1e-6..99.9999_f64) {
        let leak = set.leak_at_loss(percent(loss), air).unwrap();
        let shown = set.reading(leak.area, air).unwrap();
        prop_assert!((shown.loss.percent() / loss - 1.0).abs() < 1e-9, "{:?}", shown);
    }

    /// An area gives a reading that gives the area, as far as the digits of a percentage reach.
    #[test]
    fn round_trip_from_an_area(set in any_set(), air in any_air(), log_ratio in -3.0..2.0_f64) {
        let area = square_metres(set.area().square_metres() * 10_f64.powf(log_ratio));
        let shown = set.reading(area, air).unwrap();
        let leak = set.leak_at_loss(shown.loss, air).unwrap();
        prop_assert!((leak.area.square_metres() / area.square_metres() - 1.0).abs() < 1e-6);
        let by_held = set.leak_at_held(shown.held, air).unwrap();
        prop_assert!((by_held.area.square_metres() / area.square_metres() - 1.0).abs() < 1e-6);
    }

    /// More loss is a larger leak.
    #[test]
    fn more_loss_is_more_leak(
        set in any_set(), air in any_air(), low in 0.0..99.0_f64, more in 0.001..1.0_f64,
    ) {
        let high = low + more * (99.99 - low);
        let small = set.leak_at_loss(percent(low), air).unwrap();
        let large = set.leak_at_loss(percent(high), air).unwrap();
        prop_assert!(small.area < large.area);
        // And more air passes, up to the speed of sound in the restrictor.
        prop_assert!(small.flow <= large.flow);
    }

    /// A larger restrictor shows a smaller loss of the same leak.
    #[test]
    fn a_larger_restrictor_shows_less(
        air in any_air(), supply in 10.0..150.0_f64, leak in 5.0..80.0_f64,
        small in 10.0..100.0_f64, more in 1.01..2.0_f64,
    ) {
        let leak = Area::of_circle(thou(leak));
        let of = |diameter| set(diameter, supply).reading(leak, air).unwrap().loss;
        prop_assert!(of(small * more) < of(small));
    }

    /// What goes in through the restrictor goes out through the leak.
    #[test]
    fn what_goes_in_goes_out(set in any_set(), air in any_air(), loss in 0.01..99.99_f64) {
        let leak = set.leak_at_loss(percent(loss), air).unwrap();
        let held = GaugePressure::from_pascals(set.supply().pascals() * (1.0 - loss / 100.0));
        let out = mass_flow(leak.area, held.above(air.ambient()), air.ambient(), air);
        let ratio = out.kilograms_per_second() / leak.flow.kilograms_per_second();
        prop_assert!((ratio - 1.0).abs() < 1e-9);
    }

    /// The temperature changes the flow, never the area.
    #[test]
    fn the_temperature_cancels(set in any_set(), loss in 0.1..99.0_f64, celsius in -20.0..45.0_f64) {
        let standard = AbsolutePressure::STANDARD_ATMOSPHERE;
        let air = Air::new(standard, Temperature::from_celsius(celsius).unwrap()).unwrap();
        let one = set.leak_at_loss(percent(loss), air).unwrap();
        let other = set.leak_at_loss(percent(loss), Air::STANDARD).unwrap();
        prop_assert_eq!(one.area, other.area);
    }

    /// The unit a pressure was read in does not matter.
    #[test]
    fn units_do_not_matter(
        held in 1.0..79.0_f64, unit in prop::sample::select(&PressureUnit::ALL[..]),
    ) {
        let inch = LeakDownSet::new(thou(40.0), psi(80.0)).unwrap();
        let supply = GaugePressure::new(80.0 * PSI / unit.pascals(), unit);
        let millimetre = Length::new(1.016, LengthUnit::Millimetre);
        let metric = LeakDownSet::new(millimetre, supply).unwrap();
        let read = GaugePressure::new(held * PSI / unit.pascals(), unit);
        let one = inch.leak_at_held(psi(held), Air::STANDARD).unwrap().area.square_metres();
        let other = metric.leak_at_held(read, Air::STANDARD).unwrap().area.square_metres();
        prop_assert!((one / other - 1.0).abs() < 1e-9);
    }

    /// Nothing a tester can be given makes it fail in another way than by a refusal.
    #[test]
    fn never_a_panic(
        restrictor in prop::num::f64::ANY, supply in prop::num::f64::ANY,
        held in prop::num::f64::ANY, area in prop::num::f64::ANY, ambient in prop::num::f64::ANY,
    ) {
        let air = Air::new(AbsolutePressure::from_pascals(ambient), Temperature::TWENTY_CELSIUS);
        let air = air.unwrap_or_default();
        let given = GaugePressure::from_pascals(supply);
        let set = LeakDownSet::new(Length::from_metres(restrictor), given)
            .unwrap_or_else(|_| set(40.0, 80.0));
        let held = GaugePressure::from_pascals(held);
        if let Ok(leak) = set.leak_at_held(held, air) {
            prop_assert!(leak.ratio.is_finite() && leak.ratio >= 0.0);
        }
        if let Ok(shown) = set.reading(square_metres(area), air) {
            prop_assert!((0.0..=100.0).contains(&shown.loss.percent()));
        }
        let error = GaugeError { resolution: held, zero: given };
        if let Ok(bars) = set.bars_at_held(held, error, error, air) {
            prop_assert!(bars.most.is_none_or(|most| most >= bars.least));
        }
    }

    /// The error bars hold the reading between them.
    #[test]
    fn the_bars_hold_the_reading(
        set in any_set(), air in any_air(), loss in 0.0..100.0_f64, marks in 0.0..5.0_f64,
    ) {
        let error =
            PercentError { resolution: Share::from_percent(marks).unwrap(), ..PercentError::ASSUMED };
        let Ok(bars) = set.bars_at_loss(percent(loss), percent(loss), error, air) else {
            return Ok(());
        };
        let Some(read) = bars.as_read else { return Ok(()) };
        prop_assert!(bars.least <= read.area);
        prop_assert!(bars.most.is_none_or(|most| most >= read.area));
    }
}

#[test]
fn a_flow_says_itself_as_a_compressor_is_rated() {
    let flow = MassFlow::from_kilograms_per_second(1.043_282e-3);
    assert_eq!(flow.to_string(), "53 l/min of free air");
}
