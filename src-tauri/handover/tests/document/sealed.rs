//! The sealed document: what holds, and that nothing can be changed unseen.

use borespoke_core::job::JobId;
use borespoke_core::record::{Act, Observation};
use borespoke_handover::proof::{
    Change, Examined, Fault, Kind, Opened, PdfFault, RECORD_FILE, Record, SEAL_FILE, Seal, SealKey,
    compare_pages, examine, fingerprint, printed_pictures, read, reprint, typeset_sealed,
};
use borespoke_handover::{HandoverData, Paper};
use proptest::prelude::*;
use serde_json::{Value, json};

use crate::sample::{full, own_path, tool};

fn key(byte: u8) -> SealKey {
    SealKey::from_secret(&[byte; 32])
}

fn record(data: &HandoverData, key: &SealKey) -> Record {
    let id = JobId(data.job_id.parse().unwrap());
    Record::new(id, 1, &data.job, &data.log, &key.salt()).unwrap()
}

struct Sample {
    data: HandoverData,
    pdf: Vec<u8>,
    opened: Opened,
    seal: Seal,
}

fn sample() -> Sample {
    let data = full(4);
    let (pdf, seal) = typeset_sealed(&data, Paper::A4, &record(&data, &key(1)), &key(1)).unwrap();
    let opened = read(&pdf).unwrap();
    Sample { data, pdf, opened, seal }
}

impl Sample {
    /// The data as a stranger has it: from the document alone, but for the judgement.
    fn told(&self) -> HandoverData {
        HandoverData { pictures: printed_pictures(&self.seal, &self.opened), ..self.data.clone() }
    }

    /// The document with other attached files.
    fn with_record(&self, record: &Value) -> Vec<u8> {
        self.with_file(RECORD_FILE, &serde_json::to_vec(record).unwrap())
    }

    fn with_file(&self, name: &str, bytes: &[u8]) -> Vec<u8> {
        let mut opened = self.opened.clone();
        opened.attached.get_mut(name).unwrap().bytes = bytes.to_vec();
        reprint(&self.told(), &self.seal, &opened).unwrap()
    }

    fn record_json(&self) -> Value {
        serde_json::from_slice(self.opened.record().unwrap()).unwrap()
    }
}

fn holds(examined: &Examined) -> bool {
    examined.changes.is_empty() && examined.checks.iter().all(|check| check.holds == Some(true))
}

fn broken(examined: &Examined) -> Vec<&'static str> {
    examined.checks.iter().filter(|c| c.holds == Some(false)).map(|c| c.check).collect()
}

#[test]
fn a_sealed_document_holds_and_is_the_same_each_time() {
    let sample = sample();
    let examined = examine(&sample.pdf).unwrap();
    assert!(holds(&examined), "{:?} {:?}", examined.checks, examined.changes);
    let again = typeset_sealed(&sample.data, Paper::A4, &record(&sample.data, &key(1)), &key(1));
    assert!(again.unwrap().0 == sample.pdf);
    assert!(reprint(&sample.told(), &sample.seal, &sample.opened).unwrap() == sample.pdf);
}

#[test]
fn the_record_tells_the_whole_job() {
    let sample = sample();
    let record = Record::from_json(sample.opened.record().unwrap()).unwrap();
    let (id, revision, job) = record.job().unwrap();
    assert_eq!(
        (id.to_string(), revision, job),
        (sample.data.job_id.clone(), 1, sample.data.job.clone())
    );
    assert_eq!(record.log().unwrap(), sample.data.log);
}

#[test]
fn the_code_stands_on_the_first_page_and_in_the_drawing() {
    let sample = sample();
    let code = sample.seal.code().to_string();
    let page = sample.opened.pages[0].runs.join(" ");
    assert!(page.contains(&code[..9]) && page.contains(&code[10..]), "{code} in {page}");
    let structure = tool("pdfinfo", &["-struct-text", "{}"], &sample.pdf);
    assert!(!structure.is_empty());
}

#[test]
fn another_key_gives_another_code_and_fingerprint() {
    let data = full(2);
    let (_, one) = typeset_sealed(&data, Paper::A4, &record(&data, &key(1)), &key(1)).unwrap();
    let (_, two) = typeset_sealed(&data, Paper::A4, &record(&data, &key(2)), &key(2)).unwrap();
    assert_ne!(one.code(), two.code());
    assert_ne!(fingerprint(&one.key), fingerprint(&two.key));
}

#[test]
fn a_changed_entry_is_named() {
    let sample = sample();
    let mut json = sample.record_json();
    json["lines"][2]["content"]["observation"]["pressure"]["value"] = json!(155.0);
    let examined = examine(&sample.with_record(&json)).unwrap();
    let id = sample.data.log.entries()[0].id.to_string();
    let named = Change::Line { line: 3, is: Kind::Entry, entry: Some(id) };
    assert!(examined.changes.contains(&named), "{:?}", examined.changes);
    assert_eq!(broken(&examined), ["chain", "pages-under-seal"]);
}

