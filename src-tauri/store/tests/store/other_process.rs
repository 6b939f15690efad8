//! This test binary started again as another process.

use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::{env, fs};

use borespoke_core::record::{Entry, Origin};
use borespoke_store::{MediaType, NewAttachment, Workshop, digest_of};
use rusqlite::Connection;

use crate::kill;
use crate::samples::{Random, entry_id, job, job_id, observed, remark};

const TASK: &str = "BORESPOKE_STORE_TEST_TASK";
const FILE: &str = "BORESPOKE_STORE_TEST_FILE";

/// What the other process is to do.
#[derive(Debug, Clone, Copy)]
pub enum Task {
    /// Append numbered entries without end, saying each when it is confirmed.
    AppendForever,
    /// Append 60 entries, numbered from here, to job 1, saying each when it is confirmed.
    AppendSome(u64),
    /// Open or make the file and make this job.
    CreateJob(u64),
    /// Hold the writer's lock until standard input ends; say when it is held.
    HoldLock,
    /// Store and read a picture of 40 MB; say the peak of memory before, between and after.
    LargePicture,
}

impl Task {
    fn name(self) -> String {
        match self {
            Self::AppendForever => "append forever".to_owned(),
            Self::AppendSome(from) => format!("append some:{from}"),
            Self::CreateJob(number) => format!("create job:{number}"),
            Self::HoldLock => "hold lock".to_owned(),
            Self::LargePicture => "large picture".to_owned(),
        }
    }
}

/// Marks what the task says among what the test harness says.
const MARK: &str = "said: ";

pub fn say(what: impl std::fmt::Display) {
    // One write, so that a kill leaves no half line; and past the capture of the harness.
    let line = format!("{MARK}{what}\n");
    io::stdout().lock().write_all(line.as_bytes()).unwrap();
}

/// What the task said, a line each.
pub fn said(output: &str) -> impl Iterator<Item = &str> {
    // A kill may cut the last line short.
    output.split_inclusive('\n').filter_map(|line| {
        let start = line.find(MARK)? + MARK.len();
        line[start..].strip_suffix('\n')
    })
}

pub fn start(task: Task, file: &Path) -> Child {
    start_under(&mut Command::new(env::current_exe().unwrap()), task, file)
}

/// Started by another program, whose arguments end where this binary's begin.
pub fn start_under(program: &mut Command, task: Task, file: &Path) -> Child {
    program
        .args(["--exact", "other_process::task_of_another_process", "--nocapture"])
        .env(TASK, task.name())
        .env(FILE, file)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap()
}

/// Runs a task to its end and gives what it said.
pub fn run(task: Task, file: &Path) -> String {
    let output = start(task, file).wait_with_output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success(), "{task:?}: {text}");
    said(&text).map(|line| line.to_owned() + "\n").collect()
}

/// Not a test of its own: nothing is asked of it in a test run; started by [`start`] it is the other
/// process.
#[test]
fn task_of_another_process() {
    let Ok(task) = env::var(TASK) else { return };
    let file = PathBuf::from(env::var_os(FILE).unwrap());
    let (task, number) = task.split_once(':').unwrap_or((&task, "0"));
    let number: u64 = number.parse().unwrap();
    match task {
        "append forever" => kill::append_forever(&file),
        "append some" => {
            let mut workshop = Workshop::open(&file).unwrap();
            for number in number..number + 60 {
                let entry = observed(number, remark("from another process"));
                workshop.append(job_id(1), &[entry], vec![]).unwrap();
                say(number);
            }
        }
        "create job" => {
            let mut workshop = Workshop::open_or_create(&file).unwrap();
            workshop.create_job(job_id(number), &job(number)).unwrap();
        }
        "hold lock" => {
            let connection = Connection::open(&file).unwrap();
            connection.execute_batch("BEGIN IMMEDIATE").unwrap();
            say("held");
            io::stdin().read_to_end(&mut Vec::new()).unwrap();
        }
        "large picture" => large_picture(&file),
        other => panic!("no task {other}"),
    }
}

const LARGE: u64 = 40_000_000;

/// Noise that is made while it is read.
struct Noise(Random);

impl Read for Noise {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        for part in buffer.chunks_mut(8) {
            part.copy_from_slice(&self.0.next().to_le_bytes()[..part.len()]);
        }
        Ok(buffer.len())
    }
}

fn large_picture(file: &Path) {
    let noise = || Noise(Random::new(40)).take(LARGE);
    let (picture, _) = digest_of(noise()).unwrap();
    let mut workshop = Workshop::create(file).unwrap();
    workshop.create_job(job_id(1), &job(0)).unwrap();
    say(peak_kib());
    let given = vec![NewAttachment::from_reader(picture, MediaType::JPEG, noise())];
    let entry = Entry { origin: Origin::Pictured { picture }, ..observed(1, remark("large")) };
    workshop.append(job_id(1), &[entry], given).unwrap();
    say(peak_kib());
    let stored = workshop.attachment(picture).unwrap();
    assert_eq!(stored.length(), LARGE);
    stored.hand_on(&mut io::sink()).unwrap();
    say(peak_kib());
    assert_eq!(workshop.load(job_id(1)).unwrap().log.entries()[0].id, entry_id(1));
}

/// The most memory this process has had, in KiB.
fn peak_kib() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap();
    line.trim().trim_end_matches(" kB").parse().unwrap()
}
