//! What lets a handover be checked without trusting the hands it went through.
//!
//! - The [`Record`] is the job as lines: what it is about, who it is for, every entry, every word.
//!   Each line has a digest, and each is linked to the one before it.
//! - The [`Seal`] binds the last link and every page of the document to a workshop's key.
//! - Both travel inside the PDF as attached files. [`read`] gets them out again and [`examine`]
//!   says what holds and what was changed.
//!
//! `docs/handover-proof.md` says what this proves and what it does not.

mod canonical;
mod code;
mod examine;
mod pages;
mod pdf;
mod print;
mod record;
mod seal;

pub use code::Code;
pub use examine::{Change, Check, Examined, compare_pages, examine};
pub use pdf::{Attached, Opened, PdfFault, read};
pub use print::{printed_pictures, reprint, typeset_sealed};
pub use record::{Fault, Kind, Line, RECORD_FILE, Record, RecordError, Salt};
pub use seal::{Print, SEAL_FILE, Seal, SealError, SealKey, fingerprint};
