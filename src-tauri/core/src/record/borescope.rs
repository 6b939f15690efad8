//! What is seen in a cylinder through the plug hole.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::engine::Cylinder;

/// Something a borescope shows. Sources for what each is taken to mean stand with the causes in
/// `judgement`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sight {
    /// Scratches along the cylinder wall.
    Scoring,
    /// Thick deposits on the piston crown or in the chamber.
    Carbon,
    /// A hole in the piston crown, or a piece of it or of a ring land gone.
    PistonHole,
    /// The edge of a valve burnt, cracked or chipped.
    BurntEdge,
    /// A deposit between a valve and its seat.
    SeatCarbon,
    /// Oil standing on the crown or wall.
    Oil,
    /// Crown and plug washed clean by coolant, or coolant standing in the cylinder.
    CoolantWashed,
}

impl Sight {
    /// Every sight, in the order they are looked for: wall, crown, valves, then what is wet.
    pub const ALL: [Self; 7] = [
        Self::Scoring,
        Self::Carbon,
        Self::PistonHole,
        Self::BurntEdge,
        Self::SeatCarbon,
        Self::Oil,
        Self::CoolantWashed,
    ];

    /// The name, as written on screens and in the handover.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Scoring => "scoring on the bore",
            Self::Carbon => "thick carbon",
            Self::PistonHole => "hole in the piston",
            Self::BurntEdge => "burnt valve edge",
            Self::SeatCarbon => "carbon on a valve seat",
            Self::Oil => "oil",
            Self::CoolantWashed => "washed clean by coolant",
        }
    }
}

impl fmt::Display for Sight {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A look into a cylinder with a borescope: bore, piston crown and valves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Borescope {
    /// Into which cylinder.
    pub cylinder: Cylinder,
    /// What was seen; empty when everything looked as it should.
    pub seen: Vec<Sight>,
}

impl Borescope {
    /// What was seen, in words.
    #[must_use]
    pub fn in_words(&self) -> String {
        if self.seen.is_empty() {
            return "nothing wrong to be seen".to_owned();
        }
        self.seen.iter().map(|sight| sight.name()).collect::<Vec<_>>().join(", ")
    }
}
