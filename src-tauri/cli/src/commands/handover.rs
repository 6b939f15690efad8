//! `handover`

use std::fs;

use borespoke_bench::handover;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde_json::json;

use crate::arguments::{Handover, Paper};
use crate::failure::Failure;
use crate::output::Output;

pub fn run(arguments: &Handover, output: &mut Output) -> Result<(), Failure> {
    let paper = match arguments.paper {
        Paper::A4 => handover::Paper::A4,
        Paper::Letter => handover::Paper::Letter,
    };
    let offset = TimeZone::system().to_offset(Timestamp::now());
    let wanted = handover::Wanted { paper, utc_offset: offset, redact: arguments.redact };
    let made = handover::make(&arguments.of.file, arguments.of.job.as_deref(), wanted)?;
    let document = made.pdf;
    let code = made.code.to_string();
    let path = arguments.out.display().to_string();
    fs::write(&arguments.out, &document)
        .map_err(|source| Failure::Written { path: path.clone(), source })?;
    if output.is_json() {
        output.line(
            &json!({ "handover": path, "bytes": document.len(), "code": code, "key": made.key }),
        )?;
    } else {
        output.text(&format!("Wrote {path}, {} kB.", document.len().div_ceil(1000)))?;
        output.text(&format!("Code of the sealed entries {code}, workshop's key {}.", made.key))?;
    }
    Ok(())
}
