//! `hear`

use borespoke_bench::ears::ears;
use borespoke_bench::hear;
use borespoke_bench::identity::MachineClock;
use borespoke_bench::wire::{HearLine, OutcomeWord};
use borespoke_speech::language::Expect;

use crate::arguments::{Expecting, Hear};
use crate::failure::Failure;
use crate::output::Output;

pub fn run(arguments: &Hear, output: &mut Output) -> Result<(), Failure> {
    let expect = match arguments.expect {
        None => Expect::Anything,
        Some(Expecting::Cranking) => Expect::Cranking,
        Some(Expecting::LeakDown) => Expect::LeakDown,
        Some(Expecting::Plugs) => Expect::Plugs,
    };
    let ears = ears(arguments.ears.weights.as_deref())?;
    let progress = output.progress(arguments.clips.len(), "hearing");
    let mut refused = 0;
    let mut written = Ok(());
    hear::hear(&arguments.case, expect, &arguments.clips, &ears, &MachineClock, &mut |heard| {
        progress.inc(1);
        match heard {
            Ok(line) if written.is_ok() => written = progress.suspend(|| say(line, output)),
            Ok(_) => {}
            Err(error) => {
                refused += 1;
                progress.suspend(|| Failure::from(error).tell());
            }
        }
    })?;
    progress.finish_and_clear();
    written?;
    if refused > 0 { Err(Failure::Partly { count: refused }) } else { Ok(()) }
}

/// Writes one clip's line.
pub fn say(line: &HearLine, output: &mut Output) -> std::io::Result<()> {
    if output.is_json() {
        return output.line(line);
    }
    let told = match line.outcome {
        OutcomeWord::Accepted => list(line.entries.iter().map(ToString::to_string)),
        OutcomeWord::Ask => {
            format!(
                "? {}",
                line.offered.iter().map(ToString::to_string).collect::<Vec<_>>().join(" or ")
            )
        }
        OutcomeWord::Unheard => "not made out".to_owned(),
        OutcomeWord::Remark => "a remark".to_owned(),
    };
    let name = line.clip.rsplit('/').next().unwrap_or(&line.clip);
    output.text(&format!("{name:<26} {told:<44} \"{}\"", line.text.trim()))
}

fn list(entries: impl Iterator<Item = String>) -> String {
    entries.collect::<Vec<_>>().join("; ")
}
