//! A job in other forms, and taken in again.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::{Value, json};

use crate::support::{CaseFolder, Run, ask, borespoke, root};

const EVIL: &str = "=HYPERLINK(\\\"x\\\")<script>alert('x')</script>";

/// A job with a correction, a range, a remark and a picture that says where it was taken.
fn job() -> CaseFolder {
    let entries = [
        r#"{"kind":"cranking","cylinder":1,"value":10,"unit":"bar","wet":false}"#,
        r#"{"kind":"cranking","cylinder":2,"value":120,"unit":"psi","wet":false}"#,
        r#"{"kind":"correction","cylinder":2,"value":140,"unit":"psi","wet":false}"#,
        r#"{"kind":"leak-down","cylinder":3,"value":22,"unit":"percent"}"#,
        r#"{"kind":"gap","cylinder":4,"value":35,"unit":"thou"}"#,
        r#"{"kind":"remark","text":"-1+1 <b>bold</b>"}"#,
    ]
    .join("\n");
    let description = format!(
        r#"{{"invented": true, "customer": "{EVIL}",
            "engine": {{"cylinders": 4, "firing_order": [1, 3, 4, 2]}}}}"#
    );
    let plain = fs::read(root().join("demo-data/plugs/plug-1.jpg")).unwrap();
    let case = CaseFolder::new(&description)
        .with("entries.jsonl", entries.as_bytes())
        .with("plugs/plug-1.jpg", &with_place(&plain));
    case.take().exits(0);
    case
}

/// A JPEG with a place in it: EXIF 2.3 (JEITA CP-3451C), an APP1 segment with a TIFF head, whose
/// one directory points at a GPS directory with a latitude reference and a serial number in words.
fn with_place(jpeg: &[u8]) -> Vec<u8> {
    let mut tiff = b"II*\0\x08\0\0\0".to_vec();
    // One field: GPSInfo (0x8825), LONG, one, at 26. Then no further directory.
    tiff.extend([1, 0, 0x25, 0x88, 4, 0, 1, 0, 0, 0, 26, 0, 0, 0, 0, 0, 0, 0]);
    // One field: GPSLatitudeRef (1), ASCII, two, "N". Then the end, and a serial number after it.
    tiff.extend([1, 0, 1, 0, 2, 0, 2, 0, 0, 0, b'N', 0, 0, 0, 0, 0, 0, 0]);
    tiff.extend(b"SERIAL-4711 51.5007 N");
    let mut segment = b"Exif\0\0".to_vec();
    segment.extend(tiff);
    let length = u16::try_from(segment.len() + 2).unwrap().to_be_bytes();
    [&jpeg[..2], &[0xff, 0xe1], &length, &segment, &jpeg[2..]].concat()
}

fn export(case: &CaseFolder, out: &Path, wanted: &[&str]) -> Run {
    let file = case.job_file();
    let mut arguments = vec!["export", file.to_str().unwrap(), "--out", out.to_str().unwrap()];
    arguments.extend(wanted);
    borespoke(arguments)
}

fn exported(case: &CaseFolder, name: &str, wanted: &[&str]) -> String {
    let out = case.path().join(name);
    export(case, &out, wanted).exits(0);
    fs::read_to_string(out).unwrap()
}

fn import(file: &Path, record: &Path, clips: Option<&Path>) -> Run {
    let mut arguments = vec!["import", file.to_str().unwrap(), record.to_str().unwrap(), "--json"];
    if let Some(clips) = clips {
        arguments.extend(["--clips", clips.to_str().unwrap()]);
    }
    borespoke(arguments)
}

/// Runs Python with this program and these arguments.
fn python(program: &str, arguments: &[&Path]) -> String {
    let run = Command::new("/usr/bin/python3").arg("-c").arg(program).args(arguments).output();
    let run = run.unwrap_or_else(|fault| panic!("python3: {fault}"));
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    String::from_utf8(run.stdout).unwrap()
}

