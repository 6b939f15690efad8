//! Simulated engines, invented, drawn from noise that is not the model's own likelihoods: leak and
//! severity are continuous, pressure follows from how much leaks away during the strokes, cylinders
//! scatter evenly and not normally, gauges are read to their marks, people mishear and slip. So the
//! figures say how the model fares where it is wrong about the world.

use borespoke_core::engine::Layout;
use borespoke_core::judgement::{Finding, Judgement, judge, weigh};
use borespoke_core::record::{AirExit, Bore, PlugSign, Stroke};

use crate::random_cases::Dice;
use crate::support::Bench;

/// What is really wrong.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// The beginning of the cause's name in the model.
    pub cause: &'static str,
    pub cylinders: Vec<u32>,
}

/// How one cylinder really is.
#[derive(Debug, Clone, Default)]
struct Truth {
    /// Leak area past rings, exhaust valve, intake valve, to the coolant and to the neighbour, over
    /// the area of a restrictor of 1 mm.
    leak: [f64; 5],
    /// Factor on the charge: filling and volume.
    charge: f64,
    /// What oil leaves of the leak past the rings.
    wet: f64,
    /// What a tap leaves of the leak past the valves.
    tap: f64,
    /// Frequency of an oily, fuelly, sooty, metallic, overheated plug.
    plug: [f64; 5],
}

/// An engine and what is wrong with it.
pub struct Simulated {
    pub bench: Bench,
    pub fault: Option<Fault>,
    truth: Vec<Truth>,
    level: f64,
    mark: f64,
    dice: Dice,
    pub minutes: f64,
}

const EXITS: [AirExit; 5] = [
    AirExit::OilFiller,
    AirExit::Exhaust,
    AirExit::Intake,
    AirExit::Coolant,
    AirExit::NextPlugHole,
];

impl Simulated {
    pub fn new(seed: u64) -> Self {
        let mut dice = Dice::new(seed.wrapping_mul(0x5851_f42d).wrapping_add(0xb0_7e5));
        let bench = match dice.below(4) {
            0 => Bench::in_line("1-3-4-2"),
            1 => Bench::in_line("1-5-3-6-2-4"),
            2 => Bench::new(
                "1-2-3-4-5-6",
                Some(Layout::new(vec![vec![1, 3, 5], vec![2, 4, 6]]).expect("a vee")),
            ),
            _ => Bench::new(
                "1-8-4-3-6-5-7-2",
                Some(Layout::new(vec![vec![1, 3, 5, 7], vec![2, 4, 6, 8]]).expect("a vee")),
            ),
        };
        let count = bench.job.engine.cylinder_count();
        let wear = dice.between(0.10, 0.30);
        let truth = (0..count)
            .map(|_| Truth {
                leak: [
                    wear * dice.between(0.7, 1.4),
                    dice.between(0.0, 0.05),
                    dice.between(0.0, 0.05),
                    0.0,
                    0.0,
                ],
                charge: dice.between(0.94, 1.06),
                wet: 0.6,
                tap: 0.95,
                plug: [0.04, 0.02, 0.08, 0.003, 0.03],
            })
            .collect();
        let level = dice.between(125.0, 205.0);
        let mark = dice.pick(&[1.0, 2.0, 5.0]);
        let mut engine = Self { bench, fault: None, truth, level, mark, dice, minutes: 0.0 };
        engine.break_something();
        engine
    }

