//! Entries go in whole, fit the log, and come back as they were.

use borespoke_core::record::{Act, EntryId, Lab, Log, LogError, Look, Observation, PlugFigures};
use borespoke_store::{MediaType, NewAttachment, Refusal, StoreError, digest_of_bytes};
use rusqlite::Connection;

use crate::samples::{
    Bench, content, cranking, cylinder, entry_id, job, job_id, moment, observed, remark, spoken,
    typed,
};

fn refusal<T: std::fmt::Debug>(result: Result<T, StoreError>) -> Refusal {
    match result.unwrap_err() {
        StoreError::Refused(refusal) => refusal,
        other @ StoreError::File(_) => panic!("{other}"),
    }
}

#[test]
fn an_entry_with_its_clip_comes_back_after_reopening() {
    let mut bench = Bench::new();
    let clip = content(1, 20_000);
    let entry = spoken(1, digest_of_bytes(&clip), cranking(3, 140.0));
    let clips = vec![NewAttachment::from_bytes(MediaType::WAV, &clip)];
    bench.workshop.append(job_id(1), std::slice::from_ref(&entry), clips).unwrap();

    let bench = bench.reopened();
    assert!(!bench.workshop.was_checked());
    let stored = bench.workshop.load(job_id(1)).unwrap();
    assert_eq!(stored.job, job(0));
    assert_eq!(stored.log.entries(), [entry]);
    let kept = bench.workshop.attachment(digest_of_bytes(&clip)).unwrap();
    assert_eq!((kept.media_type(), kept.length()), (&MediaType::WAV, 20_000));
    assert_eq!(kept.into_bytes().unwrap(), clip);
}

#[test]
fn an_entry_that_points_at_nothing_is_refused_and_takes_its_companions_along() {
    let mut bench = Bench::new();
    let wrong = typed(2, Act::Withdraw { entry: entry_id(9) });
    let both = [observed(1, remark("small talk")), wrong];
    let refused = refusal(bench.workshop.append(job_id(1), &both, vec![]));
    assert!(matches!(refused, Refusal::Log(LogError::UnknownTarget { .. })), "{refused}");
    assert_eq!(bench.workshop.load(job_id(1)).unwrap().log, Log::new());
    // The refusal leaves no trace in what the next entry is compared with.
    bench.workshop.append(job_id(1), &both[..1], vec![]).unwrap();
}

#[test]
fn an_entry_may_point_at_one_of_the_same_call() {
    let mut bench = Bench::new();
    let slip = observed(1, cranking(3, 90.0));
    let correction =
        typed(2, Act::Correct { replaces: entry_id(1), observation: cranking(3, 140.0) });
    bench.workshop.append(job_id(1), &[slip, correction], vec![]).unwrap();
    let log = bench.workshop.load(job_id(1)).unwrap().log;
    assert_eq!(log.in_force().len(), 1);
}

#[test]
fn the_same_entry_twice_is_refused_in_its_job_and_in_another() {
    let mut bench = Bench::new();
    bench.workshop.create_job(job_id(2), &job(5)).unwrap();
    let entry = [observed(1, remark("once"))];
    bench.workshop.append(job_id(1), &entry, vec![]).unwrap();
    let again = refusal(bench.workshop.append(job_id(1), &entry, vec![]));
    assert!(matches!(again, Refusal::Log(LogError::Duplicate(EntryId(_)))), "{again}");
    let elsewhere = refusal(bench.workshop.append(job_id(2), &entry, vec![]));
    assert!(matches!(elsewhere, Refusal::EntryInAnotherJob { job, .. } if job == job_id(1)));
}

#[test]
fn a_correction_of_an_entry_in_another_job_is_refused() {
    let mut bench = Bench::new();
    bench.workshop.create_job(job_id(2), &job(5)).unwrap();
    bench.workshop.append(job_id(1), &[observed(1, remark("one"))], vec![]).unwrap();
    let other = typed(2, Act::Withdraw { entry: entry_id(1) });
    let refused = refusal(bench.workshop.append(job_id(2), &[other], vec![]));
    assert!(matches!(refused, Refusal::Log(LogError::UnknownTarget { .. })));
}

#[test]
fn a_spoken_entry_without_its_clip_is_refused() {
    let mut bench = Bench::new();
    let digest = digest_of_bytes(b"never given");
    let entry = spoken(1, digest, cranking(1, 150.0));
    let refused = refusal(bench.workshop.append(job_id(1), &[entry], vec![]));
    assert!(matches!(refused, Refusal::AttachmentNotGiven { digest: d, .. } if d == digest));
}

#[test]
fn nothing_and_an_unknown_job_are_refused() {
    let mut bench = Bench::new();
    assert!(matches!(refusal(bench.workshop.append(job_id(1), &[], vec![])), Refusal::NoEntry));
    let entry = [observed(1, remark("lost"))];
    let refused = refusal(bench.workshop.append(job_id(7), &entry, vec![]));
    assert!(matches!(refused, Refusal::NoSuchJob(id) if id == job_id(7)));
    assert!(matches!(refusal(bench.workshop.load(job_id(7))), Refusal::NoSuchJob(_)));
}

#[test]
fn a_figure_that_is_not_a_number_is_refused_before_it_becomes_unreadable() {
    let mut bench = Bench::new();
    let figures =
        PlugFigures { colour: Lab { l: 50.0, a: f64::NAN, b: 0.0 }, spread: 1.0, balanced: true };
    let look = Look { cylinder: cylinder(2), signs: vec![], picture: None, figures: Some(figures) };
    let entry = observed(1, Observation::Look(look));
    let refused = refusal(bench.workshop.append(job_id(1), &[entry], vec![]));
    assert!(matches!(refused, Refusal::NotExact { .. }), "{refused}");
    assert_eq!(bench.workshop.load(job_id(1)).unwrap().log, Log::new());
}

