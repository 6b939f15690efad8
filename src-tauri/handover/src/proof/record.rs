//! The job as lines, each linked to the one before it.

use borespoke_core::job::{Job, JobId};
use borespoke_core::record::{Digest, Entry, Log};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value, json};
use thiserror::Error;

use super::canonical;

/// The name of the attached record.
pub const RECORD_FILE: &str = "record.json";
const FORMAT: &str = "borespoke record";
const VERSION: u32 = 1;
/// Stands where a word or a name was withheld.
const WITHHELD: &str = "withheld";

/// What a line holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// The job: engine, testers, conditions, rule set. Always the first line.
    Job,
    /// For whom, on which vehicle, and what was asked. Always the second.
    People,
    /// An entry of the log, without words.
    Entry,
    /// The words of the entry before it: what was heard, what was remarked.
    Words,
}

impl Kind {
    const fn name(self) -> &'static str {
        match self {
            Self::Job => "job",
            Self::People => "people",
            Self::Entry => "entry",
            Self::Words => "words",
        }
    }
}

/// One line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// What it holds.
    pub is: Kind,
    /// What it says; absent when it was withheld.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub content: Option<Value>,
    /// SHA-256 of kind and content.
    pub digest: Digest,
    /// SHA-256 of the link before and this digest.
    pub link: Digest,
}

/// A job as linked lines.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Record {
    format: String,
    version: u32,
    /// The lines, in their order.
    pub lines: Vec<Line>,
}

/// A secret of the workshop, from which a line with something guessable in it gets a number that
/// nobody else can make. Without it the digest of a withheld name could be found by trying names.
#[derive(Clone)]
pub struct Salt([u8; 32]);

impl Salt {
    /// From 32 secret bytes.
    #[must_use]
    pub const fn new(secret: [u8; 32]) -> Self {
        Self(secret)
    }

    fn of(&self, what: &str) -> String {
        let digest = canonical::digest("borespoke salt 1", &[&self.0, what.as_bytes()]);
        hex::encode(&digest.as_bytes()[..16])
    }
}

/// Why a record cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum RecordError {
    /// Not JSON, or not of this shape.
    #[error("the record cannot be read: {0}")]
    Shape(String),
    /// Another kind of file.
    #[error("the record says it is \"{0}\", expected is \"{FORMAT}\"")]
    Format(String),
    /// Made by a newer version.
    #[error("the record has version {0}, this program knows version {VERSION}")]
    Version(u32),
    /// What a line says does not make a job or an entry.
    #[error("line {line}: {why}")]
    Line {
        /// Which, from 1.
        line: usize,
        /// What is wrong.
        why: String,
    },
    /// Lines were withheld, so that the record is not whole.
    #[error("{0} lines of the record are withheld")]
    Withheld(usize),
}

/// What is wrong with the chain.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "changed", rename_all = "kebab-case")]
pub enum Fault {
    /// A line does not say what it said when it was linked.
    Line {
        /// Which, from 1.
        line: usize,
        /// What it holds.
        is: Kind,
        /// The entry it is or belongs to.
        #[serde(skip_serializing_if = "Option::is_none")]
        entry: Option<String>,
    },
    /// A line does not follow the one before it.
    Order {
        /// Which, from 1.
        line: usize,
    },
}

fn digest(is: Kind, content: &Value) -> Digest {
    let whole = json!({ "is": is.name(), "content": content });
    canonical::digest("borespoke line 1", &[&canonical::bytes(&whole)])
}

fn link(before: Option<&Digest>, digest: &Digest) -> Digest {
    let start = Digest::from_bytes([0; 32]);
    let before = before.unwrap_or(&start);
    canonical::digest("borespoke link 1", &[before.as_bytes(), digest.as_bytes()])
}

impl Record {
    /// The record of a job.
    ///
    /// # Errors
    /// [`RecordError::Shape`] when something in it has no JSON, such as a figure that is no number.
    pub fn new(
        id: JobId,
        revision: u32,
        job: &Job,
        log: &Log,
        salt: &Salt,
    ) -> Result<Self, RecordError> {
        let mut record = Self { format: FORMAT.to_owned(), version: VERSION, lines: Vec::new() };
        let (about, people) = split_job(id, revision, job, salt)?;
        record.push(Kind::Job, about);
        record.push(Kind::People, people);
        for entry in log.entries() {
            let (entry, words) = split_entry(entry, salt)?;
            record.push(Kind::Entry, entry);
            if let Some(words) = words {
                record.push(Kind::Words, words);
            }
        }
        Ok(record)
    }