#[test]
fn a_changed_name_and_changed_words_are_named() {
    let sample = sample();
    let mut json = sample.record_json();
    json["lines"][1]["content"]["customer"] = json!("Somebody Else");
    json["lines"][3]["content"]["heard"] = json!("cylinder 1 192");
    let examined = examine(&sample.with_record(&json)).unwrap();
    let lines: Vec<(usize, Kind)> = examined
        .changes
        .iter()
        .filter_map(|change| match change {
            Change::Line { line, is, .. } => Some((*line, *is)),
            _ => None,
        })
        .collect();
    assert_eq!(lines, [(2, Kind::People), (4, Kind::Words)]);
}

#[test]
fn a_line_moved_taken_out_or_doubled_is_found_where_it_is() {
    let sample = sample();
    let order = |json: &Value| -> Vec<usize> {
        let record = Record::from_json(&serde_json::to_vec(json).unwrap()).unwrap();
        record
            .faults()
            .iter()
            .map(|fault| match fault {
                Fault::Order { line } | Fault::Line { line, .. } => *line,
            })
            .collect()
    };
    let lines = |json: &mut Value| json["lines"].as_array().unwrap().clone();

    let mut moved = sample.record_json();
    let mut list = lines(&mut moved);
    list.swap(4, 6);
    moved["lines"] = json!(list);
    assert_eq!(order(&moved), [5, 6, 7, 8]);

    let mut out = sample.record_json();
    let mut list = lines(&mut out);
    list.remove(5);
    out["lines"] = json!(list);
    assert_eq!(order(&out), [6]);

    let mut doubled = sample.record_json();
    let mut list = lines(&mut doubled);
    list.insert(5, list[5].clone());
    doubled["lines"] = json!(list);
    assert_eq!(order(&doubled), [7]);

    // Cut at the end, the chain itself cannot tell; the seal does.
    let mut short = sample.record_json();
    let mut list = lines(&mut short);
    list.pop();
    short["lines"] = json!(list);
    assert_eq!(order(&short), [0; 0]);
    let examined = examine(&sample.with_record(&short)).unwrap();
    assert!(broken(&examined).contains(&"record-under-seal"));
    assert!(examined.changes.iter().any(|change| matches!(change, Change::Length { .. })));
}

#[test]
fn a_record_made_anew_needs_a_seal_made_anew() {
    let sample = sample();
    let mut other = sample.data.clone();
    other.job.customer = "Somebody Else".to_owned();
    let forged = record(&other, &key(1));
    assert!(forged.faults().is_empty());
    let examined = examine(&sample.with_file(RECORD_FILE, &forged.to_json())).unwrap();
    assert!(broken(&examined).contains(&"record-under-seal"));
}

#[test]
fn a_changed_seal_does_not_hold() {
    let sample = sample();
    let seal: Value = serde_json::from_slice(sample.opened.seal().unwrap()).unwrap();
    let signature = seal["signature"].as_str().unwrap();
    let flipped = if signature.starts_with('0') { "1" } else { "0" };
    for (field, value) in [
        ("signature", json!(format!("{flipped}{}", &signature[1..]))),
        ("signature", json!("00")),
        ("lines", json!(1)),
        ("key", json!(key(2).public())),
        ("key", json!("02".repeat(32))),
        ("made_by", json!("somebody")),
        ("utc_offset_seconds", json!(0)),
        ("pages", json!([])),
    ] {
        let mut changed = seal.clone();
        changed[field] = value;
        let pdf = sample.with_file(SEAL_FILE, &serde_json::to_vec(&changed).unwrap());
        let examined = examine(&pdf).unwrap();
        assert!(broken(&examined).contains(&"signature"), "{field}: {:?}", examined.checks);
    }
}

#[test]
fn a_page_that_says_something_else_is_found_and_quoted() {
    let sample = sample();
    let mut told = sample.told();
    told.job.customer = "Eve Example".to_owned();
    let forged = reprint(&told, &sample.seal, &sample.opened).unwrap();
    let examined = examine(&forged).unwrap();
    assert!(examined.changes.contains(&Change::Page { page: 1 }), "{:?}", examined.changes);
    assert!(!examined.changes.contains(&Change::Page { page: 2 }), "{:?}", examined.changes);
    let right = reprint(&sample.told(), &sample.seal, &sample.opened).unwrap();
    let differing = compare_pages(&examined.opened, &read(&right).unwrap());
    let quoted = Change::Text {
        page: 1,
        reads: "Eve Example".to_owned(),
        entries_say: "Ada Example".to_owned(),
    };
    assert!(differing.contains(&quoted), "{differing:?}");
}

