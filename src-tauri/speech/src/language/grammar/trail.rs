//! The events along a way through the rules, shared between the many ways that begin or go on
//! alike, so that joining two costs the same however long they are.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::rc::Rc;

use super::node::Event;

/// Events in order. Two trails are taken for equal when their fingerprints are: chance makes two
/// different ones equal once in some 10^18, and then one of two readings is not tried.
#[derive(Debug, Clone, Default)]
pub(super) struct Trail {
    knot: Option<Rc<Knot>>,
    length: u32,
    fingerprint: u64,
}

#[derive(Debug)]
enum Knot {
    One(Event),
    Joined(Trail, Trail),
}

/// A Mersenne prime: fingerprints are polynomials over the numbers below it.
const PRIME: u64 = (1 << 61) - 1;
const BASE: u64 = 0x1234_5678_9ABC_DEF;

impl PartialEq for Trail {
    fn eq(&self, other: &Self) -> bool {
        self.length == other.length && self.fingerprint == other.fingerprint
    }
}

impl Trail {
    pub(super) fn one(event: Event) -> Self {
        let mut hasher = DefaultHasher::new();
        event.hash(&mut hasher);
        let fingerprint = hasher.finish() % PRIME;
        Self { knot: Some(Rc::new(Knot::One(event))), length: 1, fingerprint }
    }

    /// This one and then `next`.
    pub(super) fn joined(&self, next: &Self) -> Self {
        if next.length == 0 {
            return self.clone();
        }
        if self.length == 0 {
            return next.clone();
        }
        let shifted = times(self.fingerprint, power(next.length));
        Self {
            knot: Some(Rc::new(Knot::Joined(self.clone(), next.clone()))),
            length: self.length + next.length,
            fingerprint: (shifted + next.fingerprint) % PRIME,
        }
    }

    pub(super) fn events(&self) -> Vec<Event> {
        let mut events = Vec::with_capacity(self.length as usize);
        let mut open = vec![self];
        while let Some(trail) = open.pop() {
            match trail.knot.as_deref() {
                Some(Knot::One(event)) => events.push(*event),
                Some(Knot::Joined(first, second)) => open.extend([second, first]),
                None => {}
            }
        }
        events
    }
}

fn times(a: u64, b: u64) -> u64 {
    let product = u128::from(a) * u128::from(b) % u128::from(PRIME);
    u64::try_from(product).unwrap_or(0)
}

fn power(mut exponent: u32) -> u64 {
    let (mut result, mut base) = (1, BASE % PRIME);
    while exponent > 0 {
        if exponent % 2 == 1 {
            result = times(result, base);
        }
        base = times(base, base);
        exponent /= 2;
    }
    result
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_counts_and_the_way_it_was_joined_does_not() {
        let [a, b, c] = [1, 2, 3].map(|n| Trail::one(Event::Cylinder(n)));
        let left = a.joined(&b).joined(&c);
        let right = a.joined(&b.joined(&c));
        assert!(left == right);
        assert!(left != b.joined(&a).joined(&c));
        assert_eq!(left.events(), [1, 2, 3].map(Event::Cylinder));
        assert!(Trail::default().joined(&a) == a);
    }
}
