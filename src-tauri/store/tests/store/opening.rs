//! What can lie under the name of a job file, and what is said then.

use std::fs;
use std::path::{Path, PathBuf};

use borespoke_store::{FileProblem, StoreError, Workshop};
use rusqlite::Connection;
use tempfile::TempDir;

use crate::samples::{Bench, job, job_id, observed, remark};

fn folder() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("jobs.bore");
    (folder, path)
}

fn problem(result: Result<Workshop, StoreError>) -> FileProblem {
    let error = result.unwrap_err();
    assert!(!error.hint().is_empty());
    error.file_problem().unwrap().clone()
}

/// A file with one job and one entry, properly closed.
fn good_file() -> (TempDir, PathBuf) {
    let mut bench = Bench::new();
    bench.workshop.append(job_id(1), &[observed(1, remark("one"))], vec![]).unwrap();
    let path = bench.workshop.path().to_owned();
    bench.workshop.close().unwrap();
    (bench.folder, path)
}

fn with_sql(path: &Path, sql: &str) {
    let connection = Connection::open(path).unwrap();
    connection.execute_batch(sql).unwrap();
}

#[test]
fn a_file_that_is_not_there() {
    let (_folder, path) = folder();
    let error = Workshop::open(&path).unwrap_err();
    assert!(matches!(error.file_problem(), Some(FileProblem::Missing(_))), "{error}");
    assert!(error.to_string().contains("jobs.bore"), "{error}");
    assert!(!path.exists());
    let nowhere = path.join("below a file that is not there");
    assert!(matches!(problem(Workshop::open_or_create(nowhere)), FileProblem::Unusable(_)));
}

#[test]
fn an_empty_file_is_a_making_cut_short() {
    let (_folder, path) = folder();
    fs::write(&path, "").unwrap();
    assert!(matches!(problem(Workshop::open(&path)), FileProblem::Missing(_)));
    Workshop::open_or_create(&path).unwrap().create_job(job_id(1), &job(0)).unwrap();
    assert_eq!(Workshop::open(&path).unwrap().latest().unwrap(), Some(job_id(1)));
}

#[test]
fn what_is_not_ours_is_refused_and_not_touched() {
    let (folder, path) = folder();
    assert!(matches!(problem(Workshop::open(folder.path())), FileProblem::NotOurs(_)));
    let jpeg = [&[0xff, 0xd8, 0xff, 0xe0][..], &[0; 5_000][..]].concat();
    for content in [&b"a letter"[..], b"SQLite format 3\0", &jpeg] {
        fs::write(&path, content).unwrap();
        for result in [Workshop::open(&path), Workshop::open_or_create(&path)] {
            assert!(matches!(problem(result), FileProblem::NotOurs(_)));
        }
        assert_eq!(fs::read(&path).unwrap(), content);
    }
}

#[test]
fn the_database_of_another_program_is_refused_and_not_touched() {
    for sql in ["CREATE TABLE t (x)", "PRAGMA application_id = 7; CREATE TABLE t (x)"] {
        let (_folder, path) = folder();
        with_sql(&path, sql);
        let before = fs::read(&path).unwrap();
        assert!(matches!(problem(Workshop::open(&path)), FileProblem::NotOurs(_)));
        assert!(matches!(problem(Workshop::open_or_create(&path)), FileProblem::NotOurs(_)));
        assert_eq!(fs::read(&path).unwrap(), before);
    }
}

#[test]
fn a_file_of_a_newer_version_is_refused_and_not_touched() {
    let (_folder, path) = good_file();
    with_sql(&path, "PRAGMA user_version = 2; CREATE TABLE what_is_to_come (x)");
    let before = fs::read(&path).unwrap();
    for result in [Workshop::open(&path), Workshop::open_or_create(&path)] {
        let error = result.unwrap_err();
        assert_eq!(error.file_problem(), Some(&FileProblem::TooNew { found: 2, known: 1 }));
        let said = error.to_string();
        assert!(said.ends_with("its format is 2, this version knows up to 1"), "{said}");
        assert!(error.hint().contains("newer version"));
    }
    assert_eq!(fs::read(&path).unwrap(), before);
}

#[test]
fn a_file_that_is_there_is_not_made_again() {
    let (_folder, path) = good_file();
    assert_eq!(problem(Workshop::create(&path)), FileProblem::Exists);
    assert_eq!(Workshop::open(&path).unwrap().check().unwrap().entries, 1);
}

