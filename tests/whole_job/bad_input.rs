//! Bad input: a clear message, and nothing already saved is lost.

use std::fs;
use std::process::Command;

use crate::support::{CaseFolder, SIX, ask, borespoke, noise, wav};

/// The entry that must survive whatever else is wrong.
const GOOD_ENTRY: &str =
    r#"{"kind": "cranking", "cylinder": 1, "value": 150, "unit": "psi", "wet": false}"#;

fn saved(case: &CaseFolder) {
    let table = ask("table", &case.job_file()).exits(0);
    assert_eq!(table.lines()[0]["dry"], 150.0, "{}", table.out);
}

fn six_with_good_entry() -> CaseFolder {
    CaseFolder::new(SIX).with("entries.jsonl", GOOD_ENTRY.as_bytes())
}

/// Clips in which nothing was said: each is kept, none becomes a reading.
#[test]
fn empty_silent_and_noisy_clips_give_no_reading() {
    for (name, samples) in
        [("empty", vec![]), ("silence", vec![0; 16_000 * 2]), ("noise", noise(16_000 * 2, 8000))]
    {
        let case = six_with_good_entry().with(&format!("clips/{name}.wav"), &wav(16_000, samples));
        let run = case.take();
        assert!([0, 1].contains(&run.code), "{name}: {}", run.err);
        for line in run.lines().iter().filter(|line| line.get("clip").is_some()) {
            assert_ne!(line["outcome"], "accepted", "{name}: {line}");
        }
        saved(&case);
    }
}

#[test]
fn an_hour_of_audio_is_refused_by_name_not_swallowed() {
    let hour = wav(8_000, std::iter::repeat_n(0, 8_000 * 3600));
    let case = six_with_good_entry().with("clips/hour.wav", &hour);
    let run = case.take().exits(1);
    assert!(run.err.contains("hour.wav") && run.err.contains("60"), "{}", run.err);
    saved(&case);
}

#[test]
fn a_truncated_wav_and_a_jpeg_named_wav_are_said_to_be_that() {
    let whole = wav(16_000, noise(16_000, 3000));
    let case = six_with_good_entry()
        .with("clips/cut.wav", &whole[..30])
        .with("clips/picture.wav", b"\xff\xd8\xff\xe0\x00\x10JFIF\x00 not a sound");
    let run = case.take().exits(1);
    assert!(run.err.contains("cut.wav") && run.err.contains("picture.wav"), "{}", run.err);
    saved(&case);
}

#[test]
fn an_empty_picture_and_a_bomb_of_a_picture_are_refused_by_name() {
    // A PNG header that claims 100,000 x 100,000 pixels, and one of 20,000 x 20,000.
    let header = |side: u32| {
        let mut png = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
        png.extend(side.to_be_bytes());
        png.extend(side.to_be_bytes());
        png.extend([8, 2, 0, 0, 0]);
        png
    };
    let case = six_with_good_entry()
        .with("plugs/plug-1.jpg", b"")
        .with("plugs/plug-2.png", &header(100_000))
        .with("plugs/plug-3.png", &header(20_000));
    let run = case.take().exits(1);
    for name in ["plug-1.jpg", "plug-2.png", "plug-3.png"] {
        assert!(run.err.contains(name), "{name} is not named in:\n{}", run.err);
    }
    saved(&case);
}

