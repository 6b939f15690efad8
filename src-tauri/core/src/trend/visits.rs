//! Several jobs on one engine, compared in pairs.

use jiff::Timestamp;
use serde::Serialize;
use thiserror::Error;

use super::change::{Comparison, NotCompared, Outcome};
use super::{cranking, leak_down};
use crate::engine::Cylinder;
use crate::job::{Conditions, Job};
use crate::readings::{self, CylinderReadings};
use crate::record::Log;

/// A job with its log.
#[derive(Debug, Clone, Copy)]
pub struct Visit<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its log.
    pub log: &'a Log,
}

/// Why jobs cannot be laid side by side.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum TrendError {
    /// Another engine.
    #[error(
        "trend: the job of {at} is on another engine, with firing order {given}; allowed is {expected}"
    )]
    AnotherEngine {
        /// When the job began.
        at: Timestamp,
        /// Its firing order.
        given: String,
        /// The firing order of the first.
        expected: String,
    },
}

/// One cylinder over the visits.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CylinderTrend {
    /// Which.
    pub cylinder: Cylinder,
    /// Dry cranking pressure, each reading against the one before it.
    pub cranking: Vec<Comparison>,
    /// Dry cranking pressure, the last against the first, when there are more than two.
    pub cranking_overall: Option<Comparison>,
    /// Leak-down, each reading against the one before it.
    pub leak_down: Vec<Comparison>,
    /// Leak-down, the last against the first, when there are more than two.
    pub leak_down_overall: Option<Comparison>,
}

/// An engine over the visits.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Trend {
    /// Each cylinder, by number.
    pub cylinders: Vec<CylinderTrend>,
}

/// Lays the visits side by side, oldest first by when the jobs began.
///
/// # Errors
/// [`TrendError::AnotherEngine`] when the firing orders differ.
pub fn trend(visits: &[Visit<'_>]) -> Result<Trend, TrendError> {
    let mut visits = visits.to_vec();
    visits.sort_by_key(|visit| visit.job.begun);
    let Some(first) = visits.first() else { return Ok(Trend { cylinders: Vec::new() }) };
    let expected = first.job.engine.firing_order();
    if let Some(other) = visits.iter().find(|v| v.job.engine.firing_order() != expected) {
        return Err(TrendError::AnotherEngine {
            at: other.job.begun,
            given: other.job.engine.firing_order().to_string(),
            expected: expected.to_string(),
        });
    }
    let rows: Vec<Vec<CylinderReadings<'_>>> =
        visits.iter().map(|v| readings::in_force(&v.job.engine, &v.job.testers, v.log)).collect();
    let cylinders = first.job.engine.cylinders().map(|cylinder| {
        let column: Vec<_> = visits
            .iter()
            .zip(&rows)
            .filter_map(|(visit, rows)| Some((visit.job, rows.get(cylinder.index())?)))
            .collect();
        let (cranking, cranking_overall) = compare(&column, |row| row.dry, cranking::compare);
        let (leak_down, leak_down_overall) =
            compare(&column, CylinderReadings::leak, leak_down::compare);
        CylinderTrend { cylinder, cranking, cranking_overall, leak_down, leak_down_overall }
    });
    Ok(Trend { cylinders: cylinders.collect() })
}

/// A reading with the job it was made in.
pub(super) struct Seen<'a, R> {
    pub(super) job: &'a Job,
    pub(super) read: R,
}

type Compared = Result<(super::Change, super::Direction), NotCompared>;

/// Each reading there is against the one before it, and the last against the first.
fn compare<'a, R: Copy>(
    column: &[(&'a Job, &CylinderReadings<'a>)],
    read: impl Fn(&CylinderReadings<'a>) -> Option<R>,
    one: impl Fn(&Seen<'a, R>, &Seen<'a, R>) -> Compared,
) -> (Vec<Comparison>, Option<Comparison>) {
    let seen: Vec<_> =
        column.iter().filter_map(|(job, row)| Some(Seen { job, read: read(row)? })).collect();
    let against = |before: &Seen<'a, R>, after: &Seen<'a, R>| Comparison {
        from: before.job.begun,
        to: after.job.begun,
        outcome: Outcome::from(
            same_warmth(&before.job.conditions, &after.job.conditions)
                .and_then(|()| one(before, after)),
        ),
    };
    let steps = seen.windows(2).map(|pair| against(&pair[0], &pair[1])).collect();
    let overall = match seen.as_slice() {
        [first, _, .., last] => Some(against(first, last)),
        _ => None,
    };
    (steps, overall)
}

fn same_warmth(before: &Conditions, after: &Conditions) -> Result<(), NotCompared> {
    match (before.warmth, after.warmth) {
        (Some(one), Some(other)) if one == other => Ok(()),
        (Some(_), Some(_)) => Err(NotCompared::WarmthDiffers),
        _ => Err(NotCompared::WarmthUnknown),
    }
}
