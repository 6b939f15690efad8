//! `verify`

use borespoke_bench::verify;
use serde_json::json;

use crate::arguments::Verify;
use crate::failure::Failure;
use crate::output::Output;

pub fn run(arguments: &Verify, output: &mut Output) -> Result<(), Failure> {
    let found = verify::verify(&arguments.document, arguments.against.as_deref())?;
    if output.is_json() {
        for check in &found.checks {
            output.line(check)?;
        }
        for change in &found.changes {
            let mut line = serde_json::to_value(change).unwrap_or_default();
            line["says"] = json!(change.words());
            output.line(&line)?;
        }
        output.line(&json!({
            "holds": found.holds(),
            "job": found.job,
            "code": found.code,
            "key": found.key,
        }))?;
    } else {
        for check in &found.checks {
            let word = match check.holds {
                Some(true) => "holds  ",
                Some(false) => "BROKEN ",
                None => "unknown",
            };
            output.text(&format!("{word}  {}", check.says))?;
        }
        for change in &found.changes {
            output.text(&format!("CHANGED  {}", change.words()))?;
        }
        if let (Some(code), Some(key)) = (&found.code, &found.key) {
            output.text(&format!(
                "Compare: the first page must show the code {code}; the workshop's key is {key}."
            ))?;
        }
    }
    if found.holds() {
        return Ok(());
    }
    let failed = found.checks.iter().filter(|check| check.holds == Some(false)).count();
    Err(Failure::DoesNotHold { changes: found.changes.len(), failed })
}
