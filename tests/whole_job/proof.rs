//! A handover that went through other hands: what `verify` says of it.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::support::{CaseFolder, Run, SIX, borespoke, root};

/// A job with a picture, a correction and two remarks, and its document.
fn handed_over(wanted: &[&str]) -> (CaseFolder, PathBuf) {
    let entries = [
        r#"{"kind":"cranking","cylinder":1,"value":150,"unit":"psi","wet":false}"#,
        r#"{"kind":"cranking","cylinder":2,"value":120,"unit":"psi","wet":false}"#,
        r#"{"kind":"correction","cylinder":1,"value":140,"unit":"psi","wet":false}"#,
        r#"{"kind":"leak-down","cylinder":3,"value":22,"unit":"percent"}"#,
        r#"{"kind":"remark","text":"belongs to A. Neighbour"}"#,
    ]
    .join("\n");
    let picture = fs::read(root().join("demo-data/plugs/plug-1.jpg")).unwrap();
    let case = CaseFolder::new(SIX)
        .with("entries.jsonl", entries.as_bytes())
        .with("plugs/plug-1.jpg", &picture);
    case.take().exits(0);
    let pdf = case.path().join("handover.pdf");
    set(&case, &pdf, wanted).exits(0);
    (case, pdf)
}

fn set(case: &CaseFolder, pdf: &Path, wanted: &[&str]) -> Run {
    let mut arguments = vec!["handover", "--json", "--out", pdf.to_str().unwrap()];
    let file = case.job_file();
    arguments.push(file.to_str().unwrap());
    arguments.extend(wanted);
    borespoke(arguments)
}

fn verify(pdf: &Path) -> Run {
    borespoke(["verify".as_ref(), pdf.as_os_str(), "--json".as_ref()])
}

fn checks(lines: &[Value], holds: bool) -> Vec<&str> {
    lines.iter().filter(|l| l["holds"] == holds).filter_map(|l| l["check"].as_str()).collect()
}

fn says(lines: &[Value]) -> String {
    lines.iter().filter_map(|line| line["says"].as_str()).collect::<Vec<_>>().join("\n")
}

#[test]
fn an_untouched_document_holds_to_the_byte() {
    let (case, pdf) = handed_over(&[]);
    let lines = verify(&pdf).exits(0).lines();
    let last = lines.last().unwrap();
    assert_eq!(last["holds"], true);
    assert!(checks(&lines, false).is_empty(), "{lines:?}");
    assert!(says(&lines).contains("byte for byte"), "{lines:?}");
    // The same code is told at making, at verifying, and on the page.
    let made = set(&case, &case.path().join("again.pdf"), &[]).exits(0).lines();
    assert_eq!(made[0]["code"], last["code"]);
    assert_eq!(made[0]["key"], last["key"]);
    assert_eq!(fs::read(case.path().join("again.pdf")).unwrap(), fs::read(&pdf).unwrap());
    let file = case.job_file();
    let against = ["--against".as_ref(), file.as_os_str(), "--json".as_ref()];
    let run = borespoke([&["verify".as_ref(), pdf.as_os_str()], &against[..]].concat()).exits(0);
    assert!(says(&run.lines()).contains("the key is this workshop's"), "{}", run.out);
}

#[test]
fn letter_holds_too() {
    let (_case, pdf) = handed_over(&["--paper", "letter"]);
    verify(&pdf).exits(0);
}

#[test]
fn every_changed_byte_of_the_document_is_told() {
    let (case, pdf) = handed_over(&[]);
    let whole = fs::read(&pdf).unwrap();
    let changed = case.path().join("changed.pdf");
    for part in 1..12 {
        let mut bytes = whole.clone();
        let at = bytes.len() * part / 12;
        bytes[at] ^= 0x10;
        fs::write(&changed, &bytes).unwrap();
        let run = verify(&changed);
        assert!(!run.out.contains("byte for byte"), "byte {at}: {}", run.out);
        // Not found to be broken only where no reader of the document looks.
        assert!(run.code == 1 || run.out.contains("saved anew"), "byte {at}: {}", run.out);
    }
}

