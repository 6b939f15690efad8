//! Draws the plug pictures and measures the photo crate on them.

use std::fs;
use std::path::PathBuf;
use std::process::ExitCode;

use borespoke_plugs::demo;
use borespoke_plugs::evaluate::{Pointing, evaluate};
use clap::{Parser, Subcommand};

/// Rendered plug pictures: nothing here is a photograph.
#[derive(Parser)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Draw the six pictures of the invented case.
    Demo {
        /// The folder they go into.
        folder: PathBuf,
    },
    /// Run the photo crate on rendered sets and count how often it is right.
    Evaluate {
        /// How many sets.
        #[arg(long, default_value_t = 600)]
        sets: u64,
        /// Number of the first.
        #[arg(long, default_value_t = 0)]
        first: u64,
        /// Point at the reference instead of letting it be found.
        #[arg(long)]
        point: bool,
        /// A line for every picture.
        #[arg(long)]
        talk: bool,
    },
}

fn main() -> ExitCode {
    let done = match Arguments::parse().command {
        Command::Demo { folder } => draw_demo(&folder),
        Command::Evaluate { sets, first, point, talk } => {
            let pointing = if point { Pointing::Given } else { Pointing::Found };
            println!("{:#?}", evaluate(first..first + sets, pointing, talk));
            Ok(())
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn draw_demo(folder: &PathBuf) -> std::io::Result<()> {
    fs::create_dir_all(folder)?;
    for (index, bytes) in demo::pictures().into_iter().enumerate() {
        fs::write(folder.join(format!("plug-{}.jpg", index + 1)), bytes)?;
    }
    Ok(())
}
