//! Clips and pictures: small and large, once, verified.

use std::io::{self, ErrorKind, Read};

use borespoke_core::record::{Digest, Entry, Origin};
use borespoke_store::{
    FileProblem, MediaType, NewAttachment, Refusal, StoreError, Workshop, digest_of,
    digest_of_bytes,
};

use crate::other_process::{self, Task};
use crate::samples::{
    Bench, content, cranking, entry_id, job_id, moment, observed, remark, spoken, typed,
};

fn pictured(number: u64, picture: Digest) -> Entry {
    let entry = observed(number, remark("plug one, wet with oil"));
    Entry { origin: Origin::Pictured { picture }, ..entry }
}

/// Outside check. Source: FIPS 180-4, the examples NIST gives with it: SHA-256 of "abc" and of the
/// empty message.
#[test]
fn the_digest_is_sha_256() {
    let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    let empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
    assert_eq!(digest_of_bytes(b"abc").to_string(), abc);
    assert_eq!(digest_of(&b"abc"[..]).unwrap(), (abc.parse().unwrap(), 3));
    assert_eq!(digest_of(io::empty()).unwrap(), (empty.parse().unwrap(), 0));
}

#[test]
fn every_length_around_the_piece_comes_back() {
    let mut bench = Bench::new();
    let piece = 256 * 1024;
    let lengths = [0, 1, 20_000, piece - 1, piece, piece + 1, 2 * piece, 40_000_000];
    for (number, length) in (1..).zip(lengths) {
        let picture = content(number, length);
        let digest = digest_of_bytes(&picture);
        let given = vec![NewAttachment::from_reader(digest, MediaType::JPEG, &picture[..])];
        bench.workshop.append(job_id(1), &[pictured(number, digest)], given).unwrap();
        let kept = bench.workshop.attachment(digest).unwrap();
        assert_eq!(kept.length(), length as u64);
        assert!(kept.into_bytes().unwrap() == picture, "{length}");
        let mut read = Vec::new();
        bench.workshop.attachment(digest).unwrap().read_to_end(&mut read).unwrap();
        assert!(read == picture, "{length}");
    }
    assert_eq!(bench.workshop.check().unwrap().attachments, lengths.len());
}

#[test]
fn the_same_picture_is_stored_once() {
    let mut bench = Bench::new();
    let picture = content(5, 3_000_000);
    let digest = digest_of_bytes(&picture);
    for number in 1..=5 {
        let given = vec![NewAttachment::from_bytes(MediaType::JPEG, &picture)];
        bench.workshop.append(job_id(1), &[pictured(number, digest)], given).unwrap();
    }
    // Named again without being given again.
    bench.workshop.append(job_id(1), &[pictured(6, digest)], vec![]).unwrap();
    let bench = bench.reopened();
    assert_eq!(bench.workshop.check().unwrap().attachments, 1);
    let size = std::fs::metadata(bench.workshop.path()).unwrap().len();
    assert!(size < 3_300_000, "{size}");
}

#[test]
fn content_that_is_not_what_its_digest_says_is_refused_with_its_entry() {
    let mut bench = Bench::new();
    let digest = digest_of_bytes(b"what was announced");
    let other = content(1, 700_000);
    let given = vec![NewAttachment::from_reader(digest, MediaType::WAV, &other[..])];
    let refused = bench.workshop.append(job_id(1), &[spoken(1, digest, cranking(1, 150.0))], given);
    let Err(StoreError::Refused(Refusal::WrongDigest { given, found })) = refused else {
        panic!("{refused:?}")
    };
    assert_eq!((given, found), (digest, digest_of_bytes(&other)));
    assert_eq!(bench.workshop.check().unwrap().attachments, 0);
    assert_eq!(bench.workshop.load(job_id(1)).unwrap().log.entries(), []);
}

/// Gives some content, then fails as a pulled-out card does.
struct PulledOut(usize);

impl Read for PulledOut {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let count = buffer.len().min(self.0);
        if count == 0 {
            return Err(io::Error::new(ErrorKind::NotConnected, "card pulled out"));
        }
        self.0 -= count;
        Ok(count)
    }
}