#[test]
fn jobs_are_listed_latest_begun_first() {
    let mut bench = Bench::new();
    for (number, begun) in [(2, 3_000), (3, 1_000)] {
        bench.workshop.create_job(job_id(number), &job(begun)).unwrap();
    }
    bench.workshop.append(job_id(3), &[observed(1, remark("one"))], vec![]).unwrap();
    let listed: Vec<_> = bench.workshop.jobs().unwrap();
    let ids: Vec<_> = listed.iter().map(|line| (line.id, line.entries)).collect();
    assert_eq!(ids, [(job_id(2), 0), (job_id(3), 1), (job_id(1), 0)]);
    assert_eq!(listed[0].begun, moment(3_000));
    assert_eq!(listed[0].vehicle, job(0).vehicle);
    assert!(listed[0].invented);
    assert_eq!(bench.workshop.latest().unwrap(), Some(job_id(2)));
}

#[test]
fn the_same_job_twice_is_refused() {
    let mut bench = Bench::new();
    let refused = refusal(bench.workshop.create_job(job_id(1), &job(9)));
    assert!(matches!(refused, Refusal::JobExists(_)));
    assert_eq!(bench.workshop.load(job_id(1)).unwrap().job, job(0));
}

#[test]
fn a_revision_made_to_an_old_one_is_refused() {
    let mut bench = Bench::new();
    let renamed = borespoke_core::job::Job { customer: "Renamed".to_owned(), ..job(0) };
    assert_eq!(bench.workshop.revise_job(job_id(1), 1, &renamed, moment(9)).unwrap(), 2);
    let stored = bench.workshop.load(job_id(1)).unwrap();
    assert_eq!((stored.revision, &stored.job), (2, &renamed));
    assert_eq!(bench.workshop.jobs().unwrap()[0].customer, "Renamed");
    let late = refusal(bench.workshop.revise_job(job_id(1), 1, &job(0), moment(10)));
    assert!(matches!(late, Refusal::Revised { found: 2, given: 1, .. }), "{late}");
}

/// Every table, by every way SQL has to change a row, over a connection that set nothing.
#[test]
fn nothing_written_can_be_changed_or_removed() {
    let mut bench = Bench::new();
    let clip = content(1, 600_000);
    let entry = spoken(1, digest_of_bytes(&clip), cranking(3, 140.0));
    let clips = vec![NewAttachment::from_bytes(MediaType::WAV, &clip)];
    bench.workshop.append(job_id(1), std::slice::from_ref(&entry), clips).unwrap();

    let stranger = Connection::open(bench.workshop.path()).unwrap();
    // The triggers alone must hold.
    stranger.pragma_update(None, "foreign_keys", false).unwrap();
    let tables: Vec<String> = stranger
        .prepare("SELECT name FROM sqlite_schema WHERE type = 'table'")
        .unwrap()
        .query_map([], |row| row.get(0))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap();
    assert_eq!(tables.len(), 6);
    let mut attempts: Vec<String> = tables.iter().map(|t| format!("DELETE FROM {t}")).collect();
    attempts.extend(
        [
            "UPDATE job SET id = zeroblob(16)",
            "UPDATE job_revision SET body = '{}'",
            "UPDATE entry SET at = 0",
            "UPDATE entry SET place = 7",
            "UPDATE attachment SET length = 0",
            "UPDATE attachment_piece SET content = x''",
            "UPDATE entry_attachment SET entry = 7",
            "REPLACE INTO job SELECT * FROM job",
            "REPLACE INTO job_revision (key, job, revision, made_at, begun, body, digest)
                SELECT key, job, 2, made_at, begun, body, digest FROM job_revision",
            "REPLACE INTO job_revision (job, revision, made_at, begun, body, digest)
                SELECT job, revision, made_at, begun, body, digest FROM job_revision",
            "REPLACE INTO entry (id, job, place, at, body, digest)
                SELECT id, job, place + 1, at, body, digest FROM entry",
            "REPLACE INTO entry (id, job, place, at, body, digest)
                SELECT zeroblob(16), job, place, at, body, digest FROM entry",
            "REPLACE INTO entry (key, id, job, place, at, body, digest)
                SELECT key, zeroblob(16), job, place + 1, at, body, digest FROM entry",
            "INSERT INTO entry (id, job, place, at, body, digest)
                SELECT zeroblob(16), job, place + 2, at, body, digest FROM entry",
            "REPLACE INTO attachment (digest, media_type, length)
                SELECT digest, media_type, 0 FROM attachment",
            "REPLACE INTO attachment_piece (attachment, place, content)
                SELECT attachment, place, x'' FROM attachment_piece",
            "INSERT INTO attachment_piece (attachment, place, content)
                SELECT attachment, max(place) + 1, x'00' FROM attachment_piece",
        ]
        .map(str::to_owned),
    );
    for attempt in attempts {
        let refused = stranger.execute(&attempt, []).unwrap_err().to_string();
        assert!(
            ["never", "keeps", "next number", "added"].iter().any(|word| refused.contains(word)),
            "{attempt}: {refused}"
        );
    }
    drop(stranger);
    let bench = bench.reopened();
    assert_eq!(bench.workshop.load(job_id(1)).unwrap().log.entries(), [entry]);
    assert_eq!(bench.workshop.check().unwrap().attachments, 1);
}
