//! The main job, on the invented demo case.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::run::{self, ChoreError};
use crate::{packages, repository, weights};

/// Sets up, builds, and runs the demo case through the command line; the document and a picture
/// of each of its pages end up in `target/demo`.
///
/// # Errors
/// [`ChoreError`] at the first step that fails.
pub fn run() -> Result<(), ChoreError> {
    packages::ensure(&[packages::BUILD, packages::PAGES])?;
    weights::make()?;
    // With all targets, as the tests are built: another selection has other features, and the
    // typesetter would be compiled a second time.
    let build = ["build", "--release", "--workspace", "--all-targets", "--locked"];
    run::shown(&mut repository::cargo(&build))?;

    let out = repository::target().join("demo");
    if out.exists() {
        fs::remove_dir_all(&out)
            .map_err(|source| ChoreError::file("clearing target/demo", source))?;
    }
    fs::create_dir_all(&out).map_err(|source| ChoreError::file("making target/demo", source))?;

    let file = out.join("workshop.borespoke");
    let document = out.join("handover.pdf");
    run::shown(borespoke("take").arg("demo-data").arg("--into").arg(&file))?;
    run::shown(borespoke("table").arg(&file))?;
    run::shown(borespoke("findings").arg(&file))?;
    run::shown(borespoke("handover").arg(&file).arg("--out").arg(&document))?;
    run::shown(
        Command::new("pdftoppm").args(["-r", "110", "-png"]).arg(&document).arg(out.join("page")),
    )?;
    eprintln!("\nThe document and its pages are in {}", shorter(&out).display());
    Ok(())
}

fn borespoke(command: &str) -> Command {
    let mut borespoke = Command::new(repository::target().join("release").join("borespoke"));
    borespoke.current_dir(repository::root()).arg(command);
    borespoke
}

fn shorter(path: &Path) -> &Path {
    path.strip_prefix(std::env::current_dir().unwrap_or_default()).unwrap_or(path)
}
