//! The job's log, and what of it is in force.

use std::collections::{HashMap, HashSet};

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::entry::{Act, Entry, EntryId};
use super::observation::Observation;
use crate::engine::Cylinder;

/// The entries of one job, oldest first.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(try_from = "Vec<Entry>", into = "Vec<Entry>")]
pub struct Log {
    entries: Vec<Entry>,
    places: HashMap<EntryId, usize>,
}

/// Why an entry does not fit the log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum LogError {
    /// It corrects or withdraws something that is not in the log before it.
    #[error("entry {entry}: points at {target}, which is not in the log before it")]
    UnknownTarget {
        /// The entry that points.
        entry: EntryId,
        /// What it points at.
        target: EntryId,
    },
    /// It is there already.
    #[error("entry {0}: is in the log already")]
    Duplicate(EntryId),
}

impl Log {
    /// An empty log.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds an entry at the end.
    ///
    /// # Errors
    /// [`LogError`] when it is there already or points at nothing; the log is unchanged then.
    pub fn append(&mut self, entry: Entry) -> Result<(), LogError> {
        if self.get(entry.id).is_some() {
            return Err(LogError::Duplicate(entry.id));
        }
        if let Some(target) = entry.act.target()
            && self.get(target).is_none()
        {
            return Err(LogError::UnknownTarget { entry: entry.id, target });
        }
        self.places.insert(entry.id, self.entries.len());
        self.entries.push(entry);
        Ok(())
    }

    /// Every entry, oldest first.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The entry with this identity.
    #[must_use]
    pub fn get(&self, id: EntryId) -> Option<&Entry> {
        self.places.get(&id).map(|&place| &self.entries[place])
    }

    /// The observations that stand, oldest first, each with the entry it came from.
    ///
    /// A correction takes the place of what it replaces, however long the chain; of two corrections
    /// of one entry the later stands. Taking back a correction restores what it replaced; taking
    /// back the original takes its corrections along; taking back a withdrawal undoes it.
    #[must_use]
    pub fn in_force(&self) -> Vec<(&Entry, &Observation)> {
        let mut withdrawn = HashSet::new();
        let mut filled = HashSet::new();
        let mut standing = Vec::new();
        // Newest first: only a later entry can put an earlier one out of force.
        for entry in self.entries.iter().rev() {
            let chain = self.correction_chain(entry);
            if chain.iter().any(|id| withdrawn.contains(id)) {
                continue;
            }
            if let Act::Withdraw { entry: target } = entry.act {
                withdrawn.insert(target);
            }
            let place = chain.last().copied().unwrap_or(entry.id);
            if let Some(observation) = entry.act.observation()
                && filled.insert(place)
            {
                standing.push((entry, observation));
            }
        }
        standing.reverse();
        standing
    }

    /// The entry, what it corrects, what that corrects, and so on to the first.
    fn correction_chain(&self, entry: &Entry) -> Vec<EntryId> {
        let mut chain = vec![entry.id];
        let mut link = entry;
        // Ends: `append` lets an entry point only at one before it.
        while let Act::Correct { replaces, .. } = link.act
            && let Some(earlier) = self.get(replaces)
        {
            chain.push(earlier.id);
            link = earlier;
        }
        chain
    }

    /// The newest entry in force: what a bare "no, ..." or "take that back" means.
    #[must_use]
    pub fn last_in_force(&self) -> Option<&Entry> {
        self.newest(|_| true)
    }

    /// The newest entry in force about this cylinder.
    #[must_use]
    pub fn last_about(&self, cylinder: Cylinder) -> Option<&Entry> {
        self.newest(|observation| observation.cylinder() == Some(cylinder))
    }

    /// The newest entry in force of the same cylinder and quantity: what a correction with this
    /// observation replaces.
    #[must_use]
    pub fn last_like(&self, observation: &Observation) -> Option<&Entry> {
        self.newest(|earlier| earlier.is_like(observation))
    }

