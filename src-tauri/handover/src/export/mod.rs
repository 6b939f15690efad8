//! The job in other forms: a page for any browser, a table for any spreadsheet.
//!
//! The record as JSON is [`crate::proof::Record`].

mod html;
mod spreadsheet;

pub use html::page;
pub use spreadsheet::{JobTold, SpreadsheetError, spreadsheet};