#[test]
fn a_source_that_fails_half_way_leaves_nothing() {
    let mut bench = Bench::new();
    let blank = vec![0; 2_000_000];
    let digest = digest_of_bytes(&blank);
    let given = vec![NewAttachment::from_reader(digest, MediaType::JPEG, PulledOut(900_000))];
    let refused = bench.workshop.append(job_id(1), &[pictured(1, digest)], given);
    assert!(matches!(refused, Err(StoreError::Refused(Refusal::Unreadable { .. }))));
    // The same again, whole: the pieces of the first try are gone.
    let given = vec![NewAttachment::from_reader(digest, MediaType::JPEG, &blank[..])];
    bench.workshop.append(job_id(1), &[pictured(1, digest)], given).unwrap();
    assert_eq!(bench.workshop.attachment(digest).unwrap().into_bytes().unwrap().len(), 2_000_000);
}

#[test]
fn a_clip_may_be_given_with_several_entries() {
    let mut bench = Bench::new();
    let clip = content(1, 20_000);
    let digest = digest_of_bytes(&clip);
    let entries = [
        spoken(1, digest, cranking(1, 150.0)),
        spoken(2, digest, cranking(2, 148.0)),
        typed(3, borespoke_core::record::Act::Withdraw { entry: entry_id(1) }),
    ];
    let given = vec![NewAttachment::from_bytes(MediaType::WAV, &clip)];
    bench.workshop.append(job_id(1), &entries, given).unwrap();
    assert_eq!(bench.workshop.load(job_id(1)).unwrap().log.entries(), entries);
    assert_eq!(entries[2].at, moment(3));
}

#[test]
fn an_unknown_digest_is_refused() {
    let bench = Bench::new();
    let digest = digest_of_bytes(b"nobody said this");
    let refused = bench.workshop.attachment(digest);
    assert!(
        matches!(refused, Err(StoreError::Refused(Refusal::NoSuchAttachment(d))) if d == digest)
    );
}

#[test]
fn one_wrong_bit_in_a_picture_is_found_when_it_is_read() {
    let mut bench = Bench::new();
    let picture = content(5, 1_000_000);
    let digest = digest_of_bytes(&picture);
    let given = vec![NewAttachment::from_bytes(MediaType::JPEG, &picture)];
    bench.workshop.append(job_id(1), &[pictured(1, digest)], given).unwrap();
    let path = bench.workshop.path().to_owned();
    bench.workshop.close().unwrap();

    let mut file = std::fs::read(&path).unwrap();
    let sought = &picture[600_000..600_016];
    let at = file.windows(16).position(|window| window == sought).unwrap();
    file[at] ^= 1;
    std::fs::write(&path, file).unwrap();

    let workshop = Workshop::open(&path).unwrap();
    let corrupt = |error: &StoreError| matches!(error.file_problem(), Some(FileProblem::Corrupt(what)) if what.contains(&digest.to_string()));
    assert!(corrupt(&workshop.attachment(digest).unwrap().into_bytes().unwrap_err()));
    let handed = workshop.attachment(digest).unwrap().hand_on(&mut io::sink());
    assert!(corrupt(&handed.unwrap_err()));
    let read = workshop.attachment(digest).unwrap().read_to_end(&mut Vec::new());
    assert_eq!(read.unwrap_err().kind(), ErrorKind::InvalidData);
    assert!(corrupt(&workshop.check().unwrap_err()));
}

/// A phone picture is 3 to 12 MB, a bad day's 40 MB. Measured in a process of its own, since this
/// one holds the pictures of the other tests.
#[test]
#[cfg_attr(not(target_os = "linux"), ignore = "the peak is read from /proc")]
fn storing_and_reading_a_large_picture_does_not_hold_it_in_memory() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("jobs.bore");
    let said = other_process::run(Task::LargePicture, &path);
    let [before, stored, read] = said.lines().collect::<Vec<_>>()[..] else { panic!("{said}") };
    let kib = |text: &str| text.parse::<i64>().unwrap();
    let (stored, read) = (kib(stored) - kib(before), kib(read) - kib(before));
    // The page cache of SQLite is 2 MiB, a piece 256 KiB; the picture is 39 063 KiB.
    assert!(stored < 8_000, "storing took {stored} KiB more");
    assert!(read < 8_000, "reading took {read} KiB more");
}
