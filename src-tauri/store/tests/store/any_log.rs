//! Whatever is said in whatever order: the log that is loaded is the log that core would have.

use borespoke_core::engine::Cylinder;
use borespoke_core::quantity::{
    LeakPercent, LengthUnit, PressureUnit, Probability, StatedLength, StatedPressure,
};
use borespoke_core::record::{
    Act, AirExit, Bore, Borescope, Cranking, Entry, Gap, Lab, LeakDown, LeakReading, Listening,
    Log, LogError, Look, Observation, Origin, PlugFigures, PlugSign, Remark, Sight, Stated, Stroke,
    Valves,
};
use borespoke_store::{MediaType, NewAttachment, Refusal, StoreError, Workshop, digest_of_bytes};
use jiff::Timestamp;
use proptest::prelude::*;
use proptest::{option, sample};

use crate::samples::{content, cylinder, entry_id, job, job_id};

fn any_cylinder() -> impl Strategy<Value = Cylinder> {
    (1..=18_u32).prop_map(cylinder)
}

fn stated<Q: Clone + std::fmt::Debug>(
    value: impl Strategy<Value = Q> + Clone,
) -> impl Strategy<Value = Stated<Q>> {
    (value.clone(), option::of(value), any::<bool>()).prop_map(|(value, up_to, about)| Stated {
        value,
        up_to,
        about,
    })
}

fn pressure() -> impl Strategy<Value = StatedPressure> + Clone {
    (0.0..=68.0, sample::select(&PressureUnit::ALL[..]))
        .prop_map(|(value, unit)| StatedPressure::new(value, unit).unwrap())
}

fn percent() -> impl Strategy<Value = LeakPercent> + Clone {
    (0.0..=100.0).prop_map(|percent| LeakPercent::new(percent).unwrap())
}

fn figures() -> impl Strategy<Value = PlugFigures> {
    let any_number = any::<f64>().prop_filter("a number", |x| x.is_finite());
    (0.0..=100.0, any_number, -128.0..128.0, 0.0..50.0, any::<bool>()).prop_map(
        |(l, a, b, spread, balanced)| PlugFigures { colour: Lab { l, a, b }, spread, balanced },
    )
}

fn observation() -> impl Strategy<Value = Observation> {
    let bore = sample::select(&[Bore::Dry, Bore::Wet][..]);
    let stroke = prop_oneof![
        Just(Stroke::Final),
        (1..=9_u8).prop_map(|n| Stroke::After(n.try_into().unwrap()))
    ];
    let cranking = (any_cylinder(), stated(pressure()), bore, stroke, option::of(".*")).prop_map(
        |(cylinder, pressure, bore, stroke, tester)| {
            Observation::Cranking(Cranking { cylinder, pressure, bore, stroke, tester })
        },
    );
    let reading = prop_oneof![
        stated(percent()).prop_map(|leak| LeakReading::Percent { leak }),
        (pressure(), pressure())
            .prop_map(|(supply, cylinder_side)| LeakReading::Pressures { supply, cylinder_side }),
    ];
    let valves = sample::select(&[Valves::AsFound, Valves::Tapped][..]);
    let leak_down = (any_cylinder(), reading, valves, option::of(".*")).prop_map(
        |(cylinder, reading, valves, tester)| {
            Observation::LeakDown(LeakDown { cylinder, reading, valves, tester })
        },
    );
    let listening = (any_cylinder(), sample::select(&AirExit::ALL[..]))
        .prop_map(|(cylinder, at)| Observation::Listening(Listening { cylinder, at }));
    let signs = prop::collection::vec(sample::select(&PlugSign::ALL[..]), 0..4);
    let look =
        (any_cylinder(), signs, option::of(figures())).prop_map(|(cylinder, signs, figures)| {
            Observation::Look(Look { cylinder, signs, picture: None, figures })
        });
    let seen = prop::collection::vec(sample::select(&Sight::ALL[..]), 0..4);
    let borescope = (any_cylinder(), seen)
        .prop_map(|(cylinder, seen)| Observation::Borescope(Borescope { cylinder, seen }));
    let gap = (any_cylinder(), 0.1..2.0).prop_map(|(cylinder, value)| {
        let gap = StatedLength::new(value, LengthUnit::Millimetre).unwrap();
        Observation::Gap(Gap { cylinder, gap: Stated::exactly(gap) })
    });
    let remark = (option::of(any_cylinder()), "\\PC*|.*")
        .prop_map(|(cylinder, text)| Observation::Remark(Remark { cylinder, text }));
    prop_oneof![cranking, leak_down, listening, look, borescope, gap, remark]
}

