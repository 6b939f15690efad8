//! `import`

use borespoke_bench::import;
use serde_json::json;

use crate::arguments::Import;
use crate::failure::Failure;
use crate::output::Output;

pub fn run(arguments: &Import, output: &mut Output) -> Result<(), Failure> {
    let clips = arguments.clips.as_deref();
    for one in import::import(&arguments.file, &arguments.records, clips)? {
        if output.is_json() {
            output.line(&json!({ "job": one.job, "made": one.made, "entries": one.entries }))?;
        } else {
            let made = if one.made { "A new job" } else { "The job" };
            output.text(&format!("{made}, {}, now has {} entries more.", one.job, one.entries))?;
        }
    }
    Ok(())
}
