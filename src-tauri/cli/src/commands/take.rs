//! `take`

use borespoke_bench::ears::ears;
use borespoke_bench::identity::MachineClock;
use borespoke_bench::take::{self, TakeEvent};
use serde_json::json;

use super::hear;
use crate::arguments::Take;
use crate::failure::Failure;
use crate::output::Output;

pub fn run(arguments: &Take, output: &mut Output) -> Result<(), Failure> {
    let weights = arguments.ears.weights.as_deref();
    let progress = output.progress(0, "taking in");
    progress.set_length(take::count(&arguments.case)? as u64);
    let mut written = Ok(());
    let taken = take::take(
        &arguments.case,
        &arguments.into,
        || ears(weights),
        &MachineClock,
        &mut |event| {
            progress.inc(1);
            if written.is_ok() {
                written = progress.suspend(|| say(&event, output));
            }
        },
    )?;
    progress.finish_and_clear();
    written?;
    if output.is_json() {
        output.line(&json!({
            "job": taken.job.to_string(),
            "made": taken.made,
            "entries": taken.entries,
            "refused": taken.refused,
        }))?;
    } else {
        let made = if taken.made { "A new job" } else { "The job" };
        output.text(&format!("{made}, {}, now has {} entries more.", taken.job, taken.entries))?;
    }
    match taken.refused {
        0 => Ok(()),
        count => Err(Failure::Partly { count }),
    }
}

fn say(event: &TakeEvent<'_>, output: &mut Output) -> std::io::Result<()> {
    match event {
        TakeEvent::Heard(line) => hear::say(line, output),
        TakeEvent::Pictured(line) if output.is_json() => output.line(line),
        TakeEvent::Pictured(line) => {
            let colour = line.read.colour;
            output.text(&format!(
                "{:<26} L* {:.1}, a* {:.1}, b* {:.1}",
                line.picture, colour.l, colour.a, colour.b
            ))
        }
        TakeEvent::Typed(entry) if output.is_json() => output.line(&json!({ "typed": entry })),
        TakeEvent::Typed(entry) => output.text(&format!("{:<26} {entry}", "typed")),
        TakeEvent::AlreadyThere(name) if output.is_json() => {
            output.line(&json!({ "already_there": name }))
        }
        TakeEvent::AlreadyThere(name) => output.text(&format!("{name:<26} taken in before")),
        TakeEvent::Refused(error) => {
            Failure::from(*error).tell();
            if output.is_json() {
                output.line(&json!({ "refused": error.to_string() }))
            } else {
                Ok(())
            }
        }
    }
}
