//! Invented jobs and entries.

use borespoke_core::engine::{Cylinder, Engine, FiringOrder};
use borespoke_core::job::{Conditions, Job, JobId, Warmth};
use borespoke_core::quantity::{PressureUnit, Probability, StatedPressure};
use borespoke_core::record::{
    Act, Bore, Cranking, Digest, Entry, EntryId, Observation, Origin, Remark, Stated, Stroke,
};
use borespoke_core::tester::{Tester, TesterKind, ZeroCheck};
use borespoke_store::Workshop;
use jiff::Timestamp;
use tempfile::TempDir;
use uuid::Uuid;

/// 2026-11-25 08:00 UTC, plus so many milliseconds.
pub fn moment(milliseconds: u64) -> Timestamp {
    let start = 1_795_593_600_000;
    Timestamp::from_millisecond(start + i64::try_from(milliseconds).unwrap()).unwrap()
}

/// The UUID version 7 (RFC 9562) of that moment, told apart by `number`.
pub fn uuid_v7(milliseconds: u64, number: u64) -> Uuid {
    let time = u64::try_from(moment(milliseconds).as_millisecond()).unwrap();
    let mut random = [0; 10];
    random[2..].copy_from_slice(&number.to_be_bytes());
    uuid::Builder::from_unix_timestamp_millis(time, &random).into_uuid()
}

pub fn job_id(number: u64) -> JobId {
    JobId(uuid_v7(number, number))
}

pub fn entry_id(number: u64) -> EntryId {
    EntryId(uuid_v7(number, 1_000_000 + number))
}

/// An invented six, begun so many milliseconds after the first.
pub fn job(begun: u64) -> Job {
    Job {
        begun: moment(begun),
        customer: "Invented Customer".to_owned(),
        vehicle: "invented straight six, 'quoted'; -- and so on".to_owned(),
        question: "sound enough to buy?".to_owned(),
        engine: Engine::new(FiringOrder::new([1, 5, 3, 6, 2, 4]).unwrap(), None).unwrap(),
        testers: vec![Tester {
            name: "the old gauge".to_owned(),
            kind: TesterKind::CrankingGauge { resolution: None },
            zero: ZeroCheck::Good,
        }],
        conditions: Conditions { warmth: Some(Warmth::Hot), ..Conditions::default() },
        rule_set: "invented".to_owned(),
        makers_figures: borespoke_core::rules::MakersFigures::default(),
        invented: true,
    }
}

pub fn cylinder(number: u32) -> Cylinder {
    Cylinder::of(number, Cylinder::MOST).unwrap()
}

pub fn cranking(number: u32, psi: f64) -> Observation {
    Observation::Cranking(Cranking {
        cylinder: cylinder(number),
        pressure: Stated::exactly(StatedPressure::new(psi, PressureUnit::Psi).unwrap()),
        bore: Bore::Dry,
        stroke: Stroke::Final,
        tester: Some("the old gauge".to_owned()),
    })
}

pub fn remark(text: &str) -> Observation {
    Observation::Remark(Remark { cylinder: None, text: text.to_owned() })
}

pub fn typed(number: u64, act: Act) -> Entry {
    Entry { id: entry_id(number), at: moment(number), origin: Origin::Typed, act }
}

pub fn observed(number: u64, observation: Observation) -> Entry {
    typed(number, Act::Observe { observation })
}

pub fn spoken(number: u64, clip: Digest, observation: Observation) -> Entry {
    Entry {
        origin: Origin::Spoken {
            clip,
            sureness: Probability::new(0.93).unwrap(),
            text: "number three one forty".to_owned(),
        },
        ..observed(number, observation)
    }
}

/// Content that no piece of repeats, the same for the same seed.
pub fn content(seed: u64, length: usize) -> Vec<u8> {
    let mut random = Random::new(seed);
    let mut content = Vec::with_capacity(length + 8);
    while content.len() < length {
        content.extend_from_slice(&random.next().to_le_bytes());
    }
    content.truncate(length);
    content
}

/// The `SplitMix64` generator (Steele, Lea, Flood 2014): a few lines, and the same on every machine.
pub struct Random(u64);

impl Random {
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 to less than `end`.
    pub const fn below(&mut self, end: u64) -> u64 {
        self.next() % end
    }
}

/// A new file with one job in it, in a folder that goes when the test ends.
pub struct Bench {
    pub folder: TempDir,
    pub workshop: Workshop,
}

impl Bench {
    pub fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let mut workshop = Workshop::create(folder.path().join("jobs.bore")).unwrap();
        workshop.create_job(job_id(1), &job(0)).unwrap();
        Self { folder, workshop }
    }

    /// Closes the file and opens it again.
    pub fn reopened(self) -> Self {
        let path = self.workshop.path().to_owned();
        self.workshop.close().unwrap();
        Self { folder: self.folder, workshop: Workshop::open(path).unwrap() }
    }
}