    fn break_something(&mut self) {
        let count = self.truth.len();
        if self.dice.chance(0.3) {
            return;
        }
        let at = self.dice.below(count);
        let badness = self.dice.between(0.15, 1.0);
        let big = |dice: &mut Dice| badness * badness * dice.between(0.8, 2.2) + 0.2 * badness;
        let size = big(&mut self.dice);
        // Shares of what brings engines to a test; ours, not the model's priors.
        let which = self.dice.unit();
        let truth = &mut self.truth[at];
        let cause = if which < 0.27 {
            truth.leak[0] += size;
            truth.wet = self.dice.between(0.15, 0.45);
            truth.plug[0] = 0.45;
            "worn or stuck rings"
        } else if which < 0.33 {
            truth.leak[0] += size;
            truth.wet = self.dice.between(0.45, 0.85);
            truth.plug[0] = 0.45;
            "scored bore"
        } else if which < 0.37 {
            truth.leak[0] += 1.5 + 3.0 * badness;
            truth.wet = 0.9;
            truth.plug = [0.3, 0.02, 0.08, 0.35, 0.2];
            "holed or broken piston"
        } else if which < 0.57 {
            truth.leak[1] += 1.4 * size;
            truth.plug[2] = 0.15;
            "burnt or leaking exhaust valve"
        } else if which < 0.66 {
            truth.leak[2] += size;
            truth.plug[2] = 0.15;
            "leaking intake valve"
        } else if which < 0.71 {
            truth.leak[1] += 0.7 * size;
            "valve lash too tight"
        } else if which < 0.79 {
            let side = 1 + self.dice.below(2);
            truth.leak[side] += 0.7 * size;
            truth.tap = self.dice.between(0.0, 0.5);
            truth.plug[2] = 0.25;
            "carbon on a valve seat"
        } else if which < 0.83 {
            truth.charge *= 1.0 - 0.5 * badness;
            "worn cam lobe"
        } else if which < 0.86 {
            truth.charge *= 1.0 - 0.45 * badness;
            truth.leak[1] += 0.1 * badness;
            "broken or weak valve spring"
        } else if which < 0.89 {
            truth.leak[0] += 0.5 * size;
            truth.wet = self.dice.between(0.1, 0.3);
            truth.plug = [0.02, 0.75, 0.2, 0.0, 0.0];
            "bore washed by fuel"
        } else if which < 0.92 {
            truth.charge *= 1.0 + self.dice.between(0.08, 0.22);
            truth.plug[2] = 0.25;
            "carbon build-up"
        } else if which < 0.96 {
            truth.leak[3] += size;
            truth.plug[2] = 0.02;
            "head gasket leaking to the coolant"
        } else {
            return self.leak_to_a_neighbour(at, 0.3 + size);
        };
        let cylinders = vec![u32::try_from(at + 1).expect("a small number")];
        self.fault = Some(Fault { cause, cylinders });
    }

    fn leak_to_a_neighbour(&mut self, at: usize, size: f64) {
        let layout = self.bench.job.engine.layout().expect("a layout").clone();
        let pair = layout
            .neighbours()
            .find(|(one, other)| one.index() == at || other.index() == at)
            .expect("a neighbour");
        for cylinder in [pair.0, pair.1] {
            self.truth[cylinder.index()].leak[4] += size;
        }
        let mut cylinders = vec![u32::from(pair.0.number()), u32::from(pair.1.number())];
        cylinders.sort_unstable();
        self.fault = Some(Fault { cause: "head gasket leaking between", cylinders });
    }

    /// Pressure falls with what leaks away while the piston comes up and waits.
    fn pressure(&self, at: usize, wet: bool) -> f64 {
        let truth = &self.truth[at];
        let rings = truth.leak[0] * if wet { truth.wet } else { 1.0 };
        let leak = rings + truth.leak[1..].iter().sum::<f64>();
        let kept = 1.0 / (1.0 + 0.42 * leak.powf(1.25));
        let sound = 1.0 / (1.0 + 0.42 * 0.2_f64.powf(1.25));
        self.level * truth.charge * kept / sound * if wet { 1.03 } else { 1.0 }
    }

    pub fn crank(&mut self, number: u32, bore: Bore) {
        self.minutes += if bore == Bore::Dry { 2.0 } else { 4.0 };
        let at = usize::try_from(number - 1).expect("a small number");
        let mut psi = self.pressure(at, bore == Bore::Wet) * self.dice.between(0.965, 1.035);
        if self.dice.chance(0.004) {
            // The hose was not tight.
            psi *= self.dice.between(0.5, 0.9);
        }
        let psi = (psi / self.mark).round() * self.mark;
        self.bench.crank(number, psi, bore, Stroke::Final);
    }

    fn leak_percent(&mut self, number: u32, tapped: bool, wrong: Option<f64>) -> f64 {
        let at = usize::try_from(number - 1).expect("a small number");
        let truth = &self.truth[at];
        let valves = (truth.leak[1] + truth.leak[2]) * if tapped { truth.tap } else { 1.0 };
        let own = truth.leak[0] + valves + truth.leak[3] + truth.leak[4];
        let area = (own + wrong.unwrap_or(0.0)) * self.dice.between(0.8, 1.25);
        let percent = 100.0 * area * area / (1.0 + area * area);
        percent.round().clamp(0.0, 100.0)
    }

