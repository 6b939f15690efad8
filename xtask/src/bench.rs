//! Measurements that take minutes: not part of the tests, which never ask how long a thing took.

use clap::Subcommand;

use crate::run::{self, ChoreError};
use crate::{packages, repository, weights};

/// What is measured.
#[derive(Subcommand)]
pub enum Bench {
    /// How well spoken readings are heard, per condition, and how fast.
    Hearing {
        /// Passed on to the measuring tool; `-- --help` lists what there is.
        #[arg(last = true)]
        arguments: Vec<String>,
    },
}

/// Sets up what the measurement needs and runs it.
///
/// # Errors
/// [`ChoreError`] at the first step that fails.
pub fn run(bench: Bench) -> Result<(), ChoreError> {
    match bench {
        Bench::Hearing { arguments } => hearing(&arguments),
    }
}

fn hearing(arguments: &[String]) -> Result<(), ChoreError> {
    packages::ensure(&[packages::BUILD, packages::TESTS])?;
    weights::make()?;
    let tool = ["run", "--release", "--package", "borespoke-hearing", "--features", "measure"];
    let mut command = repository::cargo(&tool);
    command.args(["--bin", "measure-hearing", "--"]);
    if !arguments.iter().any(|argument| argument == "--weights") {
        command.args(["--weights", "models/weights/tiny.en.bin"]);
    }
    run::shown(command.args(arguments))
}
