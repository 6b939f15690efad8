//! What must be heard: the shape that the binary's `hear` prints, as far as it is the same for
//! every recogniser.

use serde::{Deserialize, Serialize};

/// What a clip comes to.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Heard {
    /// The entries. Empty when nothing for the log was said.
    pub entries: Vec<Entry>,
}

/// One entry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// What kind.
    pub kind: Kind,
    /// About which cylinder. For a correction or a withdrawal: the one it comes to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cylinder: Option<u32>,
    /// The number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// The upper end, where a range was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub up_to: Option<f64>,
    /// In what: "psi", "kPa", "bar", "kgf/cm2", "percent", "thou" or "mm".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// With oil in the cylinder.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub wet: bool,
    /// Called approximate.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub about: bool,
    /// Signs of a plug, as `PlugSign` is written in files.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub signs: Vec<String>,
    /// Where air was heard, as `AirExit` is written in files.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
}

/// The kinds of entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// A cranking pressure.
    Cranking,
    /// A leak-down.
    LeakDown,
    /// A plug looked at.
    Look,
    /// Where air was heard.
    Listening,
    /// Another value in the place of an earlier one.
    Correction,
    /// An earlier entry taken back.
    Withdrawal,
    /// A plug gap.
    Gap,
    /// Anything else.
    Remark,
}

impl Entry {
    /// An entry of a kind, with nothing known yet.
    #[must_use]
    pub const fn of(kind: Kind) -> Self {
        Self {
            kind,
            cylinder: None,
            value: None,
            up_to: None,
            unit: None,
            wet: false,
            about: false,
            signs: Vec::new(),
            at: None,
        }
    }
}