#[test]
fn a_redacted_document_holds_with_the_same_code_and_tells_no_names() {
    let (case, pdf) = handed_over(&[]);
    let code = verify(&pdf).exits(0).lines().last().unwrap()["code"].clone();
    let redacted = case.path().join("redacted.pdf");
    set(&case, &redacted, &["--redact"]).exits(0);
    let lines = verify(&redacted).exits(0).lines();
    assert_eq!(lines.last().unwrap()["code"], code);
    assert!(says(&lines).contains("withheld"), "{lines:?}");
    let text = |name: &str, arguments: &[&str]| {
        let run = std::process::Command::new(name).args(arguments).output().unwrap();
        String::from_utf8_lossy(&run.stdout).into_owned()
    };
    let page = text("pdftotext", &[redacted.to_str().unwrap(), "-"]);
    let out = case.path().join("record.json");
    text(
        "pdfdetach",
        &["-savefile", "record.json", "-o", out.to_str().unwrap(), redacted.to_str().unwrap()],
    );
    let record = fs::read_to_string(out).unwrap();
    for secret in ["A. Buyer", "Neighbour"] {
        assert!(!page.contains(secret) && !record.contains(secret), "{secret}");
    }
    assert!(page.contains("140"), "{page}");
    let file = case.job_file();
    let against = ["--against".as_ref(), file.as_os_str(), "--json".as_ref()];
    borespoke([&["verify".as_ref(), redacted.as_os_str()], &against[..]].concat()).exits(0);
}

#[test]
fn another_workshops_file_is_told_apart() {
    let (case, pdf) = handed_over(&[]);
    let (other, _) = handed_over(&[]);
    let file = other.job_file();
    let run =
        borespoke(["verify".as_ref(), pdf.as_os_str(), "--against".as_ref(), file.as_os_str()]);
    let run = run.exits(1);
    assert!(run.err.contains("is not in this file"), "{}", run.err);
    // The right file, but the key was lost and a new one made.
    let key = case.path().join("workshop.borespoke.key");
    fs::remove_file(key).unwrap();
    set(&case, &case.path().join("later.pdf"), &[]).exits(0);
    let file = case.job_file();
    let run =
        borespoke(["verify".as_ref(), pdf.as_os_str(), "--against".as_ref(), file.as_os_str()]);
    assert!(run.exits(1).out.contains("the key is not this workshop's"));
}

#[test]
fn what_is_no_handover_is_refused_by_what_it_is() {
    let case = CaseFolder::new(SIX);
    let path = case.path().join("x.pdf");
    for (bytes, says) in [
        (Vec::new(), "the file is empty"),
        (b"RIFF....WAVE".to_vec(), "the file is not a PDF"),
        (b"%PDF-1.7\nhalf".to_vec(), "the file is cut short"),
        (b"%PDF-1.7\nnothing\n%%EOF".to_vec(), "the file is damaged"),
        (vec![b' '; (64 << 20) + 1], "67108865 bytes"),
    ] {
        fs::write(&path, bytes).unwrap();
        let run = verify(&path).exits(1);
        assert!(run.err.contains(says), "{says}: {}", run.err);
        assert!(run.out.is_empty(), "{}", run.out);
    }
    let run = borespoke(["verify", "no-such-file.pdf"]).exits(1);
    assert!(run.err.contains("no-such-file.pdf"), "{}", run.err);
}

#[test]
fn a_truncated_handover_is_refused() {
    let (case, pdf) = handed_over(&[]);
    let whole = fs::read(&pdf).unwrap();
    let path = case.path().join("cut.pdf");
    for keep in [whole.len() / 4, whole.len() / 2, whole.len() - 100] {
        fs::write(&path, &whole[..keep]).unwrap();
        verify(&path).exits(1);
    }
}
