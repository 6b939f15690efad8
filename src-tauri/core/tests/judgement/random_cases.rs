//! Random jobs, each with a small random model, for the checks against other ways of computing the
//! same posterior. Seeded: the same number gives the same case everywhere.

use borespoke_core::engine::{Fuel, Layout};
use borespoke_core::job::Warmth;
use borespoke_core::judgement::{LevelGrid, Model};
use borespoke_core::quantity::{LeakPercent, PressureUnit, StatedPressure};
use borespoke_core::record::{
    AirExit, Bore, Cranking, Lab, LeakDown, LeakReading, Listening, Look, Observation, PlugFigures,
    PlugSign, Stated, Stroke, Valves,
};
use borespoke_core::tester::{Tester, TesterKind, ZeroCheck};

use crate::support::Bench;

/// `SplitMix64` (Steele, Lea and Flood 2014): small, and the same on every machine.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 to below 1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    pub fn chance(&mut self, p: f64) -> bool {
        self.unit() < p
    }

    pub fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.bits() % count as u64).expect("a small number")
    }

    pub fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }

    /// Normal, by Box and Muller.
    pub fn normal(&mut self, mean: f64, sd: f64) -> f64 {
        let (u, v) = (1.0 - self.unit(), self.unit());
        mean + sd * (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
    }
}

/// A model of a few causes on a coarse grid, and a job with some readings.
pub fn case(number: u64) -> (Model, Bench) {
    let mut dice = Dice::new(number.wrapping_mul(0x00d1_ce00).wrapping_add(17));
    let all = Model::standard().causes();
    let mut rows = Vec::new();
    while rows.len() < 3 {
        let row = all[dice.below(all.len())].clone();
        if !rows.iter().any(|other: &borespoke_core::judgement::CauseRow| other.name == row.name) {
            rows.push(row);
        }
    }
    let grid = LevelGrid::new(2e5, 0.12, 22).expect("a grid");
    let model = Model::new(rows, grid).expect("a model");

    let mut bench = match dice.below(5) {
        0 => Bench::in_line("1-2"),
        1 => Bench::in_line("1-3-2"),
        2 => Bench::new("1-3-2-4", None),
        3 => Bench::new("1-3-2-4", Some(Layout::new(vec![vec![1, 2], vec![3, 4]]).expect("banks"))),
        _ => Bench::new(
            "1-3-2",
            Some(Layout::new(vec![vec![1], vec![2], vec![3]]).expect("barrels")),
        ),
    };
    bench.job.engine.fuel = dice.pick(&[None, Some(Fuel::Petrol), Some(Fuel::Diesel)]);
    let conditions = &mut bench.job.conditions;
    conditions.warmth =
        dice.pick(&[None, Some(Warmth::Cold), Some(Warmth::Warm), Some(Warmth::Hot)]);
    conditions.throttle_open = dice.pick(&[None, Some(true), Some(false)]);
    conditions.battery_charged = dice.pick(&[None, Some(true), Some(false)]);
    let off = ZeroCheck::Off { note: "shows a little".to_owned() };
    let zeros = [ZeroCheck::NotDone, ZeroCheck::Good, off];
    bench.job.testers = vec![
        Tester {
            name: "gauge".to_owned(),
            kind: TesterKind::CrankingGauge {
                resolution: dice
                    .chance(0.5)
                    .then(|| StatedPressure::new(5.0, PressureUnit::Psi).expect("a pressure")),
            },
            zero: zeros[dice.below(3)].clone(),
        },
        Tester {
            name: "set".to_owned(),
            kind: TesterKind::LeakDownSet { restrictor: None, supply: None },
            zero: zeros[dice.below(3)].clone(),
        },
    ];
    let count = u32::try_from(bench.job.engine.cylinder_count()).expect("a small number");
    let level = dice.between(90.0, 260.0);
    for number in 1..=count {
        fill(&mut bench, &mut dice, number, level);
    }
    (model, bench)
}

fn fill(bench: &mut Bench, dice: &mut Dice, number: u32, level: f64) {
    let cylinder = bench.cylinder(number);
    let left = dice.pick(&[1.0, 1.0, 0.85, 0.6, 0.2]);
    let mut crank = |dice: &mut Dice, psi: f64, bore: Bore, stroke: Stroke| {
        let psi = (psi * dice.normal(0.0, 0.06).exp()).round().clamp(2.0, 900.0);
        let unit = dice.pick(&[PressureUnit::Psi, PressureUnit::Bar]);
        let stated = |psi: f64| {
            let value = psi * PressureUnit::Psi.pascals() / unit.pascals();
            StatedPressure::new(value, unit).expect("a pressure")
        };
        let up_to = dice.chance(0.2).then(|| stated(psi + 6.0));
        let pressure = Stated { value: stated(psi), up_to, about: dice.chance(0.2) };
        let tester = dice.chance(0.7).then(|| "gauge".to_owned());
        bench.says(Observation::Cranking(Cranking { cylinder, pressure, bore, stroke, tester }));
    };
    if dice.chance(0.8) {
        crank(dice, level * left, Bore::Dry, Stroke::Final);
    }
    if dice.chance(0.3) {
        let stroke = dice.pick(&[1_u8, 2]).try_into().expect("a stroke");
        crank(dice, level * left * 0.6, Bore::Dry, Stroke::After(stroke));
    }
    if dice.chance(0.4) {
        let rise = dice.pick(&[1.03, 1.2, 1.35]);
        crank(dice, level * left * rise, Bore::Wet, Stroke::Final);
    }
    let leak = dice.pick(&[6.0, 9.0, 25.0, 50.0, 90.0]);
    let readings = [Valves::AsFound, Valves::AsFound, Valves::Tapped];
    for (valves, chance) in readings.into_iter().zip([0.7, 0.2, 0.3]) {
        if dice.chance(chance) {
            let percent = (leak * dice.normal(0.0, 0.3).exp()).clamp(0.5, 99.5);
            let value = LeakPercent::new(percent).expect("a percentage");
            let up_to = dice
                .chance(0.2)
                .then(|| LeakPercent::new((percent + 3.0).min(100.0)).expect("a percentage"));
            let leak = Stated { value, up_to, about: dice.chance(0.2) };
            let reading = LeakReading::Percent { leak };
            let says = LeakDown { cylinder, reading, valves, tester: None };
            bench.says(Observation::LeakDown(says));
        }
    }
    for _ in 0..dice.pick(&[0, 0, 1, 2]) {
        let at = dice.pick(&AirExit::ALL);
        bench.says(Observation::Listening(Listening { cylinder, at }));
    }
    if dice.chance(0.6) {
        let signs =
            if dice.chance(0.8) { vec![dice.pick(&PlugSign::ALL[..4])] } else { Vec::new() };
        let figures = dice.chance(0.8).then(|| PlugFigures {
            colour: Lab { l: dice.between(20.0, 80.0), a: 5.0, b: dice.between(5.0, 25.0) },
            spread: 3.0,
            balanced: dice.chance(0.9),
        });
        bench.says(Observation::Look(Look { cylinder, signs, picture: None, figures }));
    }
}
