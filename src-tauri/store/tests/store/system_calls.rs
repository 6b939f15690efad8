//! What the store asks of the system, seen and spoilt with `strace`: that an entry is synced before
//! it is said, and what is left when the process is killed at a certain write, or when writing or
//! syncing begins to fail there. Where `strace` is not to be had these tests say that they are
//! skipped.

use std::env;
use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use borespoke_store::Workshop;

use crate::kill;
use crate::other_process::{self, Task};
use crate::samples::Bench;

fn strace(test: &str) -> Option<Command> {
    let mut probe = Command::new("strace");
    probe.args(["-f", "-o", "/dev/null", "true"]).stdout(Stdio::null()).stderr(Stdio::null());
    if probe.status().is_ok_and(|status| status.success()) {
        let mut strace = Command::new("strace");
        // Follows the threads and names the files.
        strace.args(["-f", "-y"]);
        return Some(strace);
    }
    let line = format!("SKIPPED {test}: needs strace and leave to use it\n");
    std::io::stderr().write_all(line.as_bytes()).unwrap();
    None
}

#[test]
fn an_entry_is_synced_before_it_is_said() {
    let Some(mut strace) = strace("an entry is synced before it is said") else { return };
    let bench = Bench::new();
    let trace = bench.folder.path().join("trace");
    strace.args(["-e", "trace=pwrite64,write,fsync,fdatasync", "-o"]).arg(&trace);
    strace.arg(env::current_exe().unwrap());
    let file = bench.workshop.path();
    let done =
        other_process::start_under(&mut strace, Task::AppendSome(0), file).wait_with_output();
    assert!(done.unwrap().status.success());

    let (mut said, mut written, mut unsynced) = (0, 0, 0);
    for call in fs::read_to_string(trace).unwrap().lines() {
        if call.contains("pwrite64(") && call.contains("-wal>") {
            written += 1;
            unsynced += 1;
        } else if call.contains("sync(") && call.contains("-wal>") {
            assert!(call.ends_with("= 0"), "{call}");
            unsynced = 0;
        } else if call.contains("said: ") {
            said += 1;
            assert_eq!(unsynced, 0, "before {call}");
        }
    }
    assert_eq!(said, 60);
    assert!(written >= 60, "{written} writes to the log");
}

/// Lets the other process append until the fault ends it, then looks at what is there. Gives how
/// many entries were confirmed.
fn survives(fault: &str, test: &str) -> Option<u64> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("jobs.bore");
    let mut strace = strace(test)?;
    let call = fault.split(':').next().unwrap();
    strace.args(["-e", &format!("trace={call}"), "-e", &format!("inject={fault}")]);
    strace.args(["-o", "/dev/null"]).arg(env::current_exe().unwrap()).stderr(Stdio::null());
    let mut process = other_process::start_under(&mut strace, Task::AppendForever, &path);
    let mut heard = String::new();
    process.stdout.take().unwrap().read_to_string(&mut heard).unwrap();
    process.wait().unwrap();
    let confirmed = other_process::said(&heard).last().map_or(0, |n| n.parse::<u64>().unwrap() + 1);
    look_at(&path, confirmed, fault);
    Some(confirmed)
}

fn look_at(path: &Path, confirmed: u64, fault: &str) {
    let workshop =
        Workshop::open_or_create(path).unwrap_or_else(|error| panic!("{fault}: {error}"));
    workshop.check().unwrap();
    let found = kill::verified(&workshop);
    assert!(found == confirmed || found == confirmed + 1, "{fault}: {found} {confirmed}");
}

/// The writes of the making, of the first entries, and (the later ones) of a picture that does not
/// fit into the cache and of bringing the log into the file.
fn writes() -> impl Iterator<Item = u32> {
    (1..80).step_by(3).chain((80..6_000).step_by(397))
}

#[test]
fn killed_at_a_certain_write() {
    let mut most = 0;
    for write in writes() {
        let fault = format!("pwrite64:signal=KILL:when={write}");
        let Some(confirmed) = survives(&fault, "killed at a certain write") else { return };
        most = most.max(confirmed);
    }
    assert!(most >= 8, "the kills came before the first picture: {most}");
}

#[test]
fn the_disk_full_from_a_certain_write_on() {
    for write in writes() {
        let fault = format!("pwrite64:error=ENOSPC:when={write}+");
        if survives(&fault, "the disk full from a certain write on").is_none() {
            return;
        }
    }
}

#[test]
fn the_disk_broken_from_a_certain_sync_on() {
    for sync in 1..30 {
        let fault = format!("fsync:error=EIO:when={sync}+");
        if survives(&fault, "the disk broken from a certain sync on").is_none() {
            return;
        }
    }
}