#[test]
fn the_table_has_an_entry_a_row_and_its_units_in_the_heads() {
    let case = job();
    exported(&case, "job.csv", &["--as", "csv"]);
    // Read by another program.
    let rows: Vec<Value> = serde_json::from_str(&python(
        "import csv, json, sys; print(json.dumps(list(csv.DictReader(open(sys.argv[1], newline='')))))",
        &[&case.path().join("job.csv")],
    ))
    .unwrap();
    assert_eq!(rows.len(), 7);
    let of = |kind: &str| rows.iter().filter(|row| row["kind"] == kind).collect::<Vec<_>>();
    let cranking = of("cranking");
    assert_eq!(cranking[0]["stated"], "10");
    assert_eq!(cranking[0]["unit"], "bar");
    // 1 bar is 100 kPa; 140 psi is 965.266 kPa, 35 thou 0.889 mm (NIST SP 811, appendix B.8).
    assert_eq!(cranking[0]["pressure_kpa"], "1000");
    assert_eq!(cranking[2]["pressure_kpa"], "965.266");
    assert_eq!(of("gap")[0]["gap_mm"], "0.889");
    assert_eq!(of("leak-down")[0]["leak_percent"], "22");
    let standing: Vec<_> = cranking.iter().map(|row| row["in_force"].as_str().unwrap()).collect();
    assert_eq!(standing, ["true", "false", "true"]);
    assert_eq!(cranking[2]["points_at"], cranking[1]["entry"]);
    // A spreadsheet must not take words for a formula.
    assert!(rows[0]["customer"].as_str().unwrap().starts_with("'="));
    assert!(of("remark")[0]["remark"].as_str().unwrap().starts_with("'-1+1"));
}

