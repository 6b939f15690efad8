//! The chores of this repository, each one command: `cargo xtask demo`, `cargo xtask test`.

mod bench;
mod checks;
mod demo;
mod packages;
mod repository;
mod run;
mod weights;

use clap::{Parser, Subcommand};

/// The chores of this repository. Each sets up what it needs and can be run again at any time.
#[derive(Parser)]
#[command(bin_name = "cargo xtask", disable_help_subcommand = true)]
struct Arguments {
    #[command(subcommand)]
    chore: Chore,
}

#[derive(Subcommand)]
enum Chore {
    /// Set up, build, and run the main job on the invented demo case.
    Demo,
    /// Set up and run every check and every test.
    Test,
    /// Only the checks that need no weights: formatting, lints, house rules.
    Tidy,
    /// Measure: accuracy and speed, as tables and ratios.
    #[command(subcommand)]
    Bench(bench::Bench),
    /// Only fetch and convert the recogniser's weights.
    Weights,
}

fn main() -> miette::Result<()> {
    match Arguments::parse().chore {
        Chore::Demo => demo::run(),
        Chore::Test => checks::run_all(),
        Chore::Tidy => checks::tidy(),
        Chore::Bench(which) => bench::run(which),
        Chore::Weights => weights::make(),
    }
    .map_err(miette::Report::new)
}
