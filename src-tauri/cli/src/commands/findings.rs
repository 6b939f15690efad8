//! `findings`

use borespoke_bench::findings;
use borespoke_core::engine::Cylinder;
use borespoke_core::judgement::{Finding, Judgement, Weight};
use serde_json::json;

use crate::arguments::JobOf;
use crate::failure::Failure;
use crate::output::Output;

pub fn run(of: &JobOf, output: &mut Output) -> Result<(), Failure> {
    let judgement = findings::findings(&of.file, of.job.as_deref())?;
    if output.is_json() { lines(&judgement, output) } else { text(&judgement, output) }
}

fn lines(judgement: &Judgement, output: &mut Output) -> Result<(), Failure> {
    for finding in &judgement.findings {
        output.line(finding)?;
    }
    for step in &judgement.next_steps {
        output.line(step)?;
    }
    output.line(&json!({
        "settled": judgement.settled,
        "conflicts": judgement.conflicts,
        "not_tested": judgement.not_tested,
        "advice": judgement.advice,
    }))?;
    Ok(())
}

fn text(judgement: &Judgement, output: &mut Output) -> Result<(), Failure> {
    if judgement.findings.is_empty() {
        output.text("Nothing found in what was tested.")?;
    }
    for finding in &judgement.findings {
        say(finding, output)?;
    }
    for conflict in &judgement.conflicts {
        output.text(&format!("\nContradiction: {}", conflict.says))?;
    }
    if !judgement.next_steps.is_empty() {
        output.text("\nWhat to test next, most telling per minute first")?;
    }
    for step in &judgement.next_steps {
        output.text(&format!(
            "  {} ({:.0} min, {:.2} bits): {}",
            step.next_step, step.minutes, step.bits, step.settles
        ))?;
    }
    if let Some(settled) = &judgement.settled {
        output.text(&format!("\n{settled}"))?;
    }
    for line in &judgement.not_tested {
        output.text(&format!("Not tested: {line}"))?;
    }
    Ok(())
}

fn say(finding: &Finding, output: &mut Output) -> Result<(), Failure> {
    let cylinders: Vec<String> = finding.cylinders.iter().map(Cylinder::to_string).collect();
    let whose = match cylinders.as_slice() {
        [] => String::new(),
        [one] => format!("cylinder {one}: "),
        more => format!("cylinders {}: ", more.join(", ")),
    };
    let percent = finding.probability.value() * 100.0;
    output.text(&format!("\n{percent:3.0} %  {whose}{}", finding.cause))?;
    output.text(&format!("       {}", finding.plain))?;
    weights("for", &finding.in_favour, output)?;
    weights("against", &finding.against, output)?;
    output.text(&format!("       what to do: {}", finding.advice)).map_err(Failure::from)
}

fn weights(side: &str, weights: &[Weight], output: &mut Output) -> Result<(), Failure> {
    for weight in weights {
        output.text(&format!("       {side:>7} {:4.1}  {}", weight.log_odds, weight.says))?;
    }
    Ok(())
}
