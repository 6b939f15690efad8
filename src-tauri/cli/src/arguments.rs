//! What can be said on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

const TEACHING: &str = "\
A first run, with the invented case of the repository:

  borespoke take demo-data --into workshop.borespoke
  borespoke table workshop.borespoke
  borespoke findings workshop.borespoke
  borespoke handover workshop.borespoke --out handover.pdf
  borespoke verify handover.pdf

A case is a folder: case.json (the engine is needed, the rest helps), clips/*.wav heard in name
order, plugs/plug-1.jpg and so on, entries.jsonl for typed entries.

Exit codes: 0 done, 1 could not be done (the message says why and what to do), 2 wrong usage.

Air on a cylinder can turn the crank; a hot engine burns; ignition and fuel must be made safe. Keep
to the maker's manual and local rules. This tool shows figures and causes; it never says whether to
buy.";

/// Takes spoken readings and plug pictures of an engine, judges them, writes the buyer's document.
#[derive(Debug, Parser)]
#[command(name = "borespoke", version, after_long_help = TEACHING, arg_required_else_help = true)]
pub struct Arguments {
    /// Write JSON lines to standard output and everything else to standard error
    #[arg(long, global = true)]
    pub json: bool,
    /// What to do
    #[command(subcommand)]
    pub command: Command,
}

/// A command.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Take a case in: hear its clips, look at its plugs, keep everything in the job file
    Take(Take),
    /// Say what would be heard in clips; nothing is stored
    Hear(Hear),
    /// Show what is known per cylinder
    Table(JobOf),
    /// Show what is likely wrong, with reasons, and what to test next
    Findings(JobOf),
    /// Compare the colour of plugs in pictures
    Plugs(Plugs),
    /// Write the buyer's document
    Handover(Handover),
    /// Check a handover: what holds and what was changed
    Verify(Verify),
    /// Write a job as a web page, a table or a record, or everything about a customer
    Export(Export),
    /// Take in a record that `export --as json` wrote; what is there already is not doubled
    Import(Import),
}

/// `take`
#[derive(Debug, Args)]
pub struct Take {
    /// The case folder
    pub case: PathBuf,
    /// The job file; made when it is not there, extended when it is
    #[arg(long, value_name = "FILE")]
    pub into: PathBuf,
    #[command(flatten)]
    pub ears: Ears,
}

/// `hear`
#[derive(Debug, Args)]
pub struct Hear {
    /// The case the clips belong to: the engine decides what can be said
    #[arg(long, value_name = "case.json")]
    pub case: PathBuf,
    /// What is being read at the moment
    #[arg(long, value_enum)]
    pub expect: Option<Expecting>,
    /// Clips, heard in this order
    #[arg(required = true, value_name = "CLIP")]
    pub clips: Vec<PathBuf>,
    #[command(flatten)]
    pub ears: Ears,
}

/// What is being read at the moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Expecting {
    /// Cranking pressures
    Cranking,
    /// Leak-down and where air is heard
    LeakDown,
    /// Plugs described
    Plugs,
}

/// The recogniser's weights.
#[derive(Debug, Args)]
pub struct Ears {
    /// The recogniser's weights; found in models/weights of the repository when left out
    #[arg(long, value_name = "FILE", env = "BORESPOKE_WEIGHTS")]
    pub weights: Option<PathBuf>,
}

/// A job in a job file.
#[derive(Debug, Args)]
pub struct JobOf {
    /// The job file
    pub file: PathBuf,
    /// Which job, by the start of its identity; the latest when left out
    pub job: Option<String>,
}

/// `plugs`
#[derive(Debug, Args)]
pub struct Plugs {
    /// A neutral grey or white area in every picture, as left,top,width,height in pixels
    #[arg(long, value_name = "x,y,w,h", value_parser = area)]
    pub reference: Option<[u32; 4]>,
    /// The pictures, one plug each, in cylinder order
    #[arg(required = true, value_name = "PICTURE")]
    pub pictures: Vec<PathBuf>,
}

/// `handover`
#[derive(Debug, Args)]
pub struct Handover {
    #[command(flatten)]
    pub of: JobOf,
    /// Where to write the document
    #[arg(long, value_name = "FILE.pdf")]
    pub out: PathBuf,
    /// The paper
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub paper: Paper,
    /// Leave out the customer, the vehicle and every word that was said
    #[arg(long)]
    pub redact: bool,
}

/// The paper a document is set on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Paper {
    /// 210 x 297 mm
    A4,
    /// 8.5 x 11 in
    Letter,
}

/// `verify`
#[derive(Debug, Args)]
pub struct Verify {
    /// The document
    pub document: PathBuf,
    /// Compare it with the job in this job file too
    #[arg(long, value_name = "FILE")]
    pub against: Option<PathBuf>,
}

/// `export`
#[derive(Debug, Args)]
pub struct Export {
    #[command(flatten)]
    pub of: JobOf,
    /// In which form
    #[arg(long = "as", value_enum, value_name = "FORM", required_unless_present = "customer")]
    pub form: Option<Form>,
    /// Where to write it; with --customer a folder, which is made
    #[arg(long, value_name = "PATH")]
    pub out: PathBuf,
    /// Every job of the file, not one; for csv
    #[arg(long, conflicts_with_all = ["job", "customer"])]
    pub all: bool,
    /// Leave out the customer, the vehicle and every word that was said
    #[arg(long, conflicts_with = "customer")]
    pub redact: bool,
    /// Write the voice clips and pictures beside it, into this folder
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["redact", "customer"])]
    pub clips: Option<PathBuf>,
    /// Everything about this customer: each job in every form, with clips and pictures
    #[arg(long, value_name = "NAME", conflicts_with_all = ["form", "job"])]
    pub customer: Option<String>,
}

/// The form of an export.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// One web page with everything in it
    Html,
    /// A table, one entry a row, units in the heads of the columns
    Csv,
    /// The record as it is attached to the handover
    Json,
}

/// `import`
#[derive(Debug, Args)]
pub struct Import {
    /// The job file; made when it is not there
    pub file: PathBuf,
    /// Records as `export --as json` writes them
    #[arg(required = true, value_name = "RECORD.json")]
    pub records: Vec<PathBuf>,
    /// The folder with the voice clips and pictures, as `export --clips` wrote it
    #[arg(long, value_name = "FOLDER")]
    pub clips: Option<PathBuf>,
}

fn area(text: &str) -> Result<[u32; 4], String> {
    let numbers: Result<Vec<u32>, _> = text.split(',').map(|part| part.trim().parse()).collect();
    match numbers.as_deref() {
        Ok([x, y, w, h]) if *w > 0 && *h > 0 => Ok([*x, *y, *w, *h]),
        _ => Err("four whole numbers: left,top,width,height, the last two above 0".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_command_line_holds_together() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn an_area_is_four_numbers() {
        assert_eq!(area("1, 2,3,4"), Ok([1, 2, 3, 4]));
        assert!(area("1,2,3").is_err());
        assert!(area("1,2,0,4").is_err());
    }
}