    fn push(&mut self, is: Kind, content: Value) {
        let digest = digest(is, &content);
        let link = link(self.lines.last().map(|line| &line.link), &digest);
        self.lines.push(Line { is, content: Some(content), digest, link });
    }

    /// Reads a record. Only its shape is looked at; [`Record::faults`] looks at the chain.
    ///
    /// # Errors
    /// [`RecordError`] when it is not one.
    pub fn from_json(bytes: &[u8]) -> Result<Self, RecordError> {
        let record: Self = serde_json::from_slice(bytes).map_err(|fault| shape(&fault))?;
        if record.format != FORMAT {
            return Err(RecordError::Format(record.format));
        }
        if record.version != VERSION {
            return Err(RecordError::Version(record.version));
        }
        Ok(record)
    }

    /// The record as a JSON file.
    #[must_use]
    pub fn to_json(&self) -> Vec<u8> {
        let mut bytes = serde_json::to_vec_pretty(self).unwrap_or_default();
        bytes.push(b'\n');
        bytes
    }

    /// The last link, which stands for everything before it.
    #[must_use]
    pub fn head(&self) -> Digest {
        self.lines.last().map_or(Digest::from_bytes([0; 32]), |line| line.link)
    }

    /// Leaves out what lines of these kinds say. The chain still holds: their digests stay.
    #[must_use]
    pub fn withholding(mut self, kinds: &[Kind]) -> Self {
        for line in self.lines.iter_mut().filter(|line| kinds.contains(&line.is)) {
            line.content = None;
        }
        self
    }

    /// How many lines are withheld.
    #[must_use]
    pub fn withheld(&self) -> usize {
        self.lines.iter().filter(|line| line.content.is_none()).count()
    }

    /// Every place where the chain does not hold, in order.
    #[must_use]
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let mut before = None;
        for (index, line) in self.lines.iter().enumerate() {
            let said = line.content.as_ref().map(|content| digest(line.is, content));
            if said.is_some_and(|said| said != line.digest) {
                faults.push(Fault::Line {
                    line: index + 1,
                    is: line.is,
                    entry: line.content.as_ref().and_then(entry_of),
                });
            } else if line.link != link(before, &line.digest) {
                faults.push(Fault::Order { line: index + 1 });
            }
            before = Some(&line.link);
        }
        faults
    }

    /// The job with its identity and revision. Where the people are withheld it says so.
    ///
    /// # Errors
    /// [`RecordError::Line`] when the first two lines do not make a job.
    pub fn job(&self) -> Result<(JobId, u32, Job), RecordError> {
        let [first, second, ..] = self.lines.as_slice() else {
            return Err(RecordError::Shape("it has no job".to_owned()));
        };
        if (first.is, second.is) != (Kind::Job, Kind::People) {
            return Err(line_fault(1, "the first lines are not a job and its people"));
        }
        let Some(Value::Object(mut about)) = first.content.clone() else {
            return Err(line_fault(1, "the job itself cannot be withheld"));
        };
        let mut taken = |key: &str| about.remove(key).ok_or_else(|| line_fault(1, key));
        let id = serde_json::from_value(taken("id")?).map_err(|f| line_fault(1, &f))?;
        let revision = serde_json::from_value(taken("revision")?).map_err(|f| line_fault(1, &f))?;
        let people = match &second.content {
            Some(Value::Object(people)) => people.clone(),
            Some(_) => return Err(line_fault(2, "it is not an object")),
            None => withheld_people(),
        };
        for key in ["customer", "vehicle", "question"] {
            let said = people.get(key).cloned().ok_or_else(|| line_fault(2, key))?;
            about.insert(key.to_owned(), said);
        }
        let notes = people.get("notes").cloned().ok_or_else(|| line_fault(2, "notes"))?;
        match about.get_mut("conditions") {
            Some(Value::Object(conditions)) => conditions.insert("notes".to_owned(), notes),
            _ => return Err(line_fault(1, "it has no conditions")),
        };
        let job = serde_json::from_value(Value::Object(about)).map_err(|f| line_fault(1, &f))?;
        Ok((id, revision, job))
    }

    /// The log. Where words are withheld it says so.
    ///
    /// # Errors
    /// [`RecordError::Line`] with the first line that does not make an entry.
    pub fn log(&self) -> Result<Log, RecordError> {
        let mut log = Log::new();
        let mut lines = self.lines.iter().enumerate().skip(2).peekable();
        while let Some((index, line)) = lines.next() {
            let at = |why: &dyn std::fmt::Display| line_fault(index + 1, why);
            if line.is != Kind::Entry {
                return Err(at(&format!("a line of {} stands alone here", line.is.name())));
            }
            let Some(Value::Object(mut entry)) = line.content.clone() else {
                return Err(at(&"an entry cannot be withheld, only its words"));
            };
            if let Some((_, words)) = lines.next_if(|(_, next)| next.is == Kind::Words) {
                give_words(&mut entry, words.content.as_ref()).map_err(|why| at(&why))?;
            }
            let entry: Entry =
                serde_json::from_value(Value::Object(entry)).map_err(|fault| at(&fault))?;
            log.append(entry).map_err(|fault| at(&fault))?;
        }
        Ok(log)
    }
}

