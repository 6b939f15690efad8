//! Appending through the store, against bare rusqlite doing the same inserts with the same promise
//! (write-ahead log, `synchronous = FULL`), and the ways there are to keep a clip or a picture.
//!
//! `cargo bench -p borespoke-store`. What counts is the ratio within one run; the disk is the rest.
//! The bare tables have no triggers, no generated columns, no pieces, and nothing is checked.

use std::cell::Cell;
use std::fs::{self, File};
use std::hint::black_box;
use std::io::Write;
use std::path::Path;

use borespoke_core::engine::{Cylinder, Engine, FiringOrder};
use borespoke_core::job::{Conditions, Job, JobId};
use borespoke_core::quantity::{PressureUnit, Probability, StatedPressure};
use borespoke_core::record::{
    Act, Bore, Cranking, Digest, Entry, EntryId, Observation, Origin, Stated, Stroke,
};
use borespoke_store::{MediaType, NewAttachment, Workshop, digest_of_bytes};
use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use jiff::Timestamp;
use rusqlite::{Connection, TransactionBehavior};
use uuid::Uuid;

const JOB: JobId = JobId(Uuid::from_u128(1));

thread_local! {
    static NUMBER: Cell<u64> = const { Cell::new(2) };
}

fn next_number() -> u64 {
    NUMBER.replace(NUMBER.get() + 1)
}

fn entry(origin: Origin) -> Entry {
    let pressure = StatedPressure::new(140.0, PressureUnit::Psi).expect("in range");
    let observation = Observation::Cranking(Cranking {
        cylinder: Cylinder::of(3, 6).expect("one of six"),
        pressure: Stated::exactly(pressure),
        bore: Bore::Dry,
        stroke: Stroke::Final,
        tester: None,
    });
    let id = EntryId(Uuid::from_u128(next_number().into()));
    Entry { id, at: Timestamp::UNIX_EPOCH, origin, act: Act::Observe { observation } }
}

fn spoken(clip: Digest) -> Entry {
    let sureness = Probability::new(0.9).expect("a probability");
    entry(Origin::Spoken { clip, sureness, text: "number three one forty".to_owned() })
}

/// Content that is new each time, as a clip is.
fn renew(content: &mut [u8]) {
    let number = next_number();
    for (place, part) in (0_u64..).zip(content.chunks_mut(8)) {
        let mixed = (number ^ place.wrapping_mul(0x9e37_79b9_7f4a_7c15)).rotate_left(23) ^ number;
        part.copy_from_slice(&mixed.to_le_bytes()[..part.len()]);
    }
}

fn workshop(folder: &Path) -> Workshop {
    let mut workshop = Workshop::create(folder.join("store")).expect("made");
    let order = FiringOrder::new([1, 5, 3, 6, 2, 4]).expect("a permutation");
    let job = Job {
        begun: Timestamp::UNIX_EPOCH,
        customer: "Invented Customer".to_owned(),
        vehicle: "invented six".to_owned(),
        question: String::new(),
        engine: Engine::new(order, None).expect("an engine"),
        testers: vec![],
        conditions: Conditions::default(),
        rule_set: String::new(),
        makers_figures: borespoke_core::rules::MakersFigures::default(),
        invented: true,
    };
    workshop.create_job(JOB, &job).expect("created");
    workshop
}

fn bare(folder: &Path) -> Connection {
    let connection = Connection::open(folder.join("bare")).expect("opened");
    connection
        .execute_batch(
            "PRAGMA journal_mode = WAL;
             PRAGMA synchronous = FULL;
             PRAGMA journal_size_limit = 4194304;
             CREATE TABLE entry (
                 key INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, job INTEGER NOT NULL,
                 place INTEGER NOT NULL, at INTEGER NOT NULL, body TEXT NOT NULL,
                 UNIQUE (job, place)
             ) STRICT;
             CREATE TABLE attachment (
                 key INTEGER PRIMARY KEY, digest BLOB NOT NULL UNIQUE, content BLOB NOT NULL
             ) STRICT;",
        )
        .expect("made");
    connection
}

