//! An invented job to set, and the document read back as text.

use std::process::Command;
use std::sync::atomic::{AtomicU32, Ordering};

use borespoke_core::engine::{Cylinder, Engine, FiringOrder, Fuel};
use borespoke_core::job::{Conditions, Job, Warmth};
use borespoke_core::judgement::{Action, Advice, Finding, Judgement, NextStep, Weight};
use borespoke_core::quantity::{
    LeakPercent, Length, LengthUnit, PressureUnit, Probability, StatedPressure,
};
use borespoke_core::record::{
    Act, AirExit, Bore, Cranking, CylinderTable, Digest, Entry, EntryId, Lab, LeakDown,
    LeakReading, Listening, Log, Look, Observation, Origin, PlugFigures, PlugSign, Remark, Stated,
    Stroke, Valves,
};
use borespoke_core::rules::{LimitsInForce, RuleSet, evaluate};
use borespoke_core::tester::{Tester, TesterKind, ZeroCheck};
use borespoke_handover::{HandoverData, Paper, PictureFile, PlugPicture, typeset};
use image::{DynamicImage, ImageFormat, Rgb, RgbImage};
use jiff::tz::Offset;
use uuid::Uuid;

/// Collects entries a few seconds apart.
struct Scribe {
    log: Log,
}

impl Scribe {
    fn write(&mut self, origin: Origin, act: Act) -> EntryId {
        let number = self.log.entries().len();
        let id =
            EntryId(Uuid::from_u128(0x0193_6a00_0000_7000_8000_0000_0000_0000 + number as u128));
        let start = begun().as_second();
        let seconds = start + 37 * i64::try_from(number).unwrap();
        let at = jiff::Timestamp::from_second(seconds).unwrap();
        self.log.append(Entry { id, at, origin, act }).unwrap();
        id
    }

    fn say(&mut self, text: &str, observation: Observation) -> EntryId {
        self.write(spoken(text, 0.97), Act::Observe { observation })
    }
}

fn spoken(text: &str, sureness: f64) -> Origin {
    Origin::Spoken {
        clip: Digest::from_bytes([7; 32]),
        sureness: Probability::new(sureness).unwrap(),
        text: text.to_owned(),
    }
}

fn begun() -> jiff::Timestamp {
    "2026-11-24T09:12:00Z".parse().unwrap()
}

pub fn psi(value: f64) -> StatedPressure {
    StatedPressure::new(value, PressureUnit::Psi).unwrap()
}

fn dry(cylinder: Cylinder, value: f64) -> Observation {
    cranking(cylinder, value, Bore::Dry)
}

fn cranking(cylinder: Cylinder, value: f64, bore: Bore) -> Observation {
    Observation::Cranking(Cranking {
        cylinder,
        pressure: Stated::exactly(psi(value)),
        bore,
        stroke: Stroke::Final,
        tester: None,
    })
}

fn leak(cylinder: Cylinder, low: f64, up_to: Option<f64>) -> Observation {
    let percent = |value| LeakPercent::new(value).unwrap();
    let leak = Stated { value: percent(low), up_to: up_to.map(percent), about: false };
    Observation::LeakDown(LeakDown {
        cylinder,
        reading: LeakReading::Percent { leak },
        valves: Valves::AsFound,
        tester: None,
    })
}

fn look(cylinder: Cylinder, sign: PlugSign, colour: Lab) -> Observation {
    let figures = PlugFigures { colour, spread: 4.3, balanced: true };
    Observation::Look(Look { cylinder, signs: vec![sign], picture: None, figures: Some(figures) })
}

/// A job on an engine of `count` cylinders that fire in the order of their numbers, the even ones
/// last: nothing entered, nothing found.
pub fn empty(count: u32) -> HandoverData {
    let order = (1..=count).filter(|n| n % 2 == 1).chain((1..=count).filter(|n| n % 2 == 0));
    let mut engine = Engine::new(FiringOrder::new(order).unwrap(), None).unwrap();
    engine.fuel = Some(Fuel::Petrol);
    let job = Job {
        begun: begun(),
        customer: "Ada Example".to_owned(),
        vehicle: "Blue estate car, 1994".to_owned(),
        question: "Is the engine sound enough for a long trip?".to_owned(),
        engine,
        testers: Vec::new(),
        conditions: Conditions::default(),
        rule_set: RuleSet::DEFAULT_ID.to_owned(),
        makers_figures: borespoke_core::rules::MakersFigures::default(),
        invented: true,
    };
    with_log(job, Log::new())
}

