//! Files of every format that was ever released are opened and read. `fixtures/format-N.sql` is a
//! file of format N written out as SQL; once released it is never edited.

use std::fs;
use std::path::Path;

use borespoke_core::job::Job;
use borespoke_core::quantity::{LeakPercent, PressureUnit, StatedPressure};
use borespoke_core::record::{
    Act, AirExit, Entry, Lab, LeakDown, LeakReading, Listening, Look, Observation, Origin,
    PlugFigures, PlugSign, Stated, Valves,
};
use borespoke_store::{MediaType, NewAttachment, Workshop, digest_of_bytes};
use rusqlite::Connection;

use crate::samples::{
    content, cranking, cylinder, entry_id, job, job_id, moment, observed, remark, spoken, typed,
};

const NEWEST: u32 = 1;

fn renamed() -> Job {
    Job { customer: "Invented Customer, put right".to_owned(), ..job(0) }
}

fn clip() -> Vec<u8> {
    content(1, 300)
}

fn picture() -> Vec<u8> {
    content(2, 500)
}

/// Something of every kind.
fn entries() -> Vec<Entry> {
    let picture = digest_of_bytes(&picture());
    let look = Look {
        cylinder: cylinder(1),
        signs: vec![PlugSign::OilWet],
        picture: Some(picture),
        figures: Some(PlugFigures {
            colour: Lab { l: 31.5, a: 0.1 + 0.2, b: 4.25 },
            spread: 2.5,
            balanced: false,
        }),
    };
    let percent = LeakReading::Percent {
        leak: Stated {
            value: LeakPercent::new(23.0).unwrap(),
            up_to: Some(LeakPercent::new(24.0).unwrap()),
            about: true,
        },
    };
    let pressures = LeakReading::Pressures {
        supply: StatedPressure::new(7.0, PressureUnit::Bar).unwrap(),
        cylinder_side: StatedPressure::new(5.6, PressureUnit::Bar).unwrap(),
    };
    let leak = |number, reading| {
        Observation::LeakDown(LeakDown {
            cylinder: cylinder(number),
            reading,
            valves: Valves::AsFound,
            tester: None,
        })
    };
    vec![
        spoken(1, digest_of_bytes(&clip()), cranking(3, 90.0)),
        typed(2, Act::Correct { replaces: entry_id(1), observation: cranking(3, 140.0) }),
        Entry { origin: Origin::Pictured { picture }, ..observed(3, Observation::Look(look)) },
        observed(4, leak(1, percent)),
        observed(5, leak(2, pressures)),
        observed(
            6,
            Observation::Listening(Listening { cylinder: cylinder(1), at: AirExit::OilFiller }),
        ),
        observed(7, remark("it's been \"standing\" a while\n")),
        typed(8, Act::Withdraw { entry: entry_id(7) }),
    ]
}

fn write_sample(path: &Path) {
    let mut workshop = Workshop::create(path).unwrap();
    workshop.create_job(job_id(1), &job(0)).unwrap();
    workshop.create_job(job_id(2), &job(1_000)).unwrap();
    workshop.revise_job(job_id(1), 1, &renamed(), moment(5)).unwrap();
    let (clip, picture) = (clip(), picture());
    for entry in entries() {
        let given = entry.attachments().into_iter().map(|digest| {
            if digest == digest_of_bytes(&clip) {
                NewAttachment::from_bytes(MediaType::WAV, &clip)
            } else {
                NewAttachment::from_bytes(MediaType::JPEG, &picture)
            }
        });
        let given = given.collect();
        workshop.append(job_id(1), std::slice::from_ref(&entry), given).unwrap();
    }
    workshop.close().unwrap();
}

/// The file as SQL: tables, rows, then what guards the rows.
fn dump(path: &Path) -> String {
    let connection = Connection::open(path).unwrap();
    let texts = |query: &str| -> Vec<String> {
        let mut query = connection.prepare(query).unwrap();
        query.query_map([], |row| row.get(0)).unwrap().collect::<Result<_, _>>().unwrap()
    };
    let mut sql = texts(
        "SELECT 'PRAGMA application_id = ' || application_id FROM pragma_application_id
         UNION ALL SELECT 'PRAGMA user_version = ' || user_version FROM pragma_user_version",
    );
    let definitions = "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL AND type";
    sql.extend(texts(&format!("{definitions} = 'table' ORDER BY rowid")));
    for table in texts("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY rowid") {
        let columns = texts(&format!("SELECT name FROM pragma_table_info('{table}')"));
        let values: Vec<_> = columns.iter().map(|column| format!("quote({column})")).collect();
        let insert = format!("INSERT INTO {table} ({}) VALUES (", columns.join(", "));
        sql.extend(texts(&format!(
            "SELECT '{insert}' || {} || ')' FROM {table} ORDER BY 1",
            values.join(" || ', ' || ")
        )));
    }
    sql.extend(texts(&format!("{definitions} <> 'table' ORDER BY rowid")));
    sql.into_iter().map(|statement| statement + ";\n").collect()
}

fn fixture(format: u32) -> String {
    let name = format!("tests/store/fixtures/format-{format}.sql");
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

#[test]
fn every_format_opens_and_holds_what_was_written() {
    for format in 1..=NEWEST {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("jobs.bore");
        let connection = Connection::open(&path).unwrap();
        connection.pragma_update(None, "foreign_keys", false).unwrap();
        connection.execute_batch(&fixture(format)).unwrap();
        connection.close().unwrap();

        let mut workshop = Workshop::open(&path).unwrap();
        let stored = workshop.load(job_id(1)).unwrap();
        assert_eq!((stored.revision, stored.job), (2, renamed()), "format {format}");
        assert_eq!(stored.log.entries(), entries(), "format {format}");
        for content in [clip(), picture()] {
            let kept = workshop.attachment(digest_of_bytes(&content)).unwrap();
            assert_eq!(kept.into_bytes().unwrap(), content, "format {format}");
        }
        let checked = workshop.check().unwrap();
        assert_eq!((checked.jobs, checked.entries, checked.attachments), (2, 8, 2));
        workshop.append(job_id(2), &[observed(9, remark("now"))], vec![]).unwrap();
        let now: u32 = Connection::open(&path)
            .unwrap()
            .pragma_query_value(None, "user_version", |row| row.get(0))
            .unwrap();
        assert_eq!(now, NEWEST);
    }
}

/// What of the SQL is not rows: core may add to what an entry says without a new format.
fn definitions(sql: &str) -> String {
    sql.split_inclusive('\n').filter(|line| !line.starts_with("INSERT ")).collect()
}

/// A change of the format without a new number would leave files that no version opens.
#[test]
fn the_newest_format_is_what_its_fixture_says() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("jobs.bore");
    write_sample(&path);
    let found = dump(&path);
    let kept = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("format-{NEWEST}.sql"));
    fs::write(&kept, &found).unwrap();
    assert!(
        definitions(&found) == definitions(&fixture(NEWEST)),
        "what is written now is not format {NEWEST} as its fixture has it; it is in {}. A released \
         format is never changed: add a step and a fixture",
        kept.display()
    );
}
