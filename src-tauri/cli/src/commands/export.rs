//! `export`

use std::fs;

use borespoke_bench::export::{self, Wanted};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde_json::json;

use crate::arguments::{Export, Form};
use crate::failure::Failure;
use crate::output::Output;

pub fn run(arguments: &Export, output: &mut Output) -> Result<(), Failure> {
    let utc_offset = TimeZone::system().to_offset(Timestamp::now());
    let (file, out) = (&arguments.of.file, &arguments.out);
    let path = out.display().to_string();
    if let Some(customer) = &arguments.customer {
        let jobs = export::everything(file, customer, out, utc_offset)?;
        return told(output, &path, &format!("Wrote {jobs} jobs into {path}."));
    }
    let form = match arguments.form {
        Some(Form::Html) => export::Form::Html,
        Some(Form::Csv) => export::Form::Csv,
        Some(Form::Json) | None => export::Form::Json,
    };
    let job = arguments.of.job.as_deref();
    let wanted = Wanted { job, all: arguments.all, redact: arguments.redact, utc_offset };
    let bytes = export::export(file, form, wanted)?;
    if let Some(folder) = &arguments.clips {
        export::clips(file, job, folder)?;
    }
    fs::write(out, bytes).map_err(|source| Failure::Written { path: path.clone(), source })?;
    told(output, &path, &format!("Wrote {path}."))
}

fn told(output: &mut Output, path: &str, words: &str) -> Result<(), Failure> {
    if output.is_json() {
        output.line(&json!({ "exported": path }))?;
    } else {
        output.text(words)?;
    }
    Ok(())
}