fn line_fault(line: usize, why: &(impl std::fmt::Display + ?Sized)) -> RecordError {
    RecordError::Line { line, why: why.to_string() }
}

fn shape(fault: &serde_json::Error) -> RecordError {
    RecordError::Shape(fault.to_string())
}

fn object(value: &impl Serialize) -> Result<Map<String, Value>, RecordError> {
    match serde_json::to_value(value).map_err(|fault| shape(&fault))? {
        Value::Object(fields) => Ok(fields),
        _ => Err(RecordError::Shape("not an object".to_owned())),
    }
}

/// What may name a person stands on a line of its own.
fn split_job(
    id: JobId,
    revision: u32,
    job: &Job,
    salt: &Salt,
) -> Result<(Value, Value), RecordError> {
    let mut about = object(job)?;
    let mut people = Map::new();
    for key in ["customer", "vehicle", "question"] {
        people.insert(key.to_owned(), about.remove(key).unwrap_or_default());
    }
    let notes = match about.get_mut("conditions") {
        Some(Value::Object(conditions)) => conditions.remove("notes"),
        _ => None,
    };
    people.insert("notes".to_owned(), notes.unwrap_or_else(|| json!([])));
    people.insert("salt".to_owned(), Value::String(salt.of(&format!("{id} {revision}"))));
    about.insert("id".to_owned(), json!(id));
    about.insert("revision".to_owned(), json!(revision));
    Ok((Value::Object(about), Value::Object(people)))
}

fn withheld_people() -> Map<String, Value> {
    let mut people = Map::new();
    people.insert("customer".to_owned(), json!(WITHHELD));
    people.insert("vehicle".to_owned(), json!("Vehicle withheld"));
    people.insert("question".to_owned(), json!(""));
    people.insert("notes".to_owned(), json!([]));
    people
}

/// Where the words of an entry stand in its JSON, and what they are called apart from it.
const WORDS: [(&str, &str); 2] = [("origin", "heard"), ("observation", "remark")];

fn split_entry(entry: &Entry, salt: &Salt) -> Result<(Value, Option<Value>), RecordError> {
    let mut fields = object(entry)?;
    let mut words = Map::new();
    for (place, name) in WORDS {
        let text = match fields.get_mut(place) {
            Some(Value::Object(inner)) => inner.get_mut("text"),
            _ => None,
        };
        if let Some(Value::String(text)) = text {
            words.insert(name.to_owned(), Value::String(std::mem::take(text)));
        }
    }
    if words.is_empty() {
        return Ok((Value::Object(fields), None));
    }
    words.insert("entry".to_owned(), json!(entry.id));
    words.insert("salt".to_owned(), Value::String(salt.of(&entry.id.to_string())));
    Ok((Value::Object(fields), Some(Value::Object(words))))
}

/// Puts the words back, or says that they are withheld.
fn give_words(entry: &mut Map<String, Value>, words: Option<&Value>) -> Result<(), String> {
    if let Some(words) = words
        && words.get("entry") != entry.get("id")
    {
        return Err("the words after it are of another entry".to_owned());
    }
    for (place, name) in WORDS {
        let Some(Value::Object(inner)) = entry.get_mut(place) else { continue };
        let Some(text) = inner.get_mut("text") else { continue };
        *text = match words {
            Some(words) => {
                words.get(name).cloned().ok_or_else(|| format!("no words \"{name}\""))?
            }
            // What was heard stays empty: nothing is printed for it.
            None if name == "heard" => json!(""),
            None => json!(WITHHELD),
        };
    }
    Ok(())
}

/// The entry that a line is or belongs to.
fn entry_of(content: &Value) -> Option<String> {
    let named =
        content.get("entry").or_else(|| content.get("id").filter(|_| content.get("act").is_some()));
    named.and_then(Value::as_str).map(str::to_owned)
}
