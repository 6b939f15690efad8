//! The invented demo case: what was said, entry by entry, against what was heard; and the numbers
//! of the document against both.

use std::fs;
use std::process::Command;

use serde_json::Value;

use crate::support::{ask, borespoke, root};

/// One row of `demo-data/script.tsv`: what must be heard in a clip.
struct Row {
    clip: String,
    words: String,
    must: Vec<Value>,
}

fn script() -> Vec<Row> {
    let text = fs::read_to_string(root().join("demo-data/script.tsv")).unwrap();
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let head: Vec<&str> = lines.next().unwrap().split('\t').collect();
    let column = |name: &str| {
        head.iter().position(|h| *h == name).unwrap_or_else(|| panic!("no column {name}: {head:?}"))
    };
    let (clip, words, must) = (column("clip"), column("words"), column("heard"));
    lines
        .map(|line| {
            let cells: Vec<&str> = line.split('\t').collect();
            Row {
                clip: cells[clip].to_owned(),
                words: cells[words].to_owned(),
                must: serde_json::from_str(cells[must]).unwrap(),
            }
        })
        .collect()
}

/// Whether an entry has every field that must be heard, with that value. `up_to` is the upper end
/// of a range, whose lower end is `value`.
fn has(entry: &Value, must: &Value) -> bool {
    must.as_object().unwrap().iter().all(|(key, wanted)| match key.as_str() {
        "value" if must.get("up_to").is_some() => same(&entry["from"], wanted),
        "up_to" => same(&entry["to"], wanted),
        "value" => same(&entry["value"], wanted),
        _ => &entry[key] == wanted,
    })
}

fn same(one: &Value, other: &Value) -> bool {
    match (one.as_f64(), other.as_f64()) {
        (Some(one), Some(other)) => (one - other).abs() < 1e-9,
        _ => false,
    }
}

/// The whole demo: heard, what was left open answered by hand, tabled, judged, set.
#[test]
fn nothing_is_taken_wrongly_and_the_whole_job_comes_out_right() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("demo.borespoke");
    let run = borespoke([
        "take".as_ref(),
        "demo-data".as_ref(),
        "--into".as_ref(),
        file.as_os_str(),
        "--json".as_ref(),
    ])
    .exits(0);
    let lines = run.lines();
    let mut exact = 0;
    let mut wrong = Vec::new();
    for row in script() {
        let heard = lines
            .iter()
            .find(|line| line["clip"] == row.clip.as_str())
            .unwrap_or_else(|| panic!("{} is not in the output", row.clip));
        let entries = heard["entries"].as_array().unwrap();
        let fits = entries.len() == row.must.len()
            && entries.iter().zip(&row.must).all(|(entry, must)| has(entry, must));
        exact += usize::from(fits);
        if !fits && heard["outcome"] == "accepted" {
            wrong.push(format!("{}: \"{}\" came to {heard}", row.clip, row.words));
        }
    }
    assert!(wrong.is_empty(), "taken wrongly without asking:\n{}", wrong.join("\n"));
    // 11 of 27 when this was written; the accuracy campaign raises it. Below this the hearing is
    // broken, not merely careful.
    assert!(exact >= 8, "only {exact} clips were heard exactly");

    let rows = ask("table", &file).exits(0).lines();
    let dry: Vec<f64> = rows.iter().map(|row| row["dry"].as_f64().unwrap()).collect();
    assert_eq!(dry, [152.0, 150.0, 105.0, 155.0, 60.0, 152.0]);
    assert_eq!(rows[2]["wet"], 140.0);
    assert_eq!(rows[4]["wet"], 65.0);
    let leak: Vec<f64> = rows.iter().map(|row| row["leak_percent"].as_f64().unwrap()).collect();
    assert_eq!(leak, [8.0, 12.0, 27.5, 6.0, 62.0, 7.0]);

    let findings = ask("findings", &file).exits(0).lines();
    let first_of = |cylinder: u64| {
        findings
            .iter()
            .filter(|line| line.get("cause").is_some())
            .find(|line| line["cylinders"].as_array().unwrap().contains(&cylinder.into()))
            .map(|line| line["cause"].as_str().unwrap().to_owned())
    };
    assert!(first_of(5).unwrap().contains("exhaust valve"), "{findings:?}");
    assert!(first_of(3).unwrap().contains("ring"), "{findings:?}");

    let pdf = folder.path().join("handover.pdf");
    borespoke(["handover".as_ref(), file.as_os_str(), "--out".as_ref(), pdf.as_os_str()]).exits(0);
    let text = Command::new("pdftotext").arg("-layout").arg(&pdf).arg("-").output().unwrap();
    let text = String::from_utf8(text.stdout).unwrap();
    for said in ["152", "105", "140", "60", "65", "62", "27", "28", "invented"] {
        assert!(text.to_lowercase().contains(said), "{said} is not in the document:\n{text}");
    }

    // Taking the case again changes nothing, and needs no weights to see that.
    let again = borespoke([
        "take".as_ref(),
        "demo-data".as_ref(),
        "--into".as_ref(),
        file.as_os_str(),
        "--weights".as_ref(),
        "no-such-weights".as_ref(),
        "--json".as_ref(),
    ])
    .exits(0);
    assert_eq!(again.lines().last().unwrap()["entries"], 0);
    assert_eq!(ask("table", &file).exits(0).lines(), rows);
}
