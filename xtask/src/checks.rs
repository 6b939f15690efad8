//! Every check and every test.

use std::process::Command;

use crate::run::{self, ChoreError};
use crate::{packages, repository, weights};

/// Sets up and runs everything.
///
/// # Errors
/// [`ChoreError`] at the first thing that fails.
pub fn run_all() -> Result<(), ChoreError> {
    packages::ensure(&[packages::BUILD, packages::PAGES, packages::TESTS])?;
    weights::make()?;
    formatted()?;
    house_rules()?;
    run::shown(&mut repository::cargo(&["test", "--release", "--workspace", "--locked"]))
}

/// Formatting, lints and house rules. The lints are not part of [`run_all`]: they check every
/// dependency once more, which takes as long as the tests.
///
/// # Errors
/// [`ChoreError`] at the first that is broken.
pub fn tidy() -> Result<(), ChoreError> {
    packages::ensure(&[packages::BUILD])?;
    formatted()?;
    house_rules()?;
    let lints = ["clippy", "--release", "--workspace", "--all-targets", "--locked"];
    run::shown(repository::cargo(&lints).args(["--", "--deny", "warnings"]))
}

fn formatted() -> Result<(), ChoreError> {
    run::shown(&mut repository::cargo(&["fmt", "--all", "--check"]))
}

/// What no compiler checks: no mark of unfinished work, and `unsafe` in one file at the most.
fn house_rules() -> Result<(), ChoreError> {
    let unfinished = r"todo!\(|unimplemented!\(|#\[ignore\]|\bTO[D]O\b|\bFIX[M]E\b";
    let found = grep(unfinished)?;
    if !found.is_empty() {
        return Err(ChoreError::Rule(format!("left half done:\n{found}")));
    }
    let unsafe_allowed = grep(r"(allow|expect)\(unsafe_code")?;
    let elsewhere: Vec<&str> = unsafe_allowed
        .lines()
        .filter(|line| !line.starts_with("src-tauri/speech/src/recogniser/"))
        .filter(|line| !line.starts_with("xtask/"))
        .collect();
    if !elsewhere.is_empty() {
        return Err(ChoreError::Rule(format!("unsafe outside the recogniser: {elsewhere:?}")));
    }
    Ok(())
}

/// The Rust lines that match, as `file:line:text`. No match is not an error.
fn grep(pattern: &str) -> Result<String, ChoreError> {
    let output = Command::new("git")
        .current_dir(repository::root())
        .args(["grep", "-nE", "-e", pattern, "--", "*.rs", "*.ts", "*.svelte"])
        .output()
        .map_err(|source| ChoreError::NotStarted { program: "git".into(), source })?;
    Ok(String::from_utf8_lossy(&output.stdout).into_owned())
}