    pub fn leak_down(&mut self, number: u32) {
        self.minutes += 6.0;
        let wrong = match self.dice.unit() {
            x if x < 0.02 => Some(3.0),
            x if x < 0.035 => Some(0.5),
            _ => None,
        };
        let percent = self.leak_percent(number, false, wrong);
        self.bench = self.bench.clone().leak(number, percent);
    }

    pub fn turn(&mut self, number: u32) {
        self.minutes += 3.0;
        let wrong = self.dice.chance(0.02).then_some(3.0);
        let percent = self.leak_percent(number, false, wrong);
        self.bench = self.bench.clone().leak(number, percent);
    }

    pub fn tap(&mut self, number: u32) {
        self.minutes += 3.0;
        let percent = self.leak_percent(number, true, None);
        self.bench = self.bench.clone().tapped(number, percent);
    }

    pub fn listen(&mut self, number: u32) {
        self.minutes += 2.0;
        let at = usize::try_from(number - 1).expect("a small number");
        let mut any = false;
        for (exit, leak) in EXITS.into_iter().zip(self.truth[at].leak) {
            let loud = leak * self.dice.between(0.6, 1.6) > 0.28;
            let heard = if loud { self.dice.chance(0.93) } else { self.dice.chance(0.03) };
            if heard {
                any = true;
                self.bench = self.bench.clone().air(number, exit);
            }
        }
        if !any {
            self.bench = self.bench.clone().air(number, AirExit::Nowhere);
        }
    }

    pub fn plug(&mut self, number: u32) {
        self.minutes += 1.5;
        let at = usize::try_from(number - 1).expect("a small number");
        let signs = [
            PlugSign::OilWet,
            PlugSign::FuelWet,
            PlugSign::DryCarbon,
            PlugSign::MetalSpecks,
            PlugSign::BlisteredWhite,
        ];
        let mut left = self.dice.unit();
        let mut sign = PlugSign::Normal;
        for (candidate, often) in signs.into_iter().zip(self.truth[at].plug) {
            if left < often {
                sign = candidate;
                break;
            }
            left -= often;
        }
        self.bench = self.bench.clone().plug(number, sign);
    }

    fn numbers(&self) -> std::ops::RangeInclusive<u32> {
        1..=u32::try_from(self.truth.len()).expect("a small number")
    }

    /// Every test that can be written down, on every cylinder.
    pub fn test_everything(&mut self) -> Judgement {
        for number in self.numbers() {
            self.plug(number);
            self.crank(number, Bore::Dry);
            self.crank(number, Bore::Wet);
            self.leak_down(number);
            self.listen(number);
            self.tap(number);
            self.turn(number);
        }
        weigh(&self.bench.job, &self.bench.log)
    }

    /// Does the next step until there is none that can be written down. Cranking goes round the
    /// engine in one go, as it does in the workshop.
    pub fn follow_next_steps(&mut self) -> Judgement {
        for _ in 0..100 {
            let judgement = judge(&self.bench.job, &self.bench.log);
            let step = judgement.next_steps.iter().find_map(|step| {
                let number = u32::from(step.cylinder?.number());
                let writable = ["borescope", "hose"].iter().all(|w| !step.next_step.contains(w));
                writable.then(|| (step.next_step.clone(), number))
            });
            let Some((says, number)) = step else { return judgement };
            if says.starts_with("Read the dry") {
                for step in &judgement.next_steps {
                    if let (true, Some(cylinder)) =
                        (step.next_step.starts_with("Read the dry"), step.cylinder)
                    {
                        self.crank(u32::from(cylinder.number()), Bore::Dry);
                    }
                }
            } else if says.contains("spoonful") {
                self.crank(number, Bore::Wet);
            } else if says.contains("listen") {
                self.listen(number);
            } else if says.contains("tap over") {
                self.tap(number);
            } else if says.contains("half a turn") {
                self.turn(number);
            } else if says.contains("plug of") {
                self.plug(number);
            } else {
                self.leak_down(number);
            }
        }
        unreachable!("every step can be made once, so they come to an end")
    }
}

