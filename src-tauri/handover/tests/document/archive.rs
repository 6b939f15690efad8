//! The file itself: the same bytes each time, its standard, its attachments, what it leaves out.

use borespoke_handover::{Attachment, HandoverError, Paper, Relationship, typeset};

use crate::sample::{full, own_path, tool};

fn info(pdf: &[u8]) -> String {
    String::from_utf8(tool("pdfinfo", &["{}"], pdf)).unwrap()
}

fn entries() -> Attachment {
    Attachment {
        name: "entries.json".to_owned(),
        mime: "application/json".to_owned(),
        description: "Every entry of the job".to_owned(),
        relationship: Relationship::Data,
        bytes: br#"{"entries":[]}"#.to_vec(),
    }
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let data = full(6);
    let first = typeset(&data, Paper::A4).unwrap();
    typeset(&full(4), Paper::Letter).unwrap();
    assert!(first == typeset(&data.clone(), Paper::A4).unwrap());
}

#[test]
fn another_reading_gives_other_bytes() {
    let mut data = full(6);
    let first = typeset(&data, Paper::A4).unwrap();
    data.judgement.findings[0].advice.push('!');
    assert!(first != typeset(&data, Paper::A4).unwrap());
}

#[test]
fn the_dates_in_the_file_are_the_jobs() {
    let pdf = typeset(&full(6), Paper::A4).unwrap();
    let info = tool("pdfinfo", &["-isodates", "{}"], &pdf);
    let info = String::from_utf8(info).unwrap();
    assert!(info.contains("CreationDate:    2026-11-24T09:12:00"), "{info}");
}

#[test]
fn the_file_is_titled_tagged_and_says_its_standards() {
    let pdf = typeset(&full(6), Paper::A4).unwrap();
    let info = info(&pdf);
    for said in ["Engine check: Blue estate car, 1994, 24 November 2026", "Tagged:          yes"] {
        assert!(info.contains(said), "{info}");
    }
    // ISO 14289-1 and ISO 19005-3 want their marks in the file's own description.
    let whole = String::from_utf8_lossy(&pdf);
    for mark in ["<pdfuaid:part>1<", "<pdfaid:part>3<", "<pdfaid:conformance>A<"] {
        assert!(whole.contains(mark), "{mark}");
    }
    assert!(whole.contains("/Lang"), "no language");
}

#[test]
fn charts_and_pictures_have_words_for_those_who_listen() {
    let pdf = typeset(&full(6), Paper::A4).unwrap();
    let structure = tool("pdfinfo", &["-struct-text", "{}"], &pdf);
    let structure = String::from_utf8_lossy(&structure);
    assert!(structure.matches("Figure").count() >= 2 + 6, "{structure}");
    assert!(structure.contains("H1"), "{structure}");
    assert!(structure.contains("TH"), "{structure}");
}

#[test]
fn an_attachment_comes_out_as_it_went_in() {
    let mut data = full(6);
    data.attachments.push(entries());
    let pdf = typeset(&data, Paper::A4).unwrap();
    let out = own_path("entries.json");
    tool("pdfdetach", &["-savefile", "entries.json", "-o", &out, "{}"], &pdf);
    let out = std::fs::read(out).unwrap();
    assert_eq!(out, data.attachments[0].bytes);
}

#[test]
fn attachments_that_cannot_be_told_apart_are_refused() {
    let mut data = full(6);
    data.attachments = vec![entries(), entries()];
    let twice = HandoverError::AttachmentName("entries.json".to_owned());
    assert_eq!(typeset(&data, Paper::A4), Err(twice));
    data.attachments.truncate(1);
    for name in ["", "../up", "a/b", "c:d", ".hidden"] {
        data.attachments[0].name = name.to_owned();
        let refusal = typeset(&data, Paper::A4);
        assert_eq!(refusal, Err(HandoverError::AttachmentName(name.to_owned())));
    }
}
