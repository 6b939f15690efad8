//! Measures how well the corpus is heard, and prints the tables.

use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::{Duration, Instant};

use borespoke_hearing::corpus::{Condition, SEED, Studio, sample, utterances};
use borespoke_hearing::measure::{
    Defaults, Hearer, MeasureError, Ours, Plan, Report, compare_times, run, write_errors,
    write_features,
};
use borespoke_hearing::voice::Half;
use clap::Parser;

/// Measures how well the corpus is heard.
#[derive(Parser)]
struct Arguments {
    /// The recogniser's weights
    #[arg(long)]
    weights: PathBuf,
    /// Folder that keeps what the voices have said
    #[arg(long, default_value = "target/hearing-clips")]
    cache: PathBuf,
    /// Use the voices for fitting, not those for measuring
    #[arg(long)]
    tune: bool,
    /// Utterances for the log under each condition
    #[arg(long, default_value_t = 120)]
    count: usize,
    /// Remarks, small talk and commands under each condition
    #[arg(long, default_value_t = 40)]
    talk: usize,
    /// What the sample is drawn by
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Begin no clip after so many minutes
    #[arg(long, default_value_t = 13.0)]
    minutes: f64,
    /// Clips on which the time is compared with the library's defaults
    #[arg(long, default_value_t = 20)]
    compare: usize,
    /// Threads of the recogniser; as many as there are cores, if not said
    #[arg(long)]
    threads: Option<NonZeroUsize>,
    /// Steps of the network once one text is whole; the tool's own number, if not said
    #[arg(long)]
    steps: Option<usize>,
    /// File that keeps what was heard, so that only what is new is heard
    #[arg(long)]
    keep: Option<PathBuf>,
    /// Write features and labels, for fitting the sureness
    #[arg(long)]
    features: Option<PathBuf>,
    /// Write what went wrong
    #[arg(long)]
    errors: Option<PathBuf>,
}

fn main() -> ExitCode {
    match measure(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::FAILURE
        }
    }
}

fn measure(arguments: &Arguments) -> Result<(), MeasureError> {
    whisper_rs::install_logging_hooks();
    let half = if arguments.tune { Half::Tune } else { Half::Check };
    let all = utterances(SEED);
    let studio = Studio::open(&arguments.cache, SEED)?;

    let chosen = sample(&all, half, 1, arguments.seed);
    let first =
        chosen.first().ok_or_else(|| MeasureError::Hearer("the corpus is empty".to_owned()))?;
    let (clip, _) = studio.render(first, Condition::ALL[0])?;

    let begun = Instant::now();
    let ours = Ours::load(&arguments.weights, arguments.threads)?;
    let ours = match arguments.steps {
        Some(steps) => ours.with_steps(steps),
        None => ours,
    };
    let mut ours = match &arguments.keep {
        Some(file) => ours.keeping(file)?,
        None => ours,
    };
    ours.hear(&clip, &first.situation)?;
    let cold_start = begun.elapsed().as_secs_f64();

    let plan = Plan {
        half,
        for_the_log: arguments.count,
        talk: arguments.talk,
        seed: arguments.seed,
        at_most: Duration::from_secs_f64(60.0 * arguments.minutes),
    };
    let records = run(plan, &all, &studio, &mut ours)?;
    // Before the library's defaults, which need memory of their own.
    let peak_memory = peak_memory();
    let compared = if arguments.compare > 0 {
        let defaults = Defaults::load(&arguments.weights)?;
        compare_times(arguments.compare, &all, &studio, &mut ours, &defaults)?
    } else {
        Vec::new()
    };
    if let Some(path) = &arguments.features {
        write_features(path, &records)?;
    }
    if let Some(path) = &arguments.errors {
        write_errors(path, &records)?;
    }
    print!("{}", Report { records: &records, cold_start, peak_memory, compared });
    Ok(())
}

/// Peak resident memory of this process in megabytes, where Linux tells.
fn peak_memory() -> Option<f64> {
    let status = std::fs::read_to_string(Path::new("/proc/self/status")).ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kibibytes: f64 = line.trim().strip_suffix("kB")?.trim().parse().ok()?;
    Some(kibibytes * 1_024.0 / 1e6)
}
