//! What a meaning does to the job: which entry a correction points at, what "same again" copies,
//! what the phone says back, and what it asks when it is not sure.
//!
//! Nothing here is kept between utterances: the job's log is the only memory. The identity, the
//! time and the origin of an entry are added by whoever writes it.

mod question;
mod read_back;
mod reply;
mod turn;

pub use question::{Answer, Question};
pub use read_back::{read_back, spoken_statement};
pub use reply::{Cue, Effect, Refusal, Reply, reply};
pub use turn::context;
