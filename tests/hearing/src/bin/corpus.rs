//! Writes the corpus: its manifest, and the clips of a condition.
//!
//! `corpus commit` writes what is committed beside this crate: `manifest.jsonl`, one utterance a
//! line, and the few clips in `subset`. `corpus clips FOLDER [SNR] [room]` writes
//! `FOLDER/<id>.wav` for every utterance.

use std::path::Path;
use std::process::ExitCode;

use borespoke_hearing::clip;
use borespoke_hearing::corpus::{self, Condition, SEED, Studio};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = match arguments[..] {
        ["commit"] => commit().map_err(|problem| problem.to_string()),
        ["clips", folder] => clips(folder, None, false),
        ["clips", folder, "room"] => clips(folder, None, true),
        ["clips", folder, snr] => clips(folder, Some(snr), false),
        ["clips", folder, snr, "room"] => clips(folder, Some(snr), true),
        _ => {
            eprintln!("usage: corpus commit | corpus clips FOLDER [SNR] [room]");
            return ExitCode::from(2);
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::FAILURE
        }
    }
}

fn commit() -> Result<(), Box<dyn std::error::Error>> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let all = corpus::utterances(SEED);
    std::fs::write(here.join("manifest.jsonl"), corpus::manifest(&all))?;
    let folder = here.join("subset");
    std::fs::create_dir_all(&folder)?;
    let scratch = tempfile::tempdir()?;
    let studio = Studio::open(scratch.path(), SEED)?;
    for (utterance, condition) in corpus::subset(&all) {
        let (sound, _) = studio.render(utterance, condition)?;
        clip::write(&folder.join(format!("{}.wav", utterance.id)), &sound)?;
    }
    Ok(())
}

fn clips(folder: &str, snr: Option<&str>, in_a_room: bool) -> Result<(), String> {
    let folder = Path::new(folder);
    let snr_db = snr
        .map(|text| text.parse().map_err(|_| format!("SNR: given \"{text}\", allowed is a number")))
        .transpose()?;
    let condition = Condition { snr_db, in_a_room };
    let studio = Studio::open(&folder.join("said"), SEED).map_err(|e| e.to_string())?;
    for utterance in corpus::utterances(SEED) {
        let (sound, _) = studio.render(&utterance, condition).map_err(|e| e.to_string())?;
        clip::write(&folder.join(format!("{}.wav", utterance.id)), &sound)
            .map_err(|e| e.to_string())?;
    }
    Ok(())
}
