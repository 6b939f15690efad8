//! Writes the random cases of the outside check as JSON lines: the rows of the model, the job, the
//! entries in force. `tests/outside/judgement/reference.py` reads them.

#[path = "../tests/judgement/random_cases.rs"]
#[allow(dead_code, reason = "shared with the tests, which use all of it")]
mod random_cases;
#[path = "../tests/judgement/support.rs"]
#[allow(dead_code, reason = "shared with the tests, which use all of it")]
mod support;

use serde_json::json;

fn main() {
    for number in 0..200 {
        let (model, bench) = random_cases::case(number);
        let entries: Vec<_> =
            bench.log.in_force().into_iter().map(|(_, observation)| observation).collect();
        let case = json!({
            "causes": model.causes(),
            "shared": model.shared(),
            "scatter": model.scatter(),
            "grid": model.grid(),
            "job": bench.job,
            "entries": entries,
        });
        println!("{case}");
    }
}
