//! What a handover is made from.

use borespoke_core::engine::Cylinder;
use borespoke_core::job::Job;
use borespoke_core::judgement::Judgement;
use borespoke_core::record::{CylinderTable, Log};
use borespoke_core::rules::{Evaluation, LimitsInForce};
use jiff::tz::Offset;
use serde::{Deserialize, Serialize};

/// The paper the handover is set for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// ISO A4.
    #[default]
    A4,
    /// US Letter.
    Letter,
}

/// Everything a handover says, as the rest of the tool knows it.
#[derive(Debug, Clone, PartialEq)]
pub struct HandoverData {
    /// The identity of the job, printed on every page.
    pub job_id: String,
    /// How far the clock on the workshop's wall is from UTC; every time is printed on that clock.
    pub utc_offset: Offset,
    /// The job.
    pub job: Job,
    /// The cylinder table of `log`.
    pub table: CylinderTable,
    /// Every entry, also those no longer in force.
    pub log: Log,
    /// The limits of the rule set and the maker that count for this job.
    pub limits: LimitsInForce,
    /// How the readings stand against them.
    pub evaluation: Evaluation,
    /// What the tool makes of it: findings, advice, next steps, contradictions.
    pub judgement: Judgement,
    /// Plug pictures. Any size: they are turned upright, made small and stripped of the place and
    /// camera data they carry.
    pub pictures: Vec<PlugPicture>,
    /// Files to carry inside the PDF, such as the entries as JSON.
    pub attachments: Vec<Attachment>,
}

/// A plug picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlugPicture {
    /// The cylinder the plug is from.
    pub cylinder: Cylinder,
    /// The name of the picture, named where it cannot be shown.
    pub name: String,
    /// What is known of the picture.
    pub file: PictureFile,
}

/// A picture on its way to the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PictureFile {
    /// The JPEG or PNG file as it was taken.
    AsTaken(Vec<u8>),
    /// Made ready for print before: a small JPEG that goes into the document as it is.
    Printed(Vec<u8>),
    /// Could not be shown, for this reason.
    NotShown(String),
}

/// What an attached file is to the document (ISO 19005-3, "associated file relationship").
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relationship {
    /// The document was made from it.
    Source,
    /// The numbers behind what is shown.
    Data,
    /// Something besides.
    Supplement,
}

/// A file carried inside the PDF.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attachment {
    /// Its file name, without folders.
    pub name: String,
    /// Its media type, such as `application/json`.
    pub mime: String,
    /// What it is, in a few words.
    pub description: String,
    /// What it is to the document.
    pub relationship: Relationship,
    /// The file itself.
    pub bytes: Vec<u8>,
}
