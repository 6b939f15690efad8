//! What of a document holds, and what was changed.

use serde::Serialize;

use super::pdf::{Opened, PdfFault, read};
use super::record::{Fault, Kind, Record};
use super::seal::Seal;

/// More differing runs of text than this on one page are counted, not listed.
const MOST_RUNS: usize = 8;

/// One thing that was looked at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Check {
    /// What.
    pub check: &'static str,
    /// Whether it holds; `None` when it could not be looked at.
    pub holds: Option<bool>,
    /// In words.
    pub says: String,
}

impl Check {
    /// A check with its outcome in words.
    #[must_use]
    pub fn new(check: &'static str, holds: Option<bool>, says: impl Into<String>) -> Self {
        Self { check, holds, says: says.into() }
    }
}

/// One thing that was changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "changed", rename_all = "kebab-case")]
pub enum Change {
    /// A line of the attached record says something else than when it was linked.
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
    /// Lines are missing at the end, or were added there.
    Length {
        /// How many lines were sealed.
        sealed: usize,
        /// How many there are.
        found: usize,
    },
    /// A page is not the one that was sealed.
    Page {
        /// Which, from 1.
        page: usize,
    },
    /// Pages are missing or were added.
    Pages {
        /// How many pages were sealed.
        sealed: usize,
        /// How many there are.
        found: usize,
    },
    /// A plug picture is not in the document any more.
    Picture {
        /// Of which cylinder.
        cylinder: u8,
    },
    /// Something besides the pages: an attached file, the words for those who listen, a form.
    Besides,
    /// A page reads otherwise than the attached entries make it read.
    Text {
        /// Which page, from 1.
        page: usize,
        /// What it reads; empty when it is missing.
        reads: String,
        /// What the entries make it read; empty when it was added.
        entries_say: String,
    },
    /// More text of a page reads otherwise.
    MoreText {
        /// Which page, from 1.
        page: usize,
        /// How many more runs.
        runs: usize,
    },
    /// An entry is not as it is in the workshop's own file.
    Stored {
        /// Which.
        entry: String,
        /// How it differs.
        says: String,
    },
}

impl Change {
    /// In words.
    #[must_use]
    pub fn words(&self) -> String {
        let quoted = |text: &str| {
            if text.is_empty() { "nothing".to_owned() } else { format!("\"{text}\"") }
        };
        match self {
            Self::Line { line, is, entry } => {
                let what = match is {
                    Kind::Job => "what the job is about",
                    Kind::People => "customer, vehicle or question",
                    Kind::Entry => "an entry",
                    Kind::Words => "the words of an entry",
                };
                let entry = entry.as_ref().map_or(String::new(), |id| format!(" {id}"));
                format!("line {line}: {what}{entry} was changed")
            }
            Self::Order { line } => format!(
                "line {line}: does not follow the line before it; a line was put in, taken out or \
                 moved here"
            ),
            Self::Length { sealed, found } => {
                format!("the record: {sealed} lines were sealed, {found} are there")
            }
            Self::Page { page } => format!("page {page}: is not the page that was sealed"),
            Self::Pages { sealed, found } => {
                format!("the pages: {sealed} were sealed, {found} are there")
            }
            Self::Picture { cylinder } => {
                format!("the plug picture of cylinder {cylinder}: is not the one that was sealed")
            }
            Self::Besides => "something besides the pages was changed".to_owned(),
            Self::Text { page, reads, entries_say } => format!(
                "page {page}: reads {}, the attached entries say {}",
                quoted(reads),
                quoted(entries_say)
            ),
            Self::MoreText { page, runs } => format!("page {page}: {runs} more such places"),
            Self::Stored { entry, says } => format!("entry {entry}: {says}"),
        }
    }
}

impl From<Fault> for Change {
    fn from(fault: Fault) -> Self {
        match fault {
            Fault::Line { line, is, entry } => Self::Line { line, is, entry },
            Fault::Order { line } => Self::Order { line },
        }
    }
}

/// A document that was looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct Examined {
    /// The document, read back.
    pub opened: Opened,
    /// The attached record, where it can be read.
    pub record: Option<Record>,
    /// The attached seal, where it can be read.
    pub seal: Option<Seal>,
    /// What was looked at.
    pub checks: Vec<Check>,
    /// What was changed.
    pub changes: Vec<Change>,
}

/// Looks at a document by itself: its record's chain, its seal, its pages against the seal.
/// Whether the pages agree with the record takes setting them again; [`super::reprint`].
///
/// # Errors
/// [`PdfFault`] when the file cannot be looked at.
pub fn examine(bytes: &[u8]) -> Result<Examined, PdfFault> {
    let opened = read(bytes)?;
    let mut checks = Vec::new();
    let mut changes = Vec::new();
    let record = part(
        &mut checks,
        "record",
        opened.record().map(Record::from_json),
        |record| format!("the document carries its entries, {} lines", record.lines.len()),
        "no entries are attached: this is not a handover of this program, or they were taken out",
    );
    let seal = part(
        &mut checks,
        "seal",
        opened.seal().map(Seal::from_json),
        |seal| format!("the document carries a seal, made by {}", seal.made_by),
        "no seal is attached: the document was never sealed, or the seal was taken out",
    );
    if let Some(record) = &record {
        chain(record, &mut checks, &mut changes);
    }
    if let Some(seal) = &seal {
        checks.push(match seal.check() {
            Ok(()) => Check::new("signature", Some(true), "the signature is of the key it names"),
            Err(fault) => Check::new("signature", Some(false), fault.to_string()),
        });
        if let Some(record) = &record {
            under_seal(record, seal, &mut checks, &mut changes);
        }
        pages_under_seal(&opened, seal, &mut checks, &mut changes);
    }
    Ok(Examined { opened, record, seal, checks, changes })
}

