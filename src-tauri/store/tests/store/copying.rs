//! A copy of the file while it is in use.

use borespoke_store::{FileProblem, MediaType, NewAttachment, Workshop, digest_of_bytes};

use crate::other_process::{self, Task};
use crate::samples::{Bench, content, cranking, job, job_id, observed, remark, spoken};

#[test]
fn a_copy_holds_everything_and_lives_on_its_own() {
    let mut bench = Bench::new();
    let clip = content(1, 700_000);
    let entry = spoken(1, digest_of_bytes(&clip), cranking(3, 140.0));
    let given = vec![NewAttachment::from_bytes(MediaType::WAV, &clip)];
    bench.workshop.append(job_id(1), std::slice::from_ref(&entry), given).unwrap();
    let path = bench.folder.path().join("copy's.bore");
    bench.workshop.copy_to(&path).unwrap();
    bench.workshop.append(job_id(1), &[observed(2, remark("later"))], vec![]).unwrap();

    let mut copy = Workshop::open(&path).unwrap();
    assert!(!copy.was_checked());
    let checked = copy.check().unwrap();
    assert_eq!((checked.jobs, checked.entries, checked.attachments), (1, 1, 1));
    assert_eq!(copy.load(job_id(1)).unwrap().log.entries(), [entry]);
    copy.create_job(job_id(2), &job(1)).unwrap();
    assert_eq!(bench.workshop.jobs().unwrap().len(), 1);
}

#[test]
fn copies_made_while_another_process_writes_are_whole() {
    let bench = Bench::new();
    let other = other_process::start(Task::AppendSome(0), bench.workshop.path());
    let mut last = 0;
    for number in 0..8 {
        let path = bench.folder.path().join(format!("copy-{number}"));
        bench.workshop.copy_to(&path).unwrap();
        let entries = Workshop::open(&path).unwrap().check().unwrap().entries;
        assert!(entries >= last, "{entries} after {last}");
        last = entries;
    }
    assert!(other.wait_with_output().unwrap().status.success());
    assert_eq!(bench.workshop.check().unwrap().entries, 60);
}

#[test]
fn a_file_that_is_there_is_not_overwritten() {
    let bench = Bench::new();
    let path = bench.folder.path().join("precious");
    std::fs::write(&path, "something else").unwrap();
    let error = bench.workshop.copy_to(&path).unwrap_err();
    assert_eq!(error.file_problem(), Some(&FileProblem::Exists));
    assert_eq!(std::fs::read(&path).unwrap(), b"something else");
}

#[test]
fn a_place_that_is_not_there_is_named_and_nothing_is_left() {
    let bench = Bench::new();
    let path = bench.folder.path().join("no folder").join("copy");
    let error = bench.workshop.copy_to(&path).unwrap_err();
    assert!(error.to_string().contains("no folder"), "{error}");
    assert!(matches!(error.file_problem(), Some(FileProblem::Unusable(_))), "{error}");
}