#[test]
fn a_schema_someone_tampered_with_is_refused() {
    for sql in [
        "DROP TRIGGER entry_is_not_changed",
        "CREATE TRIGGER mine AFTER INSERT ON entry BEGIN SELECT 1; END",
        "CREATE VIEW mine AS SELECT * FROM entry",
        "DROP INDEX entry_attachment_by_attachment",
        "ALTER TABLE entry ADD COLUMN mine TEXT",
    ] {
        let (_folder, path) = good_file();
        with_sql(&path, sql);
        let found = problem(Workshop::open(&path));
        assert!(matches!(found, FileProblem::Corrupt(_)), "{sql}: {found}");
    }
}

#[test]
fn an_entry_someone_rewrote_is_not_read() {
    let (_folder, path) = good_file();
    // As someone with the file in hand would: take the trigger away, change, put it back.
    let trigger: String = Connection::open(&path)
        .unwrap()
        .query_row("SELECT sql FROM sqlite_schema WHERE name = 'entry_is_not_changed'", [], |row| {
            row.get(0)
        })
        .unwrap();
    let change = "UPDATE entry SET body = replace(body, 'one', 'two')";
    with_sql(&path, &format!("DROP TRIGGER entry_is_not_changed; {change}; {trigger}"));
    let error = Workshop::open(&path).unwrap().load(job_id(1)).unwrap_err();
    assert!(matches!(error.file_problem(), Some(FileProblem::Corrupt(_))), "{error}");
}

#[test]
fn names_with_anything_in_them() {
    let (folder, _) = folder();
    for name in ["file:memory?mode=ro#%20.bore", "Zündkerze 100%.bore", " "] {
        let path = folder.path().join(name);
        Workshop::create(&path).unwrap().create_job(job_id(1), &job(0)).unwrap();
        assert!(path.is_file(), "{name}");
        assert_eq!(Workshop::open(&path).unwrap().jobs().unwrap().len(), 1);
    }
}

#[test]
#[cfg(unix)]
fn a_link_leads_to_the_file() {
    let (folder, path) = good_file();
    let link = folder.path().join("link");
    std::os::unix::fs::symlink(&path, &link).unwrap();
    let workshop = Workshop::open(&link).unwrap();
    assert_eq!(workshop.path(), fs::canonicalize(&path).unwrap());
    assert_eq!(workshop.check().unwrap().entries, 1);
}

/// Moved, removed, replaced, or parted from its log: SQLite itself would go on writing.
#[test]
#[cfg(unix)]
fn nothing_is_confirmed_that_went_into_a_file_no_longer_there() {
    let meddle: [fn(&Path); 4] = [
        |path| fs::rename(path, path.with_extension("moved")).unwrap(),
        |path| fs::remove_file(path).unwrap(),
        |path| {
            let copy = path.with_extension("copy");
            fs::copy(path, &copy).unwrap();
            fs::rename(copy, path).unwrap();
        },
        |path| fs::remove_file(format!("{}-wal", path.display())).unwrap(),
    ];
    for meddle in meddle {
        let (_folder, path) = good_file();
        let mut workshop = Workshop::open(&path).unwrap();
        workshop.append(job_id(1), &[observed(2, remark("two"))], vec![]).unwrap();
        meddle(&path);
        let error = workshop.append(job_id(1), &[observed(3, remark("three"))], vec![]);
        assert_eq!(error.unwrap_err().file_problem(), Some(&FileProblem::Moved));
    }
}

#[test]
fn text_with_anything_in_it_is_only_text() {
    let mut bench = Bench::new();
    let texts = ["'; DROP TABLE entry; --", "nul \0 and \u{7}", "\u{202e}\u{1f527}", "\"\\\n"];
    for (number, text) in (2..).zip(texts) {
        let described = borespoke_core::job::Job { customer: text.to_owned(), ..job(number) };
        bench.workshop.create_job(job_id(number), &described).unwrap();
        let entry = [observed(number, remark(text))];
        bench.workshop.append(job_id(number), &entry, vec![]).unwrap();
        let stored = bench.workshop.load(job_id(number)).unwrap();
        assert_eq!(stored.job.customer, text);
        assert_eq!(stored.log.entries(), entry);
        let listed = bench.workshop.jobs().unwrap();
        assert!(listed.iter().any(|line| line.id == job_id(number)));
    }
}
