//! Whatever a job holds, the document stands, and says it as plain text.

use borespoke_core::record::{Act, Entry, Observation, Origin, Remark};
use borespoke_handover::{HandoverError, Paper, PictureFile, typeset};

use crate::sample::{flowing, full, pages, with_log};

#[test]
fn markup_in_a_name_is_a_name() {
    let mut data = full(6);
    data.job.customer =
        "#panic(\"x\") *bold* _it_ $x^2$ `raw` <label> @ref \\ #{1+1} [a] // c".into();
    data.job.vehicle = "= Heading #let x = 1 #read(\"/etc/passwd\")".into();
    data.job.question = "#import \"x.typ\": * ~ -- --- ... 'q' \"q\" #sys.inputs".into();
    let text = flowing(&data);
    for said in [&data.job.customer, &data.job.vehicle, &data.job.question] {
        assert!(text.contains(said.as_str()), "{said} in {text}");
    }
}

#[test]
fn markup_in_every_other_text_is_text() {
    let mut data = full(6);
    let evil = "#panic(\"x\") *b*";
    for finding in &mut data.judgement.findings {
        finding.cause = evil.into();
        finding.plain = evil.into();
        finding.advice = evil.into();
        finding.source = evil.into();
        finding.in_favour[0].says = evil.into();
    }
    data.judgement.next_steps[0].next_step = evil.into();
    data.judgement.next_steps[0].settles = evil.into();
    data.job.testers[0].name = evil.into();
    data.job.conditions.notes = vec![evil.into()];
    data.job_id = evil.into();
    assert!(flowing(&data).matches(evil).count() >= 10);
}

#[test]
fn a_name_with_line_breaks_stays_on_its_line() {
    let mut data = full(6);
    data.job.customer = "Ada\n\n\tExample\r\nof\u{2028}Nowhere\u{0}\u{7}".into();
    assert!(flowing(&data).contains("Ada Example of Nowhere"));
}

#[test]
fn very_long_names_stay_on_the_paper() {
    let mut data = full(6);
    data.job.vehicle = "W".repeat(5_000);
    data.job.customer = "long ".repeat(2_000);
    data.job.question = "why? ".repeat(5_000);
    data.judgement.findings[0].plain = "M".repeat(600);
    data.judgement.next_steps[0].next_step = "i".repeat(600);
    data.job.testers[0].name = "n".repeat(300);
    let pages = pages(&data);
    assert!(pages.len() <= 5, "{} pages", pages.len());
    let text = flowing(&data);
    let longest = text.split(' ').map(|word| word.chars().count()).max().unwrap_or(0);
    assert!(longest <= 200, "an unbroken line of {longest} characters");
}

#[test]
fn other_scripts_are_shown_or_boxed() {
    let mut data = full(6);
    data.job.customer = "Żółć Ωμέγα Жанна".into();
    data.job.vehicle = "שלום مرحبا 漢字 👩\u{200d}🔧 e\u{301}\u{302}\u{303}\u{304}".into();
    data.job.question = "\u{202e}reversed\u{202c} \u{e000} \u{fffe} ﷽ ไทย हिन्दी".into();
    let text = flowing(&data);
    assert!(text.contains("Żółć Ωμέγα Жанна"), "{text}");
    assert!(text.contains('ש'), "{text}");
    assert!(text.contains('□'), "{text}");
    assert!(text.contains("reversed"), "{text}");
}

#[test]
fn a_remark_of_an_hour_is_cut_with_a_sign() {
    let data = full(6);
    let mut log = data.log.clone();
    let last = log.entries().last().unwrap().clone();
    let text = "blah ".repeat(9_000);
    let observation = Observation::Remark(Remark { cylinder: None, text });
    let mut id = last.id;
    id.0 = uuid::Uuid::from_u128(id.0.as_u128() + 1);
    let act = Act::Observe { observation };
    log.append(Entry { id, at: last.at, origin: Origin::Typed, act }).unwrap();
    let data = with_log(data.job, log);
    let pages = pages(&data);
    assert!(pages.len() <= 3, "{} pages", pages.len());
    assert!(pages.concat().contains("blah …"));
}

#[test]
fn many_remarks_are_counted_not_printed() {
    let data = full(6);
    let mut log = data.log.clone();
    let last = log.entries().last().unwrap().clone();
    for number in 1..=40_u128 {
        let mut id = last.id;
        id.0 = uuid::Uuid::from_u128(id.0.as_u128() + number);
        let text = format!("remark number {number}");
        let observation = Observation::Remark(Remark { cylinder: None, text });
        let act = Act::Observe { observation };
        log.append(Entry { id, at: last.at, origin: Origin::Typed, act }).unwrap();
    }
    let text = flowing(&with_log(data.job, log));
    assert!(text.contains("“remark number 5”"), "{text}");
    assert!(text.contains("and 35 more, kept with the job"), "{text}");
}

#[test]
fn a_missing_picture_leaves_a_named_gap() {
    let mut data = full(6);
    data.pictures.remove(2);
    assert!(flowing(&data).contains("no picture"));
}

#[test]
fn a_broken_picture_is_named_with_its_fault() {
    let mut data = full(6);
    let PictureFile::AsTaken(whole) = data.pictures[1].file.clone() else { unreachable!() };
    data.pictures[1].file = PictureFile::AsTaken(whole[..70].to_vec());
    data.pictures[2].file = PictureFile::AsTaken(Vec::new());
    data.pictures[3].file = PictureFile::AsTaken(b"#!/bin/sh".to_vec());
    let text = flowing(&data);
    for said in [
        "plug-2.png cannot be shown: the picture is damaged",
        "plug-3.png cannot be shown: the file is empty",
        "plug-4.png cannot be shown: not a JPEG or PNG picture",
    ] {
        assert!(text.contains(said), "{said} in {text}");
    }
}

#[test]
fn a_table_of_another_engine_is_refused() {
    let mut data = full(6);
    data.table = full(4).table;
    let refusal = typeset(&data, Paper::A4).unwrap_err();
    assert_eq!(refusal, HandoverError::TableMismatch { rows: 4, cylinders: 6 });
    assert_eq!(
        refusal.to_string(),
        "handover: the cylinder table has 4 rows, the engine has 6 cylinders"
    );
}