#[test]
fn typed_entries_that_cannot_be_are_refused_by_name() {
    for (entry, told) in [
        (r#"{"kind":"cranking","cylinder":7,"value":150,"unit":"psi"}"#, "has 1 to 6"),
        (r#"{"kind":"leak-down","cylinder":2,"value":900,"unit":"percent"}"#, "allowed 0 to 100"),
        (r#"{"kind":"cranking","cylinder":2,"value":-5,"unit":"psi"}"#, "given -5 psi"),
        (r#"{"kind":"cranking","cylinder":2,"value":150,"unit":"parrots"}"#, "parrots"),
        (r#"{"kind":"horoscope","cylinder":2}"#, "horoscope"),
        ("not json", "line 2"),
    ] {
        let both = format!("{GOOD_ENTRY}\n{entry}\n");
        let case = CaseFolder::new(SIX).with("entries.jsonl", both.as_bytes());
        let run = case.take().exits(1);
        assert!(run.err.contains(told) && run.err.contains("entries.jsonl"), "{}", run.err);
        saved(&case);
    }
}

#[test]
fn a_firing_order_with_a_repeat_is_refused_before_anything_is_made() {
    let case =
        CaseFolder::new(r#"{"engine": {"cylinders": 6, "firing_order": [1, 5, 3, 5, 2, 4]}}"#);
    let run = case.take().exits(1);
    assert!(run.err.contains("cylinder 5 is there twice"), "{}", run.err);
    assert!(!case.job_file().exists());
}

#[test]
fn a_job_file_of_a_newer_version_is_refused_and_left_alone() {
    let case = six_with_good_entry();
    case.take().exits(0);
    let newer = rusqlite::Connection::open(case.job_file()).unwrap();
    newer.pragma_update(None, "user_version", 9_999).unwrap();
    newer.close().unwrap();
    let before = fs::read(case.job_file()).unwrap();
    let run = ask("table", &case.job_file()).exits(1);
    assert!(run.err.contains("newer"), "{}", run.err);
    case.take().exits(1);
    assert_eq!(fs::read(case.job_file()).unwrap(), before);
}

#[test]
fn a_file_that_is_not_a_job_file_is_refused_and_left_alone() {
    let case = six_with_good_entry();
    fs::write(case.job_file(), "my notes, not a job file").unwrap();
    case.take().exits(1);
    assert_eq!(fs::read_to_string(case.job_file()).unwrap(), "my notes, not a job file");
}

/// A mount of its own, so that it can be full or read-only; needs root.
struct Tmpfs(tempfile::TempDir);

impl Tmpfs {
    fn mounted(kilobytes: u32) -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let size = format!("size={kilobytes}k");
        let done = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &size, "tmpfs"])
            .arg(folder.path())
            .status();
        done.is_ok_and(|status| status.success()).then_some(Self(folder))
    }

    fn remount(&self, option: &str) {
        let options = format!("remount,{option}");
        let status =
            Command::new("mount").args(["-o", &options]).arg(self.0.path()).status().unwrap();
        assert!(status.success());
    }
}

impl Drop for Tmpfs {
    fn drop(&mut self) {
        // Failing to unmount leaves a tmpfs behind, which no test sees.
        let _ = Command::new("umount").arg("-l").arg(self.0.path()).status();
    }
}

#[test]
fn a_full_disk_is_said_and_what_was_saved_is_still_there() {
    let Some(disk) = Tmpfs::mounted(1024) else {
        eprintln!("skipped: mounting a tmpfs needs root");
        return;
    };
    let file = disk.0.path().join("workshop.borespoke");
    six_with_good_entry().take_into(&file).exits(0);
    let big = six_with_good_entry()
        .with("clips/long.wav", &wav(48_000, noise(48_000 * 25, 3000)))
        .with("entries.jsonl", GOOD_ENTRY.as_bytes());
    let run = big.take_into(&file).exits(1);
    assert!(run.err.contains("full"), "{}", run.err);
    let table = ask("table", &file).exits(0);
    assert_eq!(table.lines()[0]["dry"], 150.0);
}

#[test]
fn a_read_only_disk_is_said_and_can_still_be_read() {
    let Some(disk) = Tmpfs::mounted(4096) else {
        eprintln!("skipped: mounting a tmpfs needs root");
        return;
    };
    let file = disk.0.path().join("workshop.borespoke");
    six_with_good_entry().take_into(&file).exits(0);
    disk.remount("ro");
    let other = r#"{"kind":"cranking","cylinder":2,"value":149,"unit":"psi"}"#;
    let more = CaseFolder::new(SIX).with("entries.jsonl", other.as_bytes());
    let run = more.take_into(&file).exits(1);
    assert!(run.err.contains("read-only"), "{}", run.err);
    let table = ask("table", &file).exits(0);
    assert_eq!(table.lines()[0]["dry"], 150.0);
}

#[test]
fn two_processes_on_one_file_lose_nothing() {
    let shared = six_with_good_entry();
    shared.take().exits(0);
    let file = shared.job_file();
    std::thread::scope(|scope| {
        for cylinder in 2..=5 {
            let file = &file;
            scope.spawn(move || {
                let entry = format!(
                    r#"{{"kind":"cranking","cylinder":{cylinder},"value":14{cylinder},"unit":"psi"}}"#
                );
                let case = CaseFolder::new(SIX).with("entries.jsonl", entry.as_bytes());
                case.take_into(file).exits(0);
            });
        }
    });
    let rows = ask("table", &file).exits(0).lines();
    let dry: Vec<f64> = rows[..5].iter().map(|row| row["dry"].as_f64().unwrap()).collect();
    assert_eq!(dry, [150.0, 142.0, 143.0, 144.0, 145.0]);
}

#[test]
fn a_missing_case_and_a_missing_job_file_say_what_to_do() {
    let run = borespoke(["take", "no-such-case", "--into", "target/never-made.borespoke"]);
    let run = run.exits(1);
    assert!(run.err.contains("case.json") && run.err.contains("missing"), "{}", run.err);
    let run = borespoke(["table", "no-such-file.borespoke"]).exits(1);
    assert!(run.err.contains("no-such-file.borespoke"), "{}", run.err);
    assert!(!std::path::Path::new("no-such-file.borespoke").exists());
}
