//! The binary `borespoke`: the use cases of `bench` without a window. It lays out what they give
//! and turns their errors into messages and exit codes; it decides nothing.

mod arguments;
mod commands;
mod failure;
mod output;

use std::process::ExitCode;

use clap::Parser;

use crate::arguments::{Arguments, Command};
use crate::failure::Failure;
use crate::output::Output;

fn main() -> ExitCode {
    let Arguments { json, command } = Arguments::parse();
    let mut output = Output::new(json);
    let done = match &command {
        Command::Take(take) => commands::take::run(take, &mut output),
        Command::Hear(hear) => commands::hear::run(hear, &mut output),
        Command::Table(of) => commands::table::run(of, &mut output),
        Command::Findings(of) => commands::findings::run(of, &mut output),
        Command::Plugs(plugs) => commands::plugs::run(plugs, &mut output),
        Command::Handover(handover) => commands::handover::run(handover, &mut output),
        Command::Export(export) => commands::export::run(export, &mut output),
        Command::Import(import) => commands::import::run(import, &mut output),
        Command::Verify(verify) => commands::verify::run(verify, &mut output),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        // A reader that stops early, such as `head`, is no failure of ours.
        Err(Failure::Output(error)) if error.kind() == std::io::ErrorKind::BrokenPipe => {
            ExitCode::SUCCESS
        }
        Err(failure) => {
            failure.tell();
            ExitCode::FAILURE
        }
    }
}
