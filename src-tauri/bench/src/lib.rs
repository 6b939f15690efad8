//! The one place that joins the parts: use cases as plain functions. The shell and the command
//! line only call what is here.
//!
//! Start with [`take::take`]: a case in, a job file out. What it stores, [`table`], [`findings`]
//! and [`handover`] read back. [`hear`] and [`plugs`] store nothing.

pub mod case;
mod conversation;
pub mod ears;
mod error;
pub mod export;
pub mod findings;
pub mod handover;
pub mod hear;
pub mod identity;
pub mod import;
mod job_file;
pub mod plugs;
pub mod table;
pub mod take;
pub mod verify;
pub mod wire;

pub use error::BenchError;
