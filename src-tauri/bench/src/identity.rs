//! New identities: sortable by the time they were made, and unique across phones.

use jiff::Timestamp;
use uuid::{ContextV7, Uuid};

/// Where the time comes from. A shell passes the clock; a test passes one of its own.
pub trait Clock {
    /// The time now.
    fn now(&self) -> Timestamp;
}

/// The machine's clock.
#[derive(Debug, Clone, Copy, Default)]
pub struct MachineClock;

impl Clock for MachineClock {
    fn now(&self) -> Timestamp {
        Timestamp::now()
    }
}

/// Makes UUIDs of version 7 (RFC 9562) that grow within one run even when the clock stands still.
#[derive(Debug, Default)]
pub struct Identities {
    context: ContextV7,
}

impl Identities {
    /// A new identity made at `at`.
    #[must_use]
    pub fn new_at(&self, at: Timestamp) -> Uuid {
        // A clock set before 1970 still gives a unique identity; only its order suffers.
        let seconds = u64::try_from(at.as_second()).unwrap_or(0);
        let nanoseconds = u32::try_from(at.subsec_nanosecond()).unwrap_or(0);
        Uuid::new_v7(uuid::Timestamp::from_unix(&self.context, seconds, nanoseconds))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identities_grow_while_the_clock_stands_still() {
        let identities = Identities::default();
        let made: Vec<_> = (0..1000).map(|_| identities.new_at(Timestamp::UNIX_EPOCH)).collect();
        assert!(made.windows(2).all(|pair| pair[0] < pair[1]));
    }
}
