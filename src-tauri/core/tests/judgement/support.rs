//! Invented jobs, put together in a line or two.

use borespoke_core::engine::{Cylinder, Engine, FiringOrder, Layout};
use borespoke_core::job::{Conditions, Job};
use borespoke_core::judgement::{Finding, Judgement, judge};
use borespoke_core::quantity::{LeakPercent, PressureUnit, StatedPressure};
use borespoke_core::record::{
    Act, AirExit, Bore, Cranking, Entry, EntryId, LeakDown, LeakReading, Listening, Log, Look,
    Observation, Origin, PlugSign, Stated, Stroke, Valves,
};
use borespoke_core::tester::Tester;
use jiff::Timestamp;
use uuid::Uuid;

/// A job and its log.
#[derive(Clone)]
pub struct Bench {
    pub job: Job,
    pub log: Log,
    pub unit: PressureUnit,
    next: u128,
}

impl Bench {
    pub fn new(order: &str, layout: Option<Layout>) -> Self {
        let order: FiringOrder = order.parse().expect("a firing order");
        let job = Job {
            begun: Timestamp::UNIX_EPOCH,
            customer: "Invented".to_owned(),
            vehicle: "Invented".to_owned(),
            question: String::new(),
            engine: Engine::new(order, layout).expect("an engine"),
            testers: Vec::<Tester>::new(),
            conditions: Conditions::default(),
            rule_set: String::new(),
            makers_figures: borespoke_core::rules::MakersFigures::default(),
            invented: true,
        };
        Self { job, log: Log::new(), unit: PressureUnit::Psi, next: 1 }
    }

    pub fn in_line(order: &str) -> Self {
        let count = order.split('-').count();
        Self::new(order, Some(Layout::in_line(count)))
    }

    pub fn cylinder(&self, number: u32) -> Cylinder {
        self.job.engine.cylinder(number).expect("a cylinder of this engine")
    }

    pub fn says(&mut self, observation: Observation) -> EntryId {
        let id = EntryId(Uuid::from_u128(self.next));
        self.next += 1;
        let act = Act::Observe { observation };
        let entry = Entry { id, at: Timestamp::UNIX_EPOCH, origin: Origin::Typed, act };
        self.log.append(entry).expect("an entry that fits");
        id
    }

    pub fn pressure(&self, psi: f64) -> StatedPressure {
        let value = psi * PressureUnit::Psi.pascals() / self.unit.pascals();
        StatedPressure::new(value, self.unit).expect("a pressure")
    }

    pub fn crank(&mut self, number: u32, psi: f64, bore: Bore, stroke: Stroke) -> EntryId {
        let cylinder = self.cylinder(number);
        let pressure = Stated::exactly(self.pressure(psi));
        self.says(Observation::Cranking(Cranking {
            cylinder,
            pressure,
            bore,
            stroke,
            tester: None,
        }))
    }

    pub fn dry(mut self, psi: &[f64]) -> Self {
        for (number, psi) in (1..).zip(psi) {
            self.crank(number, *psi, Bore::Dry, Stroke::Final);
        }
        self
    }

    pub fn dry_one(mut self, number: u32, psi: f64) -> Self {
        self.crank(number, psi, Bore::Dry, Stroke::Final);
        self
    }

    pub fn wet(mut self, number: u32, psi: f64) -> Self {
        self.crank(number, psi, Bore::Wet, Stroke::Final);
        self
    }

    pub fn stroke(mut self, number: u32, after: u8, psi: f64) -> Self {
        let after = Stroke::After(after.try_into().expect("a stroke from 1"));
        self.crank(number, psi, Bore::Dry, after);
        self
    }

    fn leak_down(&mut self, number: u32, percent: f64, valves: Valves) {
        let cylinder = self.cylinder(number);
        let leak = Stated::exactly(LeakPercent::new(percent).expect("a percentage"));
        let reading = LeakReading::Percent { leak };
        self.says(Observation::LeakDown(LeakDown { cylinder, reading, valves, tester: None }));
    }

    pub fn leak(mut self, number: u32, percent: f64) -> Self {
        self.leak_down(number, percent, Valves::AsFound);
        self
    }

    pub fn leaks(self, percents: &[f64]) -> Self {
        (1..).zip(percents).fold(self, |bench, (number, percent)| bench.leak(number, *percent))
    }

    pub fn tapped(mut self, number: u32, percent: f64) -> Self {
        self.leak_down(number, percent, Valves::Tapped);
        self
    }

    pub fn air(mut self, number: u32, at: AirExit) -> Self {
        let cylinder = self.cylinder(number);
        self.says(Observation::Listening(Listening { cylinder, at }));
        self
    }

    pub fn plug(mut self, number: u32, sign: PlugSign) -> Self {
        let cylinder = self.cylinder(number);
        let look = Look { cylinder, signs: vec![sign], picture: None, figures: None };
        self.says(Observation::Look(look));
        self
    }

    pub fn judge(&self) -> Judgement {
        judge(&self.job, &self.log)
    }
}

/// The probability of a cause whose name begins with `name` on exactly these cylinders; 0 when it
/// is not reported.
pub fn probability(judgement: &Judgement, name: &str, cylinders: &[u32]) -> f64 {
    judgement
        .findings
        .iter()
        .find(|finding| {
            finding.cause.starts_with(name)
                && finding
                    .cylinders
                    .iter()
                    .map(|c| u32::from(c.number()))
                    .eq(cylinders.iter().copied())
        })
        .map_or(0.0, |finding| finding.probability.value())
}

/// The findings as lines, for a failed assertion.
pub fn lines(judgement: &Judgement) -> String {
    let line = |f: &Finding| format!("{:.4} {} {:?}", f.probability.value(), f.cause, f.cylinders);
    judgement.findings.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// Asserts that this cause on these cylinders comes first, or ties with the first.
pub fn assert_first(judgement: &Judgement, name: &str, cylinders: &[u32]) {
    let most = judgement.findings.first().map_or(0.0, |finding| finding.probability.value());
    let here = probability(judgement, name, cylinders);
    assert!(here > 0.0 && here >= most - 1e-9, "{name} {cylinders:?}:\n{}", lines(judgement));
}
