//! Rule sets: limits that belong together, known by a stable name.

use std::borrow::Cow;

use serde::Serialize;
use thiserror::Error;

use super::limit::Limit;
use super::published as p;

/// A named set of limits.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RuleSet {
    /// Stable name, as written in files. Two joined with `+` take the cranking limits of the first
    /// and the leak-down limits of the second.
    pub id: Cow<'static, str>,
    /// Short plain name.
    pub name: Cow<'static, str>,
    /// The limits on cranking pressure.
    pub cranking: &'static [Limit],
    /// The limits on leak-down.
    pub leak_down: &'static [Limit],
}

/// No rule set has this name.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "rule set: given \"{given}\", allowed are {} or two of them joined with +, cranking first",
    known()
)]
pub struct NoSuchRuleSet {
    /// The name that was given.
    pub given: String,
}

fn known() -> String {
    RuleSet::ALL.iter().map(|set| set.id.as_ref()).collect::<Vec<_>>().join(", ")
}

const fn set(
    id: &'static str,
    name: &'static str,
    cranking: &'static [Limit],
    leak_down: &'static [Limit],
) -> RuleSet {
    RuleSet { id: Cow::Borrowed(id), name: Cow::Borrowed(name), cranking, leak_down }
}

const BY_HIGHEST: &[Limit] = &[p::LOWEST_75_OF_HIGHEST];
const PLAIN: &[Limit] = &[p::PLAIN_LEAK_BANDS];
const BY_AVERAGE: &[Limit] = &[p::WITHIN_20_OF_AVERAGE];

const DEFAULT: RuleSet =
    set(RuleSet::DEFAULT_ID, "Lowest at least 75 % of highest", BY_HIGHEST, PLAIN);

impl RuleSet {
    /// The name of the set used where the mechanic picked none.
    pub const DEFAULT_ID: &'static str = "lowest-75-of-highest";

    /// Every set, in the order they are offered. A set that is about one test only takes the
    /// limits of the other from the default, an aircraft set from the aircraft cranking check.
    pub const ALL: &'static [Self] = &[
        DEFAULT,
        set(
            "lowest-70-and-100-psi",
            "Lowest at least 70 % of highest, none below 100 psi",
            &[p::LOWEST_70_OF_HIGHEST, p::AT_LEAST_100_PSI],
            PLAIN,
        ),
        set("within-10-percent", "All within 10 %", &[p::WITHIN_10_PERCENT], PLAIN),
        set("within-10-psi", "All within 10 psi", &[p::WITHIN_10_PSI], PLAIN),
        set("within-20-of-average", "None 20 % below the average", BY_AVERAGE, PLAIN),
        set(
            "diesel-within-100-psi",
            "Diesel: all within 100 psi, none below 300 psi",
            &[p::DIESEL_WITHIN_100_PSI, p::DIESEL_AT_LEAST_300_PSI],
            PLAIN,
        ),
        set("leak-20", "Leak-down at most 20 %", BY_HIGHEST, &[p::LEAK_20]),
        set("leak-25", "Leak-down at most 25 %", BY_HIGHEST, &[p::LEAK_25]),
        set(
            "leak-split",
            "Leak-down at most 25 %, valves and gasket 10 %, rings 20 %",
            BY_HIGHEST,
            &p::LEAK_SPLIT,
        ),
        set("leak-new-engine", "Leak-down of a new engine", BY_HIGHEST, &[p::LEAK_NEW_ENGINE]),
        set("leak-10-to-20", "Leak-down 10 to 20 %", BY_HIGHEST, &[p::LEAK_10_TO_20]),
        set("aircraft-60-of-80", "Aircraft: 60 over 80", BY_AVERAGE, &[p::AIRCRAFT_60_OF_80]),
        set(
            "aircraft-bands-of-80",
            "Aircraft: 70 and 60 over 80, and spread",
            BY_AVERAGE,
            &[p::AIRCRAFT_HELD_BANDS, p::AIRCRAFT_HELD_SPREAD],
        ),
        set(
            "aircraft-master-orifice",
            "Aircraft: maker's master orifice",
            BY_AVERAGE,
            &[p::AIRCRAFT_MASTER_ORIFICE],
        ),
        set("makers-figures", "Only the maker's own figures", &[], &[]),
    ];

    /// The set with this name.
    ///
    /// # Errors
    /// [`NoSuchRuleSet`], naming the sets there are.
    pub fn by_id(id: &str) -> Result<Self, NoSuchRuleSet> {
        let find = |id: &str| Self::ALL.iter().find(|set| set.id == id).cloned();
        let joined = |id: &str| {
            let (cranking, leak_down) = id.split_once('+')?;
            let (cranking, leak_down) = (find(cranking)?, find(leak_down)?);
            Some(Self {
                id: Cow::Owned(id.to_owned()),
                name: Cow::Owned(format!("{} + {}", cranking.name, leak_down.name)),
                cranking: cranking.cranking,
                leak_down: leak_down.leak_down,
            })
        };
        find(id).or_else(|| joined(id)).ok_or_else(|| NoSuchRuleSet { given: id.to_owned() })
    }

    /// All limits, cranking first.
    pub fn limits(&self) -> impl Iterator<Item = &Limit> {
        self.cranking.iter().chain(self.leak_down.iter())
    }
}

impl Default for RuleSet {
    fn default() -> Self {
        DEFAULT
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;

    use super::*;
    use crate::rules::Demand;

    #[test]
    fn the_default_is_in_the_list() {
        assert_eq!(RuleSet::by_id(RuleSet::DEFAULT_ID), Ok(RuleSet::default()));
    }

    #[test]
    fn an_id_names_one_set_and_a_limit_id_one_limit() {
        let mut limits = HashMap::new();
        for (i, set) in RuleSet::ALL.iter().enumerate() {
            assert!(RuleSet::ALL[..i].iter().all(|other| other.id != set.id), "{}", set.id);
            for limit in set.limits() {
                let first = limits.entry(limit.id).or_insert(limit);
                assert_eq!(*first, limit);
            }
        }
    }

    #[test]
    fn each_limit_stands_on_its_own_side_of_the_set() {
        for set in RuleSet::ALL {
            assert!(
                set.cranking.iter().all(|l| matches!(l.demand, Demand::Cranking(_))),
                "{}",
                set.id
            );
            assert!(
                set.leak_down.iter().all(|l| matches!(l.demand, Demand::LeakDown(_))),
                "{}",
                set.id
            );
        }
    }

    #[test]
    fn two_sets_are_joined_cranking_first() {
        let both = RuleSet::by_id("lowest-70-and-100-psi+leak-25").unwrap();
        let ids: Vec<_> = both.limits().map(|l| l.id).collect();
        assert_eq!(ids, ["cranking-70-of-highest", "cranking-at-least-100-psi", "leak-25"]);
        assert_eq!(both.id, "lowest-70-and-100-psi+leak-25");
    }

    #[test]
    fn an_unknown_name_is_refused_with_the_names_there_are() {
        let refusal = RuleSet::by_id("lowest-80").unwrap_err().to_string();
        assert!(refusal.starts_with("rule set: given \"lowest-80\", allowed are lowest-75-of"));
        assert!(RuleSet::by_id("leak-20+").is_err());
        assert!(RuleSet::by_id("").is_err());
    }
}
