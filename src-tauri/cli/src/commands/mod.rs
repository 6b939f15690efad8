//! One command a file: call the use case, lay out what it gives.

pub mod export;
pub mod findings;
pub mod handover;
pub mod hear;
pub mod import;
pub mod plugs;
pub mod table;
pub mod take;
pub mod verify;