fn insert_entry(connection: &Connection, entry: &Entry, place: u64) {
    connection
        .prepare_cached("INSERT INTO entry (id, job, place, at, body) VALUES (?1, 1, ?2, ?3, ?4)")
        .and_then(|mut insert| {
            let body = serde_json::to_string(entry).expect("JSON");
            insert.execute((entry.id.0.as_bytes(), place, entry.at.as_microsecond(), body))
        })
        .expect("inserted");
}

fn appending_an_entry(criterion: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a folder");
    let mut group = criterion.benchmark_group("entry without a clip");
    let mut store = workshop(folder.path());
    group.bench_function("store", |bencher| {
        bencher.iter(|| store.append(JOB, &[entry(Origin::Typed)], vec![]).expect("appended"));
    });
    let mut bare = bare(folder.path());
    group.bench_function("bare", |bencher| {
        bencher.iter(|| {
            let transaction =
                bare.transaction_with_behavior(TransactionBehavior::Immediate).expect("begun");
            insert_entry(&transaction, &entry(Origin::Typed), next_number());
            transaction.commit().expect("committed");
        });
    });
    group.finish();
}

fn appending_with_content(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("entry with content");
    group.sample_size(30);
    for (name, length) in [("clip 20 kB", 20_000), ("picture 4 MB", 4_000_000)] {
        let folder = tempfile::tempdir().expect("a folder");
        let mut content = vec![0; length];
        let mut store = workshop(folder.path());
        group.bench_function(BenchmarkId::new("store", name), |bencher| {
            bencher.iter(|| {
                renew(&mut content);
                let given = NewAttachment::from_bytes(MediaType::WAV, &content);
                let entry = spoken(given.digest());
                store.append(JOB, &[entry], vec![given]).expect("appended");
            });
        });
        let mut bare = bare(folder.path());
        group.bench_function(BenchmarkId::new("bare, one blob", name), |bencher| {
            bencher.iter(|| {
                renew(&mut content);
                let digest = digest_of_bytes(&content);
                let transaction =
                    bare.transaction_with_behavior(TransactionBehavior::Immediate).expect("begun");
                transaction
                    .prepare_cached("INSERT INTO attachment (digest, content) VALUES (?1, ?2)")
                    .and_then(|mut insert| insert.execute((digest.as_bytes(), &content)))
                    .expect("inserted");
                insert_entry(&transaction, &spoken(digest), next_number());
                transaction.commit().expect("committed");
            });
        });
        group.bench_function(BenchmarkId::new("bare, incremental blob", name), |bencher| {
            bencher.iter(|| {
                renew(&mut content);
                let digest = digest_of_bytes(&content);
                let transaction =
                    bare.transaction_with_behavior(TransactionBehavior::Immediate).expect("begun");
                transaction
                    .prepare_cached(
                        "INSERT INTO attachment (digest, content) VALUES (?1, zeroblob(?2))",
                    )
                    .and_then(|mut insert| insert.execute((digest.as_bytes(), length)))
                    .expect("inserted");
                let key = transaction.last_insert_rowid();
                let mut blob =
                    transaction.blob_open("main", "attachment", "content", key, false).expect("is");
                for piece in content.chunks(256 * 1024) {
                    blob.write_all(piece).expect("written");
                }
                blob.close().expect("closed");
                insert_entry(&transaction, &spoken(digest), next_number());
                transaction.commit().expect("committed");
            });
        });
        let files = folder.path().join("files");
        fs::create_dir(&files).expect("made");
        group.bench_function(BenchmarkId::new("bare, a file beside", name), |bencher| {
            bencher.iter(|| {
                renew(&mut content);
                let digest = digest_of_bytes(&content);
                let part = files.join("part");
                let mut file = File::create(&part).expect("made");
                file.write_all(black_box(&content)).expect("written");
                file.sync_all().expect("synced");
                fs::rename(part, files.join(digest.to_string())).expect("named");
                File::open(&files).and_then(|folder| folder.sync_all()).expect("synced");
                let transaction =
                    bare.transaction_with_behavior(TransactionBehavior::Immediate).expect("begun");
                insert_entry(&transaction, &spoken(digest), next_number());
                transaction.commit().expect("committed");
            });
        });
    }
    group.finish();
}

criterion_group!(benches, appending_an_entry, appending_with_content);
criterion_main!(benches);
