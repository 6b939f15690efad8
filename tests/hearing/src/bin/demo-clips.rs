//! Makes `demo-data/clips` from `demo-data/script.tsv`.

use std::path::Path;
use std::process::ExitCode;

use borespoke_hearing::demo;

fn main() -> ExitCode {
    match make() {
        Ok(count) => {
            eprintln!("{count} clips made");
            ExitCode::SUCCESS
        }
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::FAILURE
        }
    }
}

fn make() -> Result<usize, Box<dyn std::error::Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    let script = demo::read_script(&std::fs::read_to_string(folder.join("script.tsv"))?)?;
    let clips = folder.join("clips");
    std::fs::create_dir_all(&clips)?;
    for old in std::fs::read_dir(&clips)? {
        let old = old?.path();
        if old.extension().is_some_and(|extension| extension == "wav") {
            std::fs::remove_file(old)?;
        }
    }
    demo::make_clips(&script, &clips)?;
    Ok(script.len())
}
