//! A write-ahead log cut short or spoilt, as a power cut leaves it, and a file with wrong bytes.

use std::fs;
use std::path::{Path, PathBuf};

use borespoke_core::record::Entry;
use borespoke_store::{FileProblem, MediaType, NewAttachment, Workshop, digest_of_bytes};
use tempfile::TempDir;

use crate::samples::{Bench, Random, content, cranking, job_id, spoken};

const ENTRIES: u64 = 30;

fn nth(number: u64) -> (Entry, Vec<u8>) {
    let clip = content(number, 5_000);
    (spoken(number, digest_of_bytes(&clip), cranking(3, 140.0)), clip)
}

fn log_of(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push("-wal");
    name.into()
}

/// The file and its log as they lie on the disk after the last entry, and how long the log was
/// when each entry was confirmed.
struct Lying {
    file: Vec<u8>,
    log: Vec<u8>,
    confirmed_at: Vec<usize>,
}

impl Lying {
    fn new() -> Self {
        let mut bench = Bench::new();
        // Brings what came before into the file, so that the log begins with the first entry.
        bench = bench.reopened();
        let path = bench.workshop.path().to_owned();
        let mut confirmed_at = Vec::new();
        for number in 0..ENTRIES {
            let (entry, clip) = nth(number);
            let given = vec![NewAttachment::from_bytes(MediaType::WAV, &clip)];
            bench.workshop.append(job_id(1), &[entry], given).unwrap();
            confirmed_at.push(usize::try_from(log_of(&path).metadata().unwrap().len()).unwrap());
        }
        // In the order a power cut would show them: nothing was brought into the file meanwhile.
        let lying = Self {
            file: fs::read(&path).unwrap(),
            log: fs::read(log_of(&path)).unwrap(),
            confirmed_at,
        };
        assert!(lying.confirmed_at.is_sorted_by(|a, b| a < b), "the log began anew");
        lying
    }

    /// How many entries had been confirmed when the log was so long.
    fn confirmed(&self, length: usize) -> usize {
        self.confirmed_at.iter().filter(|&&at| at <= length).count()
    }

    /// Lays the file down with this log and gives how many entries are found, all of them whole.
    fn found(&self, log: &[u8]) -> usize {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("jobs.bore");
        fs::write(&path, &self.file).unwrap();
        fs::write(log_of(&path), log).unwrap();
        let workshop = Workshop::open(&path).unwrap();
        assert_eq!(workshop.was_checked(), !log.is_empty());
        workshop.check().unwrap();
        let stored = workshop.load(job_id(1)).unwrap();
        for (number, found) in (0..).zip(stored.log.entries()) {
            let (entry, clip) = nth(number);
            assert_eq!(*found, entry);
            let kept = workshop.attachment(digest_of_bytes(&clip)).unwrap();
            assert_eq!(kept.into_bytes().unwrap(), clip);
        }
        stored.log.entries().len()
    }
}

/// What a power cut may do to the part of the log that was not yet confirmed: not there, zeros, or
/// anything.
#[test]
fn a_log_torn_anywhere_keeps_every_entry_confirmed_before() {
    let lying = Lying::new();
    let mut random = Random::new(7);
    for round in 0..150 {
        let cut = usize::try_from(random.below(lying.log.len() as u64 + 1)).unwrap();
        let (kept, torn) = lying.log.split_at(cut);
        let rest = match round % 3 {
            0 => vec![],
            1 => vec![0; torn.len()],
            _ => content(round, torn.len()),
        };
        let found = lying.found(&[kept, &rest].concat());
        assert_eq!(found, lying.confirmed(cut), "cut at {cut}, round {round}");
    }
}

/// Pages reach the disk in any order before they are confirmed.
#[test]
fn a_log_with_a_page_missing_keeps_every_entry_confirmed_before() {
    let lying = Lying::new();
    let mut random = Random::new(8);
    // sqlite.org/fileformat.html: a header of 32 bytes, then frames of 24 bytes and a page.
    let (header, frame) = (32, 24 + 4096);
    let frames = (lying.log.len() - header) / frame;
    for _ in 0..60 {
        let lost = usize::try_from(random.below(frames as u64)).unwrap();
        let start = header + lost * frame;
        let mut log = lying.log.clone();
        log[start..start + frame].fill(0);
        assert_eq!(lying.found(&log), lying.confirmed(start), "frame {lost}");
    }
}

#[test]
fn one_wrong_bit_in_the_log_ends_it_there() {
    let lying = Lying::new();
    let mut random = Random::new(9);
    for _ in 0..60 {
        let at = usize::try_from(random.below(lying.log.len() as u64 - 32)).unwrap() + 32;
        let mut log = lying.log.clone();
        log[at] ^= 1 << random.below(8);
        assert_eq!(lying.found(&log), lying.confirmed(at), "byte {at}");
    }
}

/// A wrong byte is noticed, or does not matter; it never makes a wrong entry.
#[test]
fn a_file_with_a_wrong_byte_never_gives_a_wrong_entry() {
    let mut bench = Bench::new();
    let entries: Vec<_> = (0..ENTRIES)
        .map(|number| {
            let (entry, clip) = nth(number);
            let given = vec![NewAttachment::from_bytes(MediaType::WAV, &clip)];
            bench.workshop.append(job_id(1), std::slice::from_ref(&entry), given).unwrap();
            entry
        })
        .collect();
    let before = bench.workshop.load(job_id(1)).unwrap();
    let path = bench.workshop.path().to_owned();
    bench.workshop.close().unwrap();
    let good = fs::read(&path).unwrap();
    let mut random = Random::new(10);
    let (mut noticed, mut harmless) = (0, 0);
    for _ in 0..400 {
        let at = usize::try_from(random.below(good.len() as u64)).unwrap();
        let mut bad = good.clone();
        bad[at] ^= u8::try_from(1 + random.below(255)).unwrap();
        fs::write(&path, &bad).unwrap();
        let loaded = Workshop::open(&path)
            .and_then(|workshop| workshop.check().and_then(|_| workshop.load(job_id(1))));
        match loaded {
            Ok(stored) => {
                assert_eq!(stored, before, "byte {at}");
                harmless += 1;
            }
            Err(error) => {
                assert!(error.file_problem().is_some(), "byte {at}: {error}");
                noticed += 1;
            }
        }
    }
    println!("{noticed} wrong bytes noticed, {harmless} harmless");
    assert_eq!(before.log.entries(), entries);
    // Most of the file is content; were it not noticed there, nothing would be.
    assert!(noticed > harmless, "{noticed} {harmless}");
}

#[test]
fn a_file_cut_short_is_refused() {
    let mut bench = Bench::new();
    let (entry, clip) = nth(1);
    let given = vec![NewAttachment::from_bytes(MediaType::WAV, &clip)];
    bench.workshop.append(job_id(1), &[entry], given).unwrap();
    let path = bench.workshop.path().to_owned();
    bench.workshop.close().unwrap();
    let good = fs::read(&path).unwrap();
    for length in [50, 100, 4_096, 10_000, good.len() / 2, good.len() - 1] {
        fs::write(&path, &good[..length]).unwrap();
        let refused = Workshop::open(&path).and_then(|workshop| workshop.check());
        let error = refused.unwrap_err();
        assert!(
            matches!(error.file_problem(), Some(FileProblem::Corrupt(_) | FileProblem::NotOurs(_))),
            "{length}: {error}"
        );
    }
}
