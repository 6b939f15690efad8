//! What was heard in one clip.

use serde::Serialize;

use super::entry::WireEntry;

/// What came of a clip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum OutcomeWord {
    /// Heard surely.
    Accepted,
    /// Not sure enough: the two likeliest are offered.
    Ask,
    /// Nothing was made out.
    Unheard,
    /// Words, but not about a reading.
    Remark,
}

/// One line of `hear`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HearLine {
    /// The clip's name as it was given.
    pub clip: String,
    /// What came of it.
    pub outcome: OutcomeWord,
    /// The entries, when accepted or a remark.
    pub entries: Vec<WireEntry>,
    /// The two likeliest, when asking.
    pub offered: Vec<WireEntry>,
    /// How sure, 0 to 1.
    pub sureness: f64,
    /// From the clip's end to the outcome, in milliseconds.
    pub ms: f64,
    /// What the recogniser wrote down, unconstrained.
    pub text: String,
    /// Why it was not taken as it stands, in words for the mechanic.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub problems: Vec<String>,
}
