//! What was said, read, seen and heard about an engine: the job's log.
//!
//! The log only grows. An [`Entry`] is never changed or removed: a correction or a withdrawal is
//! an entry of its own that points back, and what is *in force* is derived ([`Log::in_force`]).

mod borescope;
mod digest;
mod entry;
mod log;
mod observation;
mod plug;
mod table;

pub use borescope::{Borescope, Sight};
pub use digest::{Digest, DigestError};
pub use entry::{Act, Entry, EntryId, Origin};
pub use log::{Log, LogError};
pub use observation::{
    AirExit, Bore, Cranking, Gap, LeakDown, LeakReading, Listening, Look, Observation, Remark,
    Stated, Stroke, Valves,
};
pub use plug::{Lab, PlugFigures, PlugSign};
pub use table::{CylinderRow, CylinderTable};