/// The data of a job and a log, with nothing judged.
pub fn with_log(job: Job, log: Log) -> HandoverData {
    let limits = LimitsInForce::from(RuleSet::by_id(&job.rule_set).unwrap());
    HandoverData {
        job_id: "01936a00-0000-7000-8000-0000000000aa".to_owned(),
        utc_offset: Offset::constant(1),
        table: CylinderTable::new(&job.engine, &log),
        evaluation: evaluate(&job.engine, &job.testers, &log, &limits),
        limits,
        log,
        judgement: nothing_judged(),
        pictures: Vec::new(),
        attachments: Vec::new(),
        job,
    }
}

/// A whole job: cylinder 1 leaks through its exhaust valve, the others are sound; one reading
/// corrected, one taken back, one remark.
pub fn full(count: u32) -> HandoverData {
    let mut job = empty(count).job;
    job.testers = vec![
        Tester {
            name: "gauge one".to_owned(),
            kind: TesterKind::CrankingGauge { resolution: Some(psi(5.0)) },
            zero: ZeroCheck::Good,
        },
        Tester {
            name: "leak set".to_owned(),
            kind: TesterKind::LeakDownSet {
                restrictor: Some(Length::new(40.0, LengthUnit::Thou)),
                supply: Some(psi(80.0)),
            },
            zero: ZeroCheck::NotDone,
        },
    ];
    job.conditions = Conditions {
        warmth: Some(Warmth::Hot),
        throttle_open: Some(true),
        all_plugs_out: Some(true),
        made_safe: Some(true),
        ..Conditions::default()
    };
    let cylinders: Vec<Cylinder> = job.engine.cylinders().collect();
    let (bad, last) = (cylinders[0], cylinders[cylinders.len() - 1]);
    let mut scribe = Scribe { log: Log::new() };
    let mut low = None;
    for (&cylinder, step) in cylinders.iter().zip(0_u8..) {
        let value = if cylinder == bad { 92.0 } else { 145.0 + f64::from(step % 4) };
        let id = scribe.say(&format!("cylinder {cylinder} {value}"), dry(cylinder, value));
        low = low.or(Some(id));
    }
    let wrong = scribe.say("wet ninety eight", cranking(bad, 98.0, Bore::Wet));
    scribe.write(
        spoken("no, ninety four", 0.91),
        Act::Correct { replaces: wrong, observation: cranking(bad, 94.0, Bore::Wet) },
    );
    let mut leaks = None;
    for (&cylinder, step) in cylinders.iter().zip(0_u8..) {
        let (low, high) =
            if cylinder == bad { (55.0, Some(58.0)) } else { (7.5 + f64::from(step % 3), None) };
        let id = scribe.say("percent", leak(cylinder, low, high));
        leaks = leaks.or(Some(id));
    }
    let at = AirExit::Exhaust;
    let heard =
        scribe.say("air at the exhaust", Observation::Listening(Listening { cylinder: bad, at }));
    let mistaken = scribe.say("two hundred", cranking(last, 200.0, Bore::Wet));
    scribe.write(spoken("take that back", 0.99), Act::Withdraw { entry: mistaken });
    for &cylinder in &cylinders {
        let (sign, l) =
            if cylinder == bad { (PlugSign::DryCarbon, 22.0) } else { (PlugSign::Normal, 61.0) };
        scribe.write(
            Origin::Typed,
            Act::Observe { observation: look(cylinder, sign, Lab { l, a: 4.0, b: 14.0 }) },
        );
    }
    scribe.say(
        "oil on the thread",
        Observation::Remark(Remark { cylinder: Some(bad), text: "oil on the thread".to_owned() }),
    );
    let (low, leaks) = (low.unwrap(), leaks.unwrap());
    HandoverData {
        judgement: judgement(bad, &cylinders[1..], [low, leaks, heard]),
        pictures: cylinders.iter().map(|&cylinder| picture(cylinder)).collect(),
        ..with_log(job, scribe.log)
    }
}