/// What an entry is to do; the number picks the earlier entry it points at.
#[derive(Debug, Clone)]
enum Wish {
    Observe(Observation),
    Correct(usize, Observation),
    Withdraw(usize),
    /// An entry that is in the log already.
    Repeat(usize),
    /// One that points at an entry that is not.
    PointAtNothing,
}

fn wish() -> impl Strategy<Value = Wish> {
    prop_oneof![
        6 => observation().prop_map(Wish::Observe),
        3 => (any::<usize>(), observation()).prop_map(|(at, o)| Wish::Correct(at, o)),
        2 => any::<usize>().prop_map(Wish::Withdraw),
        1 => any::<usize>().prop_map(Wish::Repeat),
        1 => Just(Wish::PointAtNothing),
    ]
}

/// A wish with the rest of an entry: when, how long its clip is (none: typed), how sure, what was
/// written down; and whether the file is closed and opened again before it.
type Said = (Wish, i64, Option<usize>, f64, String, bool);

fn said() -> impl Strategy<Value = Said> {
    let at = Timestamp::MIN.as_microsecond()..Timestamp::MAX.as_microsecond();
    (wish(), at, option::of(0..3_000_usize), 0.0..=1.0, ".*", prop::bool::weighted(0.1))
}

fn entry(log: &Log, number: u64, (wish, at, clip, sureness, text, _): Said) -> (Entry, Vec<u8>) {
    let earlier = |at: usize| match log.entries() {
        [] => entry_id(9_999),
        entries => entries[at % entries.len()].id,
    };
    let (id, act) = match wish {
        Wish::Observe(observation) => (entry_id(number), Act::Observe { observation }),
        Wish::Correct(at, observation) => {
            (entry_id(number), Act::Correct { replaces: earlier(at), observation })
        }
        Wish::Withdraw(at) => (entry_id(number), Act::Withdraw { entry: earlier(at) }),
        Wish::Repeat(at) => (earlier(at), Act::Withdraw { entry: earlier(at) }),
        Wish::PointAtNothing => (entry_id(number), Act::Withdraw { entry: entry_id(8_888) }),
    };
    let clip = clip.map(|length| content(number, length));
    let origin = clip.as_deref().map_or(Origin::Typed, |clip| Origin::Spoken {
        clip: digest_of_bytes(clip),
        sureness: Probability::new(sureness).unwrap(),
        text,
    });
    let at = Timestamp::from_microsecond(at).unwrap();
    (Entry { id, at, origin, act }, clip.unwrap_or_default())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    #[test]
    fn the_log_in_the_file_is_the_log_of_core(all in prop::collection::vec(said(), 1..25)) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("jobs.bore");
        let mut workshop = Workshop::create(&path).unwrap();
        workshop.create_job(job_id(1), &job(0)).unwrap();
        let mut log = Log::new();
        for (number, said) in (0..).zip(all) {
            if said.5 {
                workshop.close().unwrap();
                workshop = Workshop::open(&path).unwrap();
            }
            let (entry, clip) = entry(&log, number, said);
            let given = vec![NewAttachment::from_bytes(MediaType::WAV, &clip)];
            let stored = workshop.append(job_id(1), std::slice::from_ref(&entry), given);
            match log.append(entry.clone()) {
                Ok(()) => stored.unwrap(),
                Err(reason) => {
                    let Err(StoreError::Refused(Refusal::Log(said))) = stored else {
                        panic!("{stored:?} where core says {reason}")
                    };
                    prop_assert_eq!(said, reason);
                    if let LogError::Duplicate(id) = reason {
                        prop_assert!(log.get(id).is_some());
                    }
                    continue;
                }
            }
            let kept = workshop.attachment(digest_of_bytes(&clip)).unwrap();
            prop_assert_eq!(kept.into_bytes().unwrap(), clip);
        }
        workshop.close().unwrap();
        let workshop = Workshop::open(&path).unwrap();
        prop_assert_eq!(workshop.load(job_id(1)).unwrap().log, log);
        workshop.check().unwrap();
    }
}