/// Findings that say something is wrong with the engine, most probable first.
fn of_the_engine(judgement: &Judgement) -> Vec<&Finding> {
    let not_engine = ["test fault", "engine cold", "throttle", "weak starter", "cranking gauge"];
    judgement
        .findings
        .iter()
        .filter(|f| !not_engine.iter().any(|n| f.cause.starts_with(n)))
        .filter(|f| !f.cause.starts_with("leak-down set"))
        .collect()
}

fn is(finding: &Finding, fault: &Fault) -> bool {
    finding.cause.starts_with(fault.cause)
        && finding
            .cylinders
            .iter()
            .map(|c| u32::from(c.number()))
            .eq(fault.cylinders.iter().copied())
}

/// Figures over many engines.
#[derive(Debug, Default, Clone)]
pub struct Score {
    pub engines: u32,
    pub faulty: u32,
    /// The fault comes first; a sound engine has nothing above one half.
    pub top1: u32,
    /// The fault is among the first two.
    pub top2: u32,
    /// The first finding is on the right cylinder.
    pub cylinder: u32,
    pub sound: u32,
    pub sound_right: u32,
    pub minutes: f64,
    /// By tenth of stated probability: findings, those that were true, sum of probabilities.
    pub bins: [(u32, u32, f64); 10],
    /// What was said first instead, by true cause.
    pub misses: std::collections::BTreeMap<(&'static str, String), u32>,
}

impl Score {
    pub fn take(&mut self, engine: &Simulated, judgement: &Judgement) {
        self.engines += 1;
        self.minutes += engine.minutes;
        let findings = of_the_engine(judgement);
        for finding in &findings {
            let p = finding.probability.value();
            let tenth = (0..10).rev().find(|&t| p >= f64::from(t) / 10.0).unwrap_or(0);
            let bin = &mut self.bins[usize::try_from(tenth).expect("a tenth")];
            bin.0 += 1;
            bin.1 += u32::from(engine.fault.as_ref().is_some_and(|fault| is(finding, fault)));
            bin.2 += p;
        }
        if let Some(fault) = &engine.fault {
            self.faulty += 1;
            let place = findings.iter().position(|finding| is(finding, fault));
            self.top1 += u32::from(place == Some(0));
            self.top2 += u32::from(place.is_some_and(|place| place < 2));
            let right = findings.first().is_some_and(|f| {
                f.cylinders.iter().any(|c| fault.cylinders.contains(&u32::from(c.number())))
            });
            self.cylinder += u32::from(right);
            if place != Some(0) {
                let said = findings.first().map_or("nothing".to_owned(), |f| f.cause.clone());
                *self.misses.entry((fault.cause, said)).or_default() += 1;
            }
        } else {
            self.sound += 1;
            let right = findings.first().is_none_or(|f| f.probability.value() < 0.5);
            self.sound_right += u32::from(right);
            self.top1 += u32::from(right);
            self.top2 += u32::from(right);
        }
    }

    /// Mean distance of stated probability from what came true, weighted by how often it was stated.
    pub fn calibration_error(&self) -> f64 {
        let all: u32 = self.bins.iter().map(|bin| bin.0).sum();
        let off: f64 = self.bins.iter().map(|bin| (bin.2 - f64::from(bin.1)).abs()).sum();
        off / f64::from(all)
    }
}

#[test]
fn simulated_engines_are_judged_well_and_next_steps_save_time() {
    let (mut everything, mut followed) = (Score::default(), Score::default());
    for seed in 0..24 {
        let mut engine = Simulated::new(seed);
        let judgement = engine.test_everything();
        everything.take(&engine, &judgement);
        let mut engine = Simulated::new(seed);
        let judgement = engine.follow_next_steps();
        followed.take(&engine, &judgement);
    }
    let share = |count: u32| f64::from(count) / 24.0;
    assert!(share(everything.top1) > 0.6, "{everything:?}");
    assert!(share(everything.top2) > 0.7, "{everything:?}");
    assert!(everything.calibration_error() < 0.25, "{everything:?}");
    assert!(followed.minutes < 0.6 * everything.minutes, "{followed:?}");
    assert!(share(followed.top1) > 0.6, "{followed:?}");
}