fn judgement(bad: Cylinder, sound: &[Cylinder], [low, leaks, heard]: [EntryId; 3]) -> Judgement {
    let weight = |entry, says: &str, log_odds| Weight {
        entry,
        cylinder: bad,
        says: says.to_owned(),
        log_odds,
    };
    let p = |value| Probability::new(value).unwrap();
    let finding = |cause: &str, plain: &str, probability| Finding {
        cause: cause.to_owned(),
        plain: plain.to_owned(),
        cylinders: vec![bad],
        probability: p(probability),
        prior: p(0.03),
        in_favour: vec![
            weight(low, "dry 92 psi, far below the others", 2.5),
            weight(heard, "air at the exhaust", 1.5),
            weight(leaks, "leak-down 55–58 %", 1.0),
        ],
        against: vec![weight(low, "too weak to list", 0.05)],
        source: "common practice, no source".to_owned(),
        advice: "Look at the valves.".to_owned(),
    };
    let advice = |cylinders: &[Cylinder], action: Action, because: &str| Advice {
        cylinders: cylinders.to_vec(),
        action,
        says: action.says().to_owned(),
        because: because.to_owned(),
    };
    let mut all = vec![advice(&[bad], Action::OpenTop, "Suspected first: burnt exhaust valve.")];
    if !sound.is_empty() {
        all.push(advice(sound, Action::CarryOn, "Nothing that was read points to a fault."));
    }
    Judgement {
        findings: vec![
            finding("burnt exhaust valve", "The exhaust valve does not close fully.", 0.93),
            finding("dirt under the exhaust valve", "Dirt keeps the exhaust valve open.", 0.06),
        ],
        next_steps: vec![NextStep {
            next_step: "Tap the valves and read the leak-down again".to_owned(),
            cylinder: Some(bad),
            bits: 0.6,
            minutes: 5.2,
            changes_advice: p(0.2),
            settles: "Whether dirt on the seat keeps the valve open.".to_owned(),
        }],
        settled: None,
        conflicts: Vec::new(),
        not_tested: vec!["Whether the battery was charged was not said.".to_owned()],
        advice: all,
    }
}

fn nothing_judged() -> Judgement {
    Judgement {
        findings: Vec::new(),
        next_steps: Vec::new(),
        settled: None,
        conflicts: Vec::new(),
        not_tested: Vec::new(),
        advice: Vec::new(),
    }
}

/// A small picture of a plug, drawn.
pub fn picture(cylinder: Cylinder) -> PlugPicture {
    let brown = 90 + 6 * cylinder.number();
    let drawn = RgbImage::from_fn(160, 120, |x, y| {
        let (dx, dy) = (x.abs_diff(80), y.abs_diff(60));
        if dx * dx + dy * dy < 1600 { Rgb([brown, 80, 60]) } else { Rgb([200, 200, 205]) }
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    DynamicImage::ImageRgb8(drawn).write_to(&mut bytes, ImageFormat::Png).unwrap();
    PlugPicture {
        cylinder,
        name: format!("plug-{cylinder}.png"),
        file: PictureFile::AsTaken(bytes.into_inner()),
    }
}

/// The pages of the document on A4 in reading order, with runs of spaces and breaks as one space.
pub fn pages(data: &HandoverData) -> Vec<String> {
    let pdf = typeset(data, Paper::A4).unwrap();
    let pages = text_of(&pdf, &[]).into_iter();
    pages.map(|page| page.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
}

/// All pages in one.
pub fn flowing(data: &HandoverData) -> String {
    pages(data).join(" ").replace('\u{200b}', "")
}

/// The pages as they are laid out.
pub fn laid_out(data: &HandoverData) -> Vec<String> {
    text_of(&typeset(data, Paper::A4).unwrap(), &["-layout"])
}

/// The pages of a PDF as text.
pub fn text_of(pdf: &[u8], options: &[&str]) -> Vec<String> {
    let arguments = [options, &["-enc", "UTF-8", "{}", "-"]].concat();
    let text = String::from_utf8(tool("pdftotext", &arguments, pdf)).unwrap();
    text.split_terminator('\u{c}').map(str::to_owned).collect()
}

/// What a tool of the system writes about a PDF; `{}` stands for the file.
pub fn tool(name: &str, arguments: &[&str], pdf: &[u8]) -> Vec<u8> {
    let path = own_path("document.pdf");
    std::fs::write(&path, pdf).unwrap();
    let arguments = arguments.iter().map(|part| if *part == "{}" { path.as_str() } else { part });
    let run = Command::new(name).args(arguments).output();
    std::fs::remove_file(&path).unwrap();
    let run = run.unwrap_or_else(|fault| panic!("{name} (package poppler-utils): {fault}"));
    assert!(run.status.success(), "{name}: {}", String::from_utf8_lossy(&run.stderr));
    run.stdout
}

/// A path that no other test uses.
pub fn own_path(name: &str) -> String {
    static NEXT: AtomicU32 = AtomicU32::new(0);
    let number = NEXT.fetch_add(1, Ordering::Relaxed);
    format!("{}/{}-{number}-{name}", env!("CARGO_TARGET_TMPDIR"), std::process::id())
}
