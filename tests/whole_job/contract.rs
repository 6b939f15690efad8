//! The binary's contract: exit codes, JSON lines on standard output and nothing else there, and
//! the promise that taking a case twice changes nothing.

use crate::support::{CaseFolder, SIX, ask, borespoke};

#[test]
fn wrong_usage_exits_with_two() {
    borespoke(["take"]).exits(2);
    borespoke(["no-such-command"]).exits(2);
    borespoke(["plugs", "--reference", "1,2,3", "a.jpg"]).exits(2);
}

#[test]
fn help_teaches_a_first_run() {
    let help = borespoke(["--help"]).exits(0).out;
    for word in ["take", "hear", "table", "findings", "plugs", "handover", "verify", "Exit codes"] {
        assert!(help.contains(word), "{word} is not in:\n{help}");
    }
}

#[test]
fn typed_entries_correct_and_withdraw_each_other() {
    let entries = [
        r#"{"kind":"cranking","cylinder":1,"value":150,"unit":"psi","wet":false}"#,
        r#"{"kind":"cranking","cylinder":2,"value":120,"unit":"psi","wet":false}"#,
        r#"{"kind":"correction","cylinder":1,"value":140,"unit":"psi","wet":false}"#,
        r#"{"kind":"withdrawal","cylinder":2}"#,
        r#"{"kind":"leak-down","cylinder":3,"value":22,"unit":"percent"}"#,
        r#"{"kind":"tap","cylinder":3,"value":9,"unit":"percent"}"#,
        r#"{"kind":"listening","cylinder":3,"at":"oil filler"}"#,
        r#"{"kind":"gap","cylinder":4,"value":35,"unit":"thou"}"#,
    ]
    .join("\n");
    let case = CaseFolder::new(SIX).with("entries.jsonl", entries.as_bytes());
    case.take().exits(0);
    let rows = ask("table", &case.job_file()).exits(0).lines();
    assert_eq!(rows.len(), 6);
    assert_eq!(rows[0]["dry"], 140.0);
    assert!(rows[1]["dry"].is_null());
    assert_eq!(rows[2]["leak_percent"], 22.0);
    assert_eq!(rows[2]["leak_tapped_percent"], 9.0);
    assert_eq!(rows[2]["air"][0], "oil filler");
    assert_eq!(rows[3]["gap"], 35.0);

    // The same case again: nothing is doubled.
    let again = case.take().exits(0).lines();
    assert_eq!(again.last().unwrap()["entries"], 0);
    assert_eq!(ask("table", &case.job_file()).exits(0).lines(), rows);
}

#[test]
fn findings_come_most_probable_first_then_next_steps() {
    let mut entries = String::new();
    for (cylinder, dry, leak) in
        [(1, 150, 8), (2, 152, 9), (3, 148, 7), (4, 151, 8), (5, 60, 65), (6, 149, 9)]
    {
        entries += &format!(
            "{{\"kind\":\"cranking\",\"cylinder\":{cylinder},\"value\":{dry},\"unit\":\"psi\"}}\n\
             {{\"kind\":\"leak-down\",\"cylinder\":{cylinder},\"value\":{leak},\"unit\":\"percent\"}}\n"
        );
    }
    entries +=
        "{\"kind\":\"cranking\",\"cylinder\":5,\"value\":62,\"unit\":\"psi\",\"wet\":true}\n";
    entries += "{\"kind\":\"listening\",\"cylinder\":5,\"at\":\"exhaust\"}\n";
    let case = CaseFolder::new(SIX).with("entries.jsonl", entries.as_bytes());
    case.take().exits(0);
    let lines = ask("findings", &case.job_file()).exits(0).lines();
    let findings: Vec<_> = lines.iter().filter(|line| line.get("cause").is_some()).collect();
    let probabilities: Vec<f64> =
        findings.iter().map(|finding| finding["probability"].as_f64().unwrap()).collect();
    assert!(probabilities.windows(2).all(|pair| pair[0] >= pair[1]), "{probabilities:?}");
    assert!(findings[0]["cause"].as_str().unwrap().contains("exhaust valve"), "{}", findings[0]);
    assert_eq!(findings[0]["cylinders"][0], 5);
    assert!(!findings[0]["for"].as_array().unwrap().is_empty());
    let text = borespoke(["findings".as_ref(), case.job_file().as_os_str()]).exits(0).out;
    assert!(!text.contains("buy"), "{text}");
}

#[test]
fn a_handover_of_an_empty_job_is_still_a_document() {
    let case = CaseFolder::new(SIX);
    case.take().exits(0);
    let pdf = case.path().join("handover.pdf");
    borespoke([
        "handover".as_ref(),
        case.job_file().as_os_str(),
        "--out".as_ref(),
        pdf.as_os_str(),
        "--json".as_ref(),
    ])
    .exits(0);
    assert!(std::fs::read(pdf).unwrap().starts_with(b"%PDF-"));
}