    fn newest(&self, wanted: impl Fn(&Observation) -> bool) -> Option<&Entry> {
        let in_force = self.in_force();
        in_force.iter().rev().find(|(_, observation)| wanted(observation)).map(|(entry, _)| *entry)
    }
}

impl TryFrom<Vec<Entry>> for Log {
    type Error = LogError;
    fn try_from(entries: Vec<Entry>) -> Result<Self, LogError> {
        let mut log = Self::new();
        for entry in entries {
            log.append(entry)?;
        }
        Ok(log)
    }
}

impl From<Log> for Vec<Entry> {
    fn from(log: Log) -> Self {
        log.entries
    }
}

#[cfg(test)]
mod tests {
    use jiff::Timestamp;
    use uuid::Uuid;

    use super::*;
    use crate::record::{Origin, Remark};

    fn id(n: u128) -> EntryId {
        EntryId(Uuid::from_u128(n))
    }

    fn remark(text: &str) -> Observation {
        Observation::Remark(Remark { cylinder: None, text: text.to_owned() })
    }

    fn entry(n: u128, act: Act) -> Entry {
        Entry { id: id(n), at: Timestamp::UNIX_EPOCH, origin: Origin::Typed, act }
    }

    fn said(n: u128, text: &str) -> Entry {
        entry(n, Act::Observe { observation: remark(text) })
    }

    fn corrects(n: u128, replaces: u128, text: &str) -> Entry {
        entry(n, Act::Correct { replaces: id(replaces), observation: remark(text) })
    }

    fn withdraws(n: u128, what: u128) -> Entry {
        entry(n, Act::Withdraw { entry: id(what) })
    }

    fn standing(entries: Vec<Entry>) -> Vec<u128> {
        let log = Log::try_from(entries).unwrap();
        log.in_force().iter().map(|(entry, _)| entry.id.0.as_u128()).collect()
    }

    #[test]
    fn a_correction_stands_in_the_place_of_what_it_corrects() {
        assert_eq!(standing(vec![said(1, "a"), said(2, "b"), corrects(3, 1, "c")]), [2, 3]);
    }

    #[test]
    fn taking_back_a_correction_restores_what_it_replaced() {
        assert_eq!(standing(vec![said(1, "a"), corrects(2, 1, "b"), withdraws(3, 2)]), [1]);
    }

    #[test]
    fn a_correction_of_a_correction_leaves_only_the_last() {
        assert_eq!(standing(vec![said(1, "a"), corrects(2, 1, "b"), corrects(3, 2, "c")]), [3]);
    }

    #[test]
    fn two_corrections_of_one_entry_leave_the_later() {
        // Two phones may each correct the same entry before their logs are joined.
        assert_eq!(standing(vec![said(1, "a"), corrects(2, 1, "b"), corrects(3, 1, "c")]), [3]);
    }

    #[test]
    fn taking_back_the_original_takes_its_correction_along() {
        assert_eq!(standing(vec![said(1, "a"), corrects(2, 1, "b"), withdraws(3, 1)]), []);
    }

    #[test]
    fn a_correction_after_a_withdrawal_stands() {
        assert_eq!(standing(vec![said(1, "a"), withdraws(2, 1), corrects(3, 1, "b")]), [3]);
    }

    #[test]
    fn taking_back_a_withdrawal_undoes_it() {
        assert_eq!(standing(vec![said(1, "a"), withdraws(2, 1), withdraws(3, 2)]), [1]);
    }

    #[test]
    fn pointing_at_nothing_is_refused_and_changes_nothing() {
        let mut log = Log::new();
        log.append(said(1, "a")).unwrap();
        let refusal = log.append(withdraws(2, 9)).unwrap_err();
        assert_eq!(refusal, LogError::UnknownTarget { entry: id(2), target: id(9) });
        assert_eq!(log.entries().len(), 1);
    }

    #[test]
    fn the_same_entry_twice_is_refused() {
        let mut log = Log::new();
        log.append(said(1, "a")).unwrap();
        assert_eq!(log.append(said(1, "a")), Err(LogError::Duplicate(id(1))));
    }
}