fn part<T, E: std::fmt::Display>(
    checks: &mut Vec<Check>,
    check: &'static str,
    found: Option<Result<T, E>>,
    says: impl FnOnce(&T) -> String,
    missing: &str,
) -> Option<T> {
    let (outcome, part) = match found {
        None => (Check::new(check, Some(false), missing), None),
        Some(Err(fault)) => (Check::new(check, Some(false), fault.to_string()), None),
        Some(Ok(part)) => (Check::new(check, Some(true), says(&part)), Some(part)),
    };
    checks.push(outcome);
    part
}

fn chain(record: &Record, checks: &mut Vec<Check>, changes: &mut Vec<Change>) {
    let faults = record.faults();
    let withheld = record.withheld();
    checks.push(if !faults.is_empty() {
        Check::new("chain", Some(false), format!("the chain breaks at {} lines", faults.len()))
    } else if withheld == 0 {
        Check::new("chain", Some(true), "every line follows from the one before it")
    } else {
        let says = format!(
            "every line follows from the one before it; {withheld} are withheld and known only by \
             their digest"
        );
        Check::new("chain", Some(true), says)
    });
    changes.extend(faults.into_iter().map(Change::from));
}

fn under_seal(record: &Record, seal: &Seal, checks: &mut Vec<Check>, changes: &mut Vec<Change>) {
    let (sealed, found) = (seal.lines, record.lines.len());
    let same = seal.head == record.head() && sealed == found;
    if sealed != found {
        changes.push(Change::Length { sealed, found });
    }
    let says = if same {
        "the record ends as it was sealed"
    } else {
        "the record does not end as it was sealed: it is another one, or was made again"
    };
    checks.push(Check::new("record-under-seal", Some(same), says));
}

fn pages_under_seal(
    opened: &Opened,
    seal: &Seal,
    checks: &mut Vec<Check>,
    changes: &mut Vec<Change>,
) {
    let before = changes.len();
    let (sealed, found) = (seal.pages.len(), opened.pages.len());
    if sealed != found {
        changes.push(Change::Pages { sealed, found });
    }
    for (index, (page, digest)) in opened.pages.iter().zip(&seal.pages).enumerate() {
        if page.digest != *digest {
            changes.push(Change::Page { page: index + 1 });
        }
    }
    for print in &seal.pictures {
        if print.digest.is_some_and(|digest| !opened.pictures.contains_key(&digest)) {
            changes.push(Change::Picture { cylinder: print.cylinder.number() });
        }
    }
    if changes.len() == before && opened.document != seal.document {
        changes.push(Change::Besides);
    }
    let holds = changes.len() == before;
    let says = if holds {
        "every page, and all besides, is as it was sealed"
    } else {
        "the document is not as it was sealed"
    };
    checks.push(Check::new("pages-under-seal", Some(holds), says));
}

/// Where the pages of `found` read otherwise than those of `right`.
#[must_use]
pub fn compare_pages(found: &Opened, right: &Opened) -> Vec<Change> {
    let none = Vec::new();
    let mut changes = Vec::new();
    for index in 0..found.pages.len().max(right.pages.len()) {
        let runs = |opened: &Opened| opened.pages.get(index).map(|page| page.runs.clone());
        let (reads, says) =
            (runs(found).unwrap_or(none.clone()), runs(right).unwrap_or(none.clone()));
        let differing = differing(&reads, &says);
        let more = differing.len().saturating_sub(MOST_RUNS);
        let page = index + 1;
        changes.extend(
            differing.into_iter().take(MOST_RUNS).map(|(reads, entries_say)| Change::Text {
                page,
                reads,
                entries_say,
            }),
        );
        if more > 0 {
            changes.push(Change::MoreText { page, runs: more });
        }
    }
    changes
}

/// The runs that differ, side by side. What is the same before and after is skipped; in between,
/// the next run that both have is looked for.
fn differing(reads: &[String], says: &[String]) -> Vec<(String, String)> {
    let (mut at, mut to) = (0, 0);
    let mut pairs = Vec::new();
    while at < reads.len() || to < says.len() {
        if at < reads.len() && to < says.len() && reads[at] == says[to] {
            at += 1;
            to += 1;
            continue;
        }
        let ahead = (0..(reads.len() - at) + (says.len() - to)).find_map(|sum| {
            (0..=sum).map(|skip| (skip, sum - skip)).find(|&(skip, other)| {
                matches!((reads.get(at + skip), says.get(to + other)), (Some(one), Some(two)) if one == two)
            })
        });
        let (skip, other) = ahead.unwrap_or((reads.len() - at, says.len() - to));
        for step in 0..skip.max(other) {
            let run = |runs: &[String], from: usize, count: usize| {
                if step < count { runs.get(from + step).cloned() } else { None }.unwrap_or_default()
            };
            pairs.push((run(reads, at, skip), run(says, to, other)));
        }
        at += skip;
        to += other;
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn runs(text: &str) -> Vec<String> {
        text.split_whitespace().map(str::to_owned).collect()
    }

    fn pair(one: &str, other: &str) -> (String, String) {
        (one.to_owned(), other.to_owned())
    }

    #[test]
    fn only_what_differs_is_told() {
        assert_eq!(differing(&runs("a b c"), &runs("a b c")), []);
        assert_eq!(differing(&runs("a 60 c"), &runs("a 160 c")), [pair("60", "160")]);
        assert_eq!(differing(&runs("a x b c"), &runs("a b c")), [pair("x", "")]);
        assert_eq!(differing(&runs("a c"), &runs("a b c")), [pair("", "b")]);
        assert_eq!(differing(&runs("a"), &[]), [pair("a", "")]);
    }
}
