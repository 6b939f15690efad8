//! A full disk and a read-only one: a small tmpfs, mounted for the test. Mounting needs root on
//! Linux; elsewhere these tests say that they are skipped.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

use borespoke_store::{FileProblem, MediaType, NewAttachment, Workshop, digest_of_bytes};
use tempfile::TempDir;

use crate::samples::{content, cranking, job, job_id, observed, remark, spoken};

/// A disk of so many KiB.
struct SmallDisk {
    folder: TempDir,
}

impl SmallDisk {
    /// `None`, and a line on standard error past the capture of the harness, where it cannot be
    /// mounted.
    fn new(kib: u32, test: &str) -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let mounted =
            mount(&["-t", "tmpfs", "-o", &format!("size={kib}k"), "tmpfs"], folder.path());
        if !mounted {
            let line = format!("SKIPPED {test}: mounting a small disk needs root on Linux\n");
            std::io::stderr().write_all(line.as_bytes()).unwrap();
        }
        mounted.then_some(Self { folder })
    }

    fn file(&self) -> PathBuf {
        self.folder.path().join("jobs.bore")
    }

    fn ballast(&self) -> PathBuf {
        self.folder.path().join("ballast")
    }

    /// Fills the disk up but for so many KiB.
    fn fill_but(&self, kib: usize) {
        let mut ballast = fs::File::create(self.ballast()).unwrap();
        while ballast.write_all(&[1; 4096]).is_ok() {}
        let length = ballast.metadata().unwrap().len();
        ballast.set_len(length.saturating_sub(kib as u64 * 1024)).unwrap();
    }

    /// Emptied before it is removed: a process that another test is just starting may hold it open.
    fn make_room(&self) {
        if self.ballast().exists() {
            fs::write(self.ballast(), "").unwrap();
            fs::remove_file(self.ballast()).unwrap();
        }
    }

    fn make_read_only(&self) {
        assert!(mount(&["-o", "remount,ro"], self.folder.path()));
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        // A test that failed may still hold a file there; `-l` lets go once it is closed.
        let _ = Command::new("umount").arg("-l").arg(self.folder.path()).status();
    }
}

fn mount(how: &[&str], at: &Path) -> bool {
    cfg!(target_os = "linux")
        && Command::new("mount").args(how).arg(at).output().is_ok_and(|done| done.status.success())
}

#[test]
fn a_full_disk_loses_nothing_confirmed() {
    let Some(disk) = SmallDisk::new(4_096, "a full disk") else { return };
    let mut workshop = Workshop::create(disk.file()).unwrap();
    workshop.create_job(job_id(1), &job(0)).unwrap();
    let mut entries = Vec::new();
    let error = loop {
        let number = entries.len() as u64;
        let picture = content(number, 300_000);
        let entry = spoken(number, digest_of_bytes(&picture), cranking(2, 150.0));
        let given = vec![NewAttachment::from_bytes(MediaType::JPEG, &picture)];
        match workshop.append(job_id(1), std::slice::from_ref(&entry), given) {
            Ok(()) => entries.push(entry),
            Err(error) => break error,
        }
    };
    assert_eq!(error.file_problem(), Some(&FileProblem::Full), "{error}");
    assert!(error.hint().contains("room"));
    assert!(entries.len() > 3, "{}", entries.len());
    assert_eq!(workshop.load(job_id(1)).unwrap().log.entries(), entries);
    drop(workshop);
    let workshop = Workshop::open(disk.file()).unwrap();
    assert_eq!(workshop.load(job_id(1)).unwrap().log.entries(), entries);
    assert_eq!(workshop.check().unwrap().attachments, entries.len());
}

/// The disk is full at the first write, at the second, and so on, page by page.
#[test]
fn a_disk_that_is_full_at_any_write_takes_the_whole_entry_or_nothing() {
    let Some(disk) = SmallDisk::new(4_096, "a disk full at any write") else { return };
    let mut workshop = Workshop::create(disk.file()).unwrap();
    workshop.create_job(job_id(1), &job(0)).unwrap();
    let mut entries = Vec::new();
    let (mut full, mut fitted) = (0, 0);
    for free in (0..160).step_by(4) {
        let clip = content(free as u64, 40_000);
        let entry = spoken(free as u64, digest_of_bytes(&clip), cranking(2, 150.0));
        let given = || vec![NewAttachment::from_bytes(MediaType::WAV, &clip)];
        disk.fill_but(free);
        match workshop.append(job_id(1), std::slice::from_ref(&entry), given()) {
            Ok(()) => fitted += 1,
            Err(error) => {
                assert_eq!(error.file_problem(), Some(&FileProblem::Full), "{free}: {error}");
                full += 1;
                assert_eq!(workshop.load(job_id(1)).unwrap().log.entries(), entries);
                // Room is made, and the same entry goes in.
                disk.make_room();
                let again = workshop.append(job_id(1), std::slice::from_ref(&entry), given());
                again.unwrap_or_else(|error| panic!("{free}, {full} {fitted}: {error}"));
            }
        }
        entries.push(entry);
        // Without the ballast the log is brought into the file, so that the next round needs room.
        disk.make_room();
        workshop.close().unwrap();
        workshop = Workshop::open(disk.file()).unwrap();
        assert_eq!(workshop.load(job_id(1)).unwrap().log.entries(), entries);
    }
    assert!(full > 5 && fitted > 5, "{full} {fitted}");
    assert_eq!(workshop.check().unwrap().entries, entries.len());
}

