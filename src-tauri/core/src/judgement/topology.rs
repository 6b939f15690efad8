//! Which cylinders share a gasket and a camshaft.

use crate::engine::{Cylinder, Engine};

/// A row of cylinders on one camshaft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Bank {
    /// Cylinder indices, front to rear.
    pub cylinders: Vec<usize>,
    /// Whether each shares a gasket with the next in the row.
    pub joined: bool,
    /// Whether each may leak into a neighbour that is not known.
    pub unknown_neighbour: bool,
}

impl Bank {
    /// How many sides of the cylinder at `place` can leak into a neighbour.
    pub fn sides(&self, place: usize) -> usize {
        if self.joined {
            usize::from(place > 0) + usize::from(place + 1 < self.cylinders.len())
        } else {
            usize::from(self.unknown_neighbour)
        }
    }
}

/// The banks of an engine, and what was assumed to name them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Topology {
    pub banks: Vec<Bank>,
    pub assumed: Option<String>,
}

/// Firing orders that belong to a row numbered from the front. Sources: three, Goodheart-Willcox
/// and encyclopedia tables; four, the same (the opposed fours of the FAA Powerplant handbook fire
/// 1-3-2-4 and 1-4-2-3, so they are not taken for a row); five, 1-2-4-5-3; six, FAA Powerplant
/// handbook, US Army OD1001 lesson 1 and Goodheart-Willcox Auto Engine Repair fig. 6-2.
const IN_LINE_ORDERS: [&[u8]; 8] = [
    &[1],
    &[1, 2],
    &[1, 2, 3],
    &[1, 3, 2],
    &[1, 3, 4, 2],
    &[1, 2, 4, 3],
    &[1, 2, 4, 5, 3],
    &[1, 5, 3, 6, 2, 4],
];

impl Topology {
    pub fn of(engine: &Engine) -> Self {
        let count = engine.cylinder_count();
        if let Some(layout) = engine.layout() {
            let (rows, singles): (Vec<_>, Vec<_>) =
                layout.banks().iter().filter(|bank| !bank.is_empty()).partition(|b| b.len() > 1);
            let mut banks: Vec<Bank> = rows
                .into_iter()
                .map(|row| Bank {
                    cylinders: row.iter().map(|cylinder| cylinder.index()).collect(),
                    joined: true,
                    unknown_neighbour: false,
                })
                .collect();
            if !singles.is_empty() {
                // Barrels of their own, as in a radial: one cam ring, no shared gasket.
                let cylinders = singles.into_iter().flatten().map(|c| c.index()).collect();
                banks.push(Bank { cylinders, joined: false, unknown_neighbour: false });
            }
            return Self { banks, assumed: None };
        }
        let order: Vec<u8> = engine.firing_order().iter().map(Cylinder::number).collect();
        let in_line = IN_LINE_ORDERS.contains(&order.as_slice());
        let bank =
            Bank { cylinders: (0..count).collect(), joined: in_line, unknown_neighbour: !in_line };
        let order = engine.firing_order();
        let assumed = if count < 2 {
            None
        } else if in_line {
            Some(format!(
                "No layout was given. Firing order {order} is that of an in-line engine, so \
                 cylinders are taken to stand in a row by number."
            ))
        } else {
            Some(format!(
                "No layout was given and firing order {order} does not tell it, so nothing is \
                 assumed about which cylinders are neighbours."
            ))
        };
        Self { banks: vec![bank], assumed }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::{FiringOrder, Layout};

    fn topology(order: &str, layout: Option<Layout>) -> Topology {
        Topology::of(&Engine::new(order.parse::<FiringOrder>().unwrap(), layout).unwrap())
    }

    #[test]
    fn an_in_line_order_gives_neighbours_and_says_so() {
        let four = topology("1-3-4-2", None);
        assert!(four.banks[0].joined);
        assert!(four.assumed.unwrap().contains("in a row"));
    }

    #[test]
    fn an_opposed_order_gives_none_and_says_so() {
        let four = topology("1-3-2-4", None);
        assert!(!four.banks[0].joined && four.banks[0].unknown_neighbour);
        assert!(four.assumed.unwrap().contains("nothing is assumed"));
    }

    #[test]
    fn barrels_of_their_own_share_no_gasket() {
        let layout = Layout::new((1..=5).map(|n| vec![n]).collect()).unwrap();
        let five = topology("1-3-5-2-4", Some(layout));
        assert_eq!(five.banks.len(), 1);
        assert_eq!((0..5).map(|place| five.banks[0].sides(place)).sum::<usize>(), 0);
    }
}