#[test]
fn a_changed_picture_is_found() {
    let sample = sample();
    let mut told = sample.told();
    told.pictures[1].file = told.pictures[0].file.clone();
    let examined = examine(&reprint(&told, &sample.seal, &sample.opened).unwrap()).unwrap();
    assert!(examined.changes.contains(&Change::Picture { cylinder: 2 }), "{:?}", examined.changes);
}

#[test]
fn names_and_words_can_be_withheld_and_the_chain_still_holds() {
    let sample = sample();
    let whole = Record::from_json(sample.opened.record().unwrap()).unwrap();
    let head = whole.head();
    let redacted = whole.withholding(&[Kind::People, Kind::Words]);
    assert!(redacted.faults().is_empty());
    assert_eq!(redacted.head(), head);
    let (_, _, job) = redacted.job().unwrap();
    assert_eq!((job.customer.as_str(), job.vehicle.as_str()), ("withheld", "Vehicle withheld"));
    let log = redacted.log().unwrap();
    assert_eq!(log.entries().len(), sample.data.log.entries().len());
    let said = String::from_utf8(redacted.to_json()).unwrap();
    for secret in ["Ada", "Blue estate", "oil on the thread", "long trip", "ninety"] {
        assert!(!said.contains(secret), "{secret}");
    }
    let readings = |entries: &[borespoke_core::record::Entry]| -> Vec<Option<Observation>> {
        entries
            .iter()
            .filter(|e| !matches!(&e.act, Act::Observe { observation: Observation::Remark(_) }))
            .map(|entry| entry.act.observation().cloned())
            .collect()
    };
    assert_eq!(readings(log.entries()), readings(sample.data.log.entries()));
}

/// A withheld name cannot be found by trying names: the digest has a secret number in it.
#[test]
fn two_keys_give_one_name_two_digests() {
    let data = full(2);
    let people = |byte| record(&data, &key(byte)).lines[1].digest;
    assert_ne!(people(1), people(2));
}

#[test]
fn a_document_without_a_seal_is_told_apart() {
    let pdf = borespoke_handover::typeset(&full(2), Paper::A4).unwrap();
    let examined = examine(&pdf).unwrap();
    assert_eq!(broken(&examined), ["record", "seal"]);
}

#[test]
fn a_strangers_record_is_refused_by_what_it_is() {
    let sample = sample();
    for (bytes, says) in [
        (&b""[..], "cannot be read"),
        (b"[]", "cannot be read"),
        (b"\xff\xfe", "cannot be read"),
        (br#"{"format":"x","version":1,"lines":[]}"#, "\"x\""),
        (br#"{"format":"borespoke record","version":9,"lines":[]}"#, "version 9"),
    ] {
        let examined = examine(&sample.with_file(RECORD_FILE, bytes)).unwrap();
        let check = examined.checks.iter().find(|check| check.check == "record").unwrap();
        assert!(check.holds == Some(false) && check.says.contains(says), "{check:?}");
    }
}

#[test]
fn a_truncated_document_is_an_error_or_does_not_hold() {
    let sample = sample();
    let length = sample.pdf.len();
    for cut in [1, 10, 1000, length / 3, length / 2, length - 2000, length - 600, length - 8] {
        match examine(&sample.pdf[..cut]) {
            Err(fault) => assert_ne!(fault, PdfFault::Empty),
            Ok(examined) => assert!(!holds(&examined), "cut at {cut}"),
        }
    }
}

/// The PDF standards' own marks for attached files, read by another program.
#[test]
fn both_files_come_out_with_another_program() {
    let sample = sample();
    for name in [RECORD_FILE, SEAL_FILE] {
        let out = own_path(name);
        tool("pdfdetach", &["-savefile", name, "-o", &out, "{}"], &sample.pdf);
        assert_eq!(std::fs::read(out).unwrap(), sample.opened.attached[name].bytes);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    /// One byte changed anywhere: what the file shows or carries is found to be changed, or the
    /// byte is one that no reader of it looks at, and then nothing that it shows or carries differs.
    #[test]
    fn no_byte_changes_what_is_shown_unseen(at in 0.0..1.0_f64, bit in 0_u8..8) {
        static SAMPLE: std::sync::LazyLock<Sample> = std::sync::LazyLock::new(sample);
        let mut pdf = SAMPLE.pdf.clone();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in the file")]
        let place = (at * pdf.len() as f64) as usize;
        pdf[place] ^= 1 << bit;
        if let Ok(examined) = examine(&pdf)
            && holds(&examined)
        {
            prop_assert_eq!(&examined.opened, &SAMPLE.opened, "byte {}", place);
        }
    }
}
