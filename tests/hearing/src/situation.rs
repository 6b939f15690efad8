//! The state of the job when something is said.

use rand::RngExt;
use rand_chacha::ChaCha8Rng;
use serde::{Deserialize, Serialize};

use crate::truth::Entry;

/// What the job bears on what can be said.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Situation {
    /// The order the cylinders fire in; its length is their number.
    pub firing_order: Vec<u32>,
    /// The quantity in hand.
    pub expect: Quantity,
    /// The cylinder that is expected next.
    pub next: u32,
    /// The unit of a pressure said without one.
    pub unit: String,
    /// Oil has been put in: a pressure said without "dry" or "wet" is wet.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub wet: bool,
    /// The newest entry in force.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last: Option<Entry>,
}

/// What is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Quantity {
    /// Cranking pressures.
    Cranking,
    /// Leak-down.
    LeakDown,
    /// Plugs.
    Plugs,
}

/// Common firing orders. The six is the commonest of the corpus, as of the trade's examples.
const ORDERS: [&[u32]; 6] = [
    &[1, 3, 4, 2],
    &[1, 3, 4, 2],
    &[1, 5, 3, 6, 2, 4],
    &[1, 5, 3, 6, 2, 4],
    &[1, 8, 4, 3, 6, 5, 7, 2],
    &[1, 3, 2],
];

impl Situation {
    /// Somewhere in the middle of measuring `expect`.
    pub fn any(expect: Quantity, random: &mut ChaCha8Rng) -> Self {
        let order = ORDERS[random.random_range(0..ORDERS.len())];
        let unit = match random.random_range(0..20) {
            0 => "kPa",
            1 => "bar",
            _ => "psi",
        };
        Self {
            firing_order: order.to_vec(),
            expect,
            next: order[random.random_range(0..order.len())],
            unit: unit.to_owned(),
            wet: expect == Quantity::Cranking && random.random_bool(0.15),
            last: None,
        }
    }

    /// Some cylinder of this engine: mostly the expected one.
    pub fn some_cylinder(&self, random: &mut ChaCha8Rng) -> u32 {
        if random.random_bool(0.7) {
            self.next
        } else {
            self.firing_order[random.random_range(0..self.firing_order.len())]
        }
    }

    /// The cylinder measured before the expected one.
    #[must_use]
    pub fn previous(&self) -> u32 {
        let count = self.firing_order.len();
        let at = self.firing_order.iter().position(|&c| c == self.next).unwrap_or(0);
        self.firing_order[(at + count - 1) % count]
    }
}
