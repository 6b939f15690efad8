//! How long a handover takes, on the machine it is run on: the first in a process, which is what
//! the command line waits for, and the next ones of other jobs, which is what the app waits for.
//! Each is also given as a ratio to the empty one-cylinder job, the least any document costs.
//!
//! `cargo bench -p borespoke-handover`

#[path = "../tests/document/sample.rs"]
#[expect(dead_code, reason = "shared with the tests, which read the documents back")]
mod sample;

use std::time::{Duration, Instant};

use borespoke_handover::{HandoverData, Paper, typeset};

/// Documents per size after the first; the median is told.
const ROUNDS: usize = 15;

fn time(data: &HandoverData) -> Duration {
    let start = Instant::now();
    typeset(data, Paper::A4).expect("the sample can be set");
    start.elapsed()
}

/// The median over documents that differ in every text of the page heads and in every reading, so
/// that nothing is set from memory that a next job would not be.
fn median(data: &HandoverData) -> Duration {
    let mut times: Vec<Duration> = (0..ROUNDS)
        .map(|round| {
            let mut data = data.clone();
            data.job_id = format!("job {round}");
            data.job.vehicle = format!("Vehicle {round}");
            data.job.customer = format!("Customer {round}");
            for finding in &mut data.judgement.findings {
                finding.plain = format!("{} Round {round}.", finding.plain);
            }
            for row in &mut data.table.rows {
                let value = 120.0 + 2.0 * round as f64;
                row.dry =
                    row.dry.map(|_| borespoke_core::record::Stated::exactly(sample::psi(value)));
            }
            time(&data)
        })
        .collect();
    times.sort();
    times[ROUNDS / 2]
}

fn main() {
    let twelve = sample::full(12);
    println!("first in the process, 12 cylinders with pictures: {:?}", time(&twelve));
    let least = median(&sample::empty(1));
    println!("next, 1 cylinder, empty job: {least:?}");
    for cylinders in [6, 12, 18] {
        let taken = median(&sample::full(cylinders));
        let ratio = taken.as_secs_f64() / least.as_secs_f64();
        println!(
            "next, {cylinders} cylinders with pictures: {taken:?}, {ratio:.1} times the empty one"
        );
    }
}
