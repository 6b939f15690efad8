//! One line of the job's log.

use std::fmt;
use std::str::FromStr;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::digest::Digest;
use super::observation::Observation;
use crate::quantity::Probability;

/// Globally unique and sortable by the time it was made (UUID version 7, RFC 9562), so that the
/// logs of two phones can be joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct EntryId(pub Uuid);

impl fmt::Display for EntryId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl FromStr for EntryId {
    type Err = uuid::Error;
    fn from_str(text: &str) -> Result<Self, uuid::Error> {
        text.parse().map(Self)
    }
}

/// How an entry came into the log.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "by", rename_all = "kebab-case")]
pub enum Origin {
    /// Heard in a clip, which is kept.
    Spoken {
        /// The clip.
        clip: Digest,
        /// How sure the hearing was that the entry is what was said.
        sureness: Probability,
        /// What the recogniser wrote down, unconstrained.
        text: String,
    },
    /// Put in by hand.
    Typed,
    /// Taken with the camera.
    Pictured {
        /// The picture as it was taken.
        picture: Digest,
    },
}

/// What an entry does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "act", rename_all = "kebab-case")]
pub enum Act {
    /// Adds an observation.
    Observe {
        /// What was observed.
        observation: Observation,
    },
    /// Puts an observation in the place of an earlier one.
    Correct {
        /// The entry whose observation is replaced.
        replaces: EntryId,
        /// What stands in its place.
        observation: Observation,
    },
    /// Takes an earlier entry back.
    Withdraw {
        /// The entry that is taken back. Taking back a correction restores what it replaced.
        entry: EntryId,
    },
}

impl Act {
    /// The observation this act puts in force, if it does.
    #[must_use]
    pub const fn observation(&self) -> Option<&Observation> {
        match self {
            Self::Observe { observation } | Self::Correct { observation, .. } => Some(observation),
            Self::Withdraw { .. } => None,
        }
    }

    /// The earlier entry this act puts out of force, if it does.
    #[must_use]
    pub const fn target(&self) -> Option<EntryId> {
        match self {
            Self::Observe { .. } => None,
            Self::Correct { replaces: target, .. } | Self::Withdraw { entry: target } => {
                Some(*target)
            }
        }
    }
}

/// One line of the log. Never changed, never removed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// Who it is.
    pub id: EntryId,
    /// When it was made.
    pub at: Timestamp,
    /// How it came in.
    pub origin: Origin,
    /// What it does.
    #[serde(flatten)]
    pub act: Act,
}

impl Entry {
    /// The clips and pictures this entry stands on, each once. An entry may not be kept without
    /// them.
    #[must_use]
    pub fn attachments(&self) -> Vec<Digest> {
        let origin = match &self.origin {
            Origin::Spoken { clip: digest, .. } | Origin::Pictured { picture: digest } => {
                Some(*digest)
            }
            Origin::Typed => None,
        };
        let looked_at = match self.act.observation() {
            Some(Observation::Look(look)) => look.picture,
            _ => None,
        };
        let mut digests: Vec<_> = origin.into_iter().chain(looked_at).collect();
        digests.dedup();
        digests
    }
}
