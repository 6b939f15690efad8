//! The JSON shapes of the command line's contract. Only shells read and write them; everything
//! else uses the types of `core`.

mod entry;
mod heard;
mod plugs;
mod row;
mod typed;

pub use entry::WireEntry;
pub use heard::{HearLine, OutcomeWord};
pub use plugs::{PlugLine, PlugsLine};
pub use row::TableRow;
pub use typed::{TypedEntry, TypedError};
