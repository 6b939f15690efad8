//! A process killed at any instant loses no confirmed entry and leaves a file that opens.

use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::thread;
use std::time::Duration;

use borespoke_core::record::{Act, Entry, Origin};
use borespoke_store::{MediaType, NewAttachment, Workshop, digest_of_bytes};

use crate::other_process::{self, Task};
use crate::samples::{
    Random, content, cranking, entry_id, job, job_id, observed, remark, spoken, typed,
};

/// The `number`th entry of the file and the content it stands on; the same in every process.
fn nth(number: u64) -> (Entry, Vec<(MediaType, Vec<u8>)>) {
    match number % 10 {
        // A picture that takes several pieces and spills out of SQLite's cache.
        7 => {
            let picture = content(number, 3_000_000);
            let origin = Origin::Pictured { picture: digest_of_bytes(&picture) };
            let entry = Entry { origin, ..observed(number, remark("a plug")) };
            (entry, vec![(MediaType::JPEG, picture)])
        }
        8 => {
            let replaces = entry_id(number - 1);
            let act = Act::Correct { replaces, observation: cranking(4, 131.0) };
            (typed(number, act), vec![])
        }
        9 => (typed(number, Act::Withdraw { entry: entry_id(number - 1) }), vec![]),
        // Every tenth clip is one that is stored already.
        rest => {
            let clip = content(if rest == 0 { 0 } else { number }, 20_000);
            let entry = spoken(number, digest_of_bytes(&clip), cranking(3, 140.0));
            (entry, vec![(MediaType::WAV, clip)])
        }
    }
}

/// What the other process does until it is killed.
pub fn append_forever(file: &Path) {
    let mut workshop = Workshop::open_or_create(file).unwrap();
    if workshop.latest().unwrap().is_none() {
        workshop.create_job(job_id(1), &job(0)).unwrap();
    }
    let next = workshop.load(job_id(1)).unwrap().log.entries().len() as u64;
    for number in next.. {
        let (entry, contents) = nth(number);
        let given = contents
            .iter()
            .map(|(media, content)| NewAttachment::from_bytes(media.clone(), content))
            .collect();
        workshop.append(job_id(1), &[entry], given).unwrap();
        other_process::say(number);
    }
}

/// Everything in the file is whole and as it was written; gives how many entries there are.
pub fn verified(workshop: &Workshop) -> u64 {
    if workshop.latest().unwrap().is_none() {
        return 0;
    }
    let log = workshop.load(job_id(1)).unwrap().log;
    for (number, found) in (0..).zip(log.entries()) {
        let (entry, contents) = nth(number);
        assert_eq!(*found, entry);
        for (_, content) in contents {
            let kept = workshop.attachment(digest_of_bytes(&content)).unwrap();
            assert!(kept.into_bytes().unwrap() == content, "content of entry {number}");
        }
    }
    log.entries().len() as u64
}

/// Eight files, nine kills each. The first kill of each comes at any time from the start of the
/// process, while the file is being made; of the others, half after the first confirmed entry.
#[test]
fn killed_at_any_instant() {
    const SEED: u64 = 20_261_125;
    const FILES: usize = 8;
    const KILLS: usize = 9;
    let mut random = Random::new(SEED);
    let (mut confirmed_in_all, mut unclean, mut unconfirmed) = (0, 0, 0);
    for file in 0..FILES {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("jobs.bore");
        let mut confirmed = 0;
        for kill in 0..KILLS {
            let mut process = other_process::start(Task::AppendForever, &path);
            let mut output = BufReader::new(process.stdout.take().unwrap());
            let mut heard = String::new();
            if kill % 2 == 1 {
                while other_process::said(&heard).next().is_none() {
                    assert!(output.read_line(&mut heard).unwrap() > 0, "seed {SEED}: {heard}");
                }
            }
            thread::sleep(Duration::from_micros(random.below(100_000)));
            // On Unix this is SIGKILL.
            process.kill().unwrap();
            output.read_to_string(&mut heard).unwrap();
            process.wait().unwrap();
            if let Some(last) = other_process::said(&heard).last() {
                confirmed = last.parse::<u64>().unwrap() + 1;
            }

            let workshop = Workshop::open_or_create(&path).unwrap();
            unclean += usize::from(workshop.was_checked());
            workshop.check().unwrap();
            let found = verified(&workshop);
            // The one that was being written may be there or not, whole in either case.
            let context = format!("seed {SEED}, file {file}, kill {kill}");
            assert!(found == confirmed || found == confirmed + 1, "{context}: {found} {confirmed}");
            unconfirmed += found - confirmed;
            confirmed = found;
        }
        confirmed_in_all += confirmed;
    }
    println!(
        "{} kills, {confirmed_in_all} entries, {unconfirmed} of them on disk before they were said, \
         {unclean} files left with a write-ahead log",
        FILES * KILLS
    );
    // Otherwise the kills came when nothing was going on.
    assert!(unclean >= FILES * (KILLS / 2), "only {unclean} kills came in the middle");
}