#[test]
fn opening_and_making_on_a_full_disk_says_so_and_does_no_harm() {
    let Some(disk) = SmallDisk::new(1_024, "opening on a full disk") else { return };
    let mut workshop = Workshop::create(disk.file()).unwrap();
    workshop.create_job(job_id(1), &job(0)).unwrap();
    workshop.close().unwrap();
    let other = disk.folder.path().join("other.bore");
    for free in (0..120).step_by(4) {
        disk.fill_but(free);
        for result in [Workshop::open(disk.file()), Workshop::create(&other)] {
            if let Err(error) = result {
                assert_eq!(error.file_problem(), Some(&FileProblem::Full), "{free}: {error}");
            }
        }
        disk.make_room();
        assert_eq!(Workshop::open(disk.file()).unwrap().jobs().unwrap().len(), 1);
        // What was begun is finished now.
        assert_eq!(Workshop::open_or_create(&other).unwrap().jobs().unwrap().len(), 0);
        fs::remove_file(&other).unwrap();
    }
}

#[test]
fn a_copy_that_does_not_fit_leaves_nothing() {
    let Some(disk) = SmallDisk::new(1_024, "a copy on a full disk") else { return };
    let folder = tempfile::tempdir().unwrap();
    let mut workshop = Workshop::create(folder.path().join("jobs.bore")).unwrap();
    workshop.create_job(job_id(1), &job(0)).unwrap();
    let picture = content(1, 2_000_000);
    let entry = spoken(1, digest_of_bytes(&picture), cranking(2, 150.0));
    let given = vec![NewAttachment::from_bytes(MediaType::JPEG, &picture)];
    workshop.append(job_id(1), &[entry], given).unwrap();
    let error = workshop.copy_to(disk.file()).unwrap_err();
    assert_eq!(error.file_problem(), Some(&FileProblem::Full), "{error}");
    assert_eq!(fs::read_dir(disk.folder.path()).unwrap().count(), 0);
}

#[test]
fn a_read_only_disk_is_read_and_not_written() {
    let Some(disk) = SmallDisk::new(1_024, "a read-only disk") else { return };
    let mut workshop = Workshop::create(disk.file()).unwrap();
    workshop.create_job(job_id(1), &job(0)).unwrap();
    workshop.append(job_id(1), &[observed(1, remark("one"))], vec![]).unwrap();
    workshop.close().unwrap();
    disk.make_read_only();
    let mut workshop = Workshop::open(disk.file()).unwrap();
    assert!(workshop.is_read_only());
    assert_eq!(workshop.check().unwrap().entries, 1);
    let error = workshop.append(job_id(1), &[observed(2, remark("two"))], vec![]).unwrap_err();
    assert_eq!(error.file_problem(), Some(&FileProblem::ReadOnly), "{error}");
    let error = workshop.create_job(job_id(2), &job(0)).unwrap_err();
    assert_eq!(error.file_problem(), Some(&FileProblem::ReadOnly), "{error}");
    let error = Workshop::create(disk.folder.path().join("new.bore")).unwrap_err();
    assert_eq!(error.file_problem(), Some(&FileProblem::ReadOnly), "{error}");
    // A copy elsewhere can be written.
    let folder = tempfile::tempdir().unwrap();
    let copy = folder.path().join("copy.bore");
    workshop.copy_to(&copy).unwrap();
    let mut copy = Workshop::open(&copy).unwrap();
    copy.append(job_id(1), &[observed(2, remark("two"))], vec![]).unwrap();
}

/// Read without its log the file would be short of entries that were confirmed.
#[test]
fn a_file_left_with_its_log_on_a_read_only_disk_is_not_read_without_it() {
    let Some(disk) = SmallDisk::new(1_024, "a read-only disk with a log") else { return };
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("jobs.bore");
    let mut workshop = Workshop::create(&path).unwrap();
    workshop.create_job(job_id(1), &job(0)).unwrap();
    workshop.append(job_id(1), &[observed(1, remark("one"))], vec![]).unwrap();
    for name in ["jobs.bore", "jobs.bore-wal"] {
        fs::copy(folder.path().join(name), disk.folder.path().join(name)).unwrap();
    }
    disk.make_read_only();
    let error = Workshop::open(disk.file()).unwrap_err();
    assert_eq!(error.file_problem(), Some(&FileProblem::ReadOnly), "{error}");
    assert!(error.hint().contains("-wal"));
}
