//! Draws the plug pictures and measures the photo crate on them.

use std::fs;
use std::path::PathBuf;
use std::process::ExitCode;

use borespoke_photo::{Hints, StripPlug, likely_signs, read_plug, strip};
use borespoke_plugs::evaluate::{Pointing, evaluate};
use borespoke_plugs::{demo, fuzz, speed};
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
    /// Time opening and comparing against decoding alone, and take the peak of memory.
    Speed {
        /// How often.
        #[arg(long, default_value_t = 5)]
        rounds: u32,
    },
    /// Feed the photo crate files with bytes changed, cut and repeated.
    Fuzz {
        /// How many files.
        #[arg(long, default_value_t = 100_000)]
        files: u64,
        /// Number of the first.
        #[arg(long, default_value_t = 0)]
        first: u64,
    },
    /// Draw the strip of pictures, cylinder 1 first.
    Strip {
        /// The pictures.
        pictures: Vec<PathBuf>,
        /// The PNG.
        #[arg(long)]
        out: PathBuf,
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
        Command::Speed { rounds } => {
            speed::measure(rounds);
            Ok(())
        }
        Command::Fuzz { files, first } => {
            println!("{:#?}", fuzz::run(first..first + files));
            Ok(())
        }
        Command::Strip { pictures, out } => draw_strip(&pictures, &out),
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

fn draw_strip(pictures: &[PathBuf], out: &PathBuf) -> std::io::Result<()> {
    let files: Vec<Vec<u8>> = pictures.iter().map(fs::read).collect::<Result<_, _>>()?;
    let mut read = Vec::new();
    for bytes in &files {
        let picture = read_plug(bytes, &Hints::default()).map_err(std::io::Error::other)?;
        let signs = likely_signs(&picture);
        let best = signs.iter().max_by(|a, b| a.likelihood.total_cmp(&b.likelihood));
        let words = best.map_or("light not known", |best| best.sign.name());
        read.push((bytes, picture, words));
    }
    let plugs: Vec<StripPlug<'_>> = read
        .iter()
        .zip(1..)
        .map(|((bytes, picture, words), cylinder)| StripPlug { bytes, picture, cylinder, words })
        .collect();
    fs::write(out, strip(&plugs).map_err(std::io::Error::other)?)
}