#[test]
fn all_jobs_go_into_one_table() {
    let case = job();
    let other = CaseFolder::new(r#"{"engine": {"cylinders": 1, "firing_order": [1]}}"#)
        .with("entries.jsonl", br#"{"kind":"cranking","cylinder":1,"value":90,"unit":"psi"}"#);
    other.take_into(&case.job_file()).exits(0);
    let all = exported(&case, "all.csv", &["--as", "csv", "--all"]);
    assert_eq!(all.lines().count(), 1 + 7 + 1);
    assert_eq!(exported(&case, "one.csv", &["--as", "csv"]).lines().count(), 1 + 1);
}

#[test]
fn the_page_runs_nothing_fetches_nothing_and_says_words_as_words() {
    let case = job();
    let page = exported(&case, "job.html", &["--as", "html"]);
    assert!(!page.contains("<script") && !page.contains("<b>bold</b>"), "{page}");
    assert!(page.contains("&lt;script&gt;") && page.contains("&lt;b&gt;bold&lt;/b&gt;"));
    for outside in ["http://", "https://", "url(", "@import", "<link", "<iframe", "onerror"] {
        assert!(!page.contains(outside), "{outside}");
    }
    for needed in
        ["<html lang=\"en\">", "<title>", "scope=\"row\"", "alt=\"Spark plug of cylinder 1"]
    {
        assert!(page.contains(needed), "{needed}");
    }
    // Every element that is opened is closed, in order.
    python(
        "import sys\nfrom html.parser import HTMLParser\n\
         class Reader(HTMLParser):\n    open = []\n\
         \x20   def handle_starttag(self, tag, attrs):\n\
         \x20       if tag not in ('meta', 'img'): self.open.append(tag)\n\
         \x20   def handle_endtag(self, tag):\n        assert self.open.pop() == tag, tag\n\
         reader = Reader(); reader.feed(open(sys.argv[1]).read()); assert not reader.open, reader.open",
        &[&case.path().join("job.html")],
    );
}

#[test]
fn no_picture_leaves_with_the_place_it_was_taken() {
    let case = job();
    exported(&case, "job.html", &["--as", "html"]);
    let pdf = case.path().join("job.pdf");
    let file = case.job_file();
    borespoke(["handover", file.to_str().unwrap(), "--out", pdf.to_str().unwrap()]).exits(0);
    let found = python(
        "import base64, re, sys\n\
         page = open(sys.argv[1]).read()\n\
         jpegs = [base64.b64decode(j) for j in re.findall('base64,([^\"]+)', page)]\n\
         assert len(jpegs) == 1 and jpegs[0][:2] == b'\\xff\\xd8'\n\
         print(any(s in f for f in jpegs + [open(sys.argv[2], 'rb').read()] for s in (b'Exif', b'SERIAL', b'51.5007')))",
        &[&case.path().join("job.html"), &pdf],
    );
    assert_eq!(found.trim(), "False");
}

#[test]
fn the_record_and_the_seal_are_as_their_schemas_say() {
    let case = job();
    exported(&case, "record.json", &["--as", "json"]);
    exported(&case, "redacted.json", &["--as", "json", "--redact"]);
    let pdf = case.path().join("job.pdf");
    let seal = case.path().join("seal.json");
    let file = case.job_file();
    borespoke(["handover", file.to_str().unwrap(), "--out", pdf.to_str().unwrap()]).exits(0);
    let out = ["-savefile", "seal.json", "-o", seal.to_str().unwrap(), pdf.to_str().unwrap()];
    assert!(Command::new("pdfdetach").args(out).status().unwrap().success());
    let schema = |name: &str| root().join("docs/schema").join(name);
    let check = "import json, sys, jsonschema\n\
        schema = json.load(open(sys.argv[1]))\n\
        jsonschema.Draft202012Validator.check_schema(schema)\n\
        found = json.load(open(sys.argv[2]))\n\
        jsonschema.Draft202012Validator(schema).validate(found)\n\
        print(jsonschema.Draft202012Validator(schema).is_valid({**found, 'version': 2}))";
    for (name, path) in [
        ("record-1.schema.json", case.path().join("record.json")),
        ("record-1.schema.json", case.path().join("redacted.json")),
        ("seal-1.schema.json", seal),
    ] {
        assert_eq!(python(check, &[&schema(name), &path]).trim(), "False", "{name}");
    }
}

/// A record with its clips, and a file to take it into.
fn record() -> (CaseFolder, PathBuf, PathBuf, PathBuf) {
    let case = job();
    let [record, clips, other] =
        ["record.json", "clips", "other.borespoke"].map(|name| case.path().join(name));
    export(&case, &record, &["--as", "json", "--clips", clips.to_str().unwrap()]).exits(0);
    (case, record, clips, other)
}

#[test]
fn a_record_taken_in_gives_the_same_job_and_twice_changes_nothing() {
    let (case, record, clips, other) = record();
    let first = import(&other, &record, Some(&clips)).exits(0).lines();
    assert_eq!((&first[0]["made"], &first[0]["entries"]), (&json!(true), &json!(7)));
    let again = import(&other, &record, None).exits(0).lines();
    assert_eq!((&again[0]["made"], &again[0]["entries"]), (&json!(false), &json!(0)));
    for command in ["table", "findings"] {
        assert_eq!(ask(command, &other).exits(0).out, ask(command, &case.job_file()).exits(0).out);
    }
}

#[test]
fn nothing_is_taken_in_by_half() {
    let (_case, record, clips, other) = record();
    let whole: Value = serde_json::from_slice(&fs::read(&record).unwrap()).unwrap();
    let bad = record.with_file_name("bad.json");
    let refuse = |content: &[u8], clips: Option<&Path>, says: &str| {
        fs::write(&bad, content).unwrap();
        let run = import(&other, &bad, clips).exits(1);
        let said = run.err.split_whitespace().collect::<Vec<_>>().join(" ").replace("│ ", "");
        assert!(said.contains(says), "{says}: {said}");
        if other.exists() {
            assert!(ask("table", &other).exits(1).err.contains("none yet"));
        }
    };
    refuse(b"", None, "is not taken in");
    refuse(b"{}", None, "is not taken in");
    refuse(&fs::read(&record).unwrap()[..400], None, "is not taken in");
    let mut changed = whole.clone();
    changed["lines"][3]["content"]["at"] = json!("2026-01-01T00:00:00Z");
    refuse(changed.to_string().as_bytes(), Some(&clips), "it was changed");
    let mut withheld = whole.clone();
    withheld["lines"][1].as_object_mut().unwrap().remove("content");
    refuse(withheld.to_string().as_bytes(), Some(&clips), "withheld");
    refuse(whole.to_string().as_bytes(), None, "is not given");
    // A clip of another content under the right name.
    let picture = fs::read_dir(&clips).unwrap().next().unwrap().unwrap().path();
    fs::write(picture, b"something else").unwrap();
    refuse(whole.to_string().as_bytes(), Some(&clips), "is not given");
}

#[test]
fn everything_about_a_customer_is_written_and_nothing_of_another() {
    let case = job();
    let other = CaseFolder::new(
        r#"{"customer": "B. Other", "engine": {"cylinders": 1, "firing_order": [1]}}"#,
    );
    other.take_into(&case.job_file()).exits(0);
    let folder = case.path().join("everything");
    export(&case, &folder, &["--customer", &EVIL.replace('\\', "")]).exits(0);
    let jobs: Vec<_> = fs::read_dir(&folder).unwrap().map(|job| job.unwrap().path()).collect();
    assert_eq!(jobs.len(), 1);
    for name in ["job.html", "entries.csv", "record.json"] {
        let text = fs::read_to_string(jobs[0].join(name)).unwrap();
        assert!(text.contains("HYPERLINK") && !text.contains("B. Other"), "{name}");
    }
    assert_eq!(fs::read_dir(jobs[0].join("clips")).unwrap().count(), 1);
    let run = export(&case, &folder, &["--customer", "Nobody"]).exits(1);
    assert!(run.err.contains("no job of \"Nobody\""), "{}", run.err);
}
