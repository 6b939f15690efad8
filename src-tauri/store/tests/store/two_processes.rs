//! Two processes on one file.

use std::io::{BufRead, BufReader};
use std::time::Duration;

use borespoke_store::{FileProblem, Opening, Workshop};

use crate::other_process::{self, Task};
use crate::samples::{Bench, entry_id, job_id, observed, remark};

#[test]
fn a_writer_that_does_not_finish_is_reported_and_reading_goes_on() {
    let bench = Bench::new();
    let path = bench.workshop.path().to_owned();
    let opening = Opening { patience: Duration::from_millis(20), ..Opening::EXISTING };
    let mut impatient = Workshop::open_with(&path, opening).unwrap();

    let mut holder = other_process::start(Task::HoldLock, &path);
    let mut output = BufReader::new(holder.stdout.take().unwrap());
    let mut heard = String::new();
    while other_process::said(&heard).next().is_none() {
        assert!(output.read_line(&mut heard).unwrap() > 0, "{heard}");
    }
    let entry = [observed(1, remark("held up"))];
    let error = impatient.append(job_id(1), &entry, vec![]).unwrap_err();
    assert_eq!(error.file_problem(), Some(&FileProblem::Locked), "{error}");
    assert_eq!(impatient.load(job_id(1)).unwrap().log.entries(), []);
    // A third one can come in meanwhile.
    assert!(Workshop::open_with(&path, opening).unwrap().latest().unwrap().is_some());

    drop(holder.stdin.take());
    holder.wait().unwrap();
    impatient.append(job_id(1), &entry, vec![]).unwrap();
    assert_eq!(bench.workshop.load(job_id(1)).unwrap().log.entries(), entry);
}

#[test]
fn two_processes_append_to_one_job() {
    let mut bench = Bench::new();
    let other = other_process::start(Task::AppendSome(1_000), bench.workshop.path());
    for number in 0..60 {
        let entry = observed(number, remark("from this process"));
        bench.workshop.append(job_id(1), &[entry], vec![]).unwrap();
    }
    assert!(other.wait_with_output().unwrap().status.success());
    let log = bench.workshop.load(job_id(1)).unwrap().log;
    let ids: Vec<_> = log.entries().iter().map(|entry| entry.id).collect();
    // Each process's own entries are in its own order.
    for from in [0, 1_000] {
        let wanted: Vec<_> = (from..from + 60).map(entry_id).collect();
        let found: Vec<_> = ids.iter().copied().filter(|id| wanted.contains(id)).collect();
        assert_eq!(found, wanted);
    }
    assert_eq!(ids.len(), 120);
    bench.workshop.check().unwrap();
}

#[test]
fn several_processes_make_the_same_file() {
    for _ in 0..5 {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("jobs.bore");
        let processes: Vec<_> =
            (1..=4).map(|number| other_process::start(Task::CreateJob(number), &path)).collect();
        for process in processes {
            let output = process.wait_with_output().unwrap();
            let text = String::from_utf8_lossy(&output.stdout);
            assert!(output.status.success(), "{text}");
        }
        let workshop = Workshop::open(&path).unwrap();
        assert_eq!(workshop.jobs().unwrap().len(), 4);
        workshop.check().unwrap();
    }
}

/// On Unix closing any handle of a file drops every lock the process has on it (fcntl(2)); were a
/// file looked at without SQLite, the next process to close it would take the log away.
#[test]
fn looking_at_a_file_keeps_the_locks_of_who_has_it_open() {
    let mut bench = Bench::new();
    let path = bench.workshop.path().to_owned();
    for result in [Workshop::open(&path), Workshop::open_or_create(&path)] {
        result.unwrap().close().unwrap();
    }
    assert!(Workshop::create(&path).is_err());
    other_process::run(Task::AppendSome(1_000), &path);
    let entry = [observed(1, remark("still there"))];
    bench.workshop.append(job_id(1), &entry, vec![]).unwrap();
    assert_eq!(Workshop::open(&path).unwrap().check().unwrap().entries, 61);
}
