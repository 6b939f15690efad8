//! Holding the readings in force against the limits in force.

use super::answer::Answer;
use super::cranking::{self, DryReadings};
use super::evaluation::{CylinderEvaluation, Evaluation, LimitResult, PutAside};
use super::leak_down::{self, LeakReadings};
use super::limit::{Demand, Limit};
use super::makers::LimitsInForce;
use crate::engine::Engine;
use crate::readings::{self, CylinderReadings};
use crate::record::Log;
use crate::tester::Tester;

/// Holds the readings in force of `log` against `limits`.
///
/// Readings of cylinders that the engine does not have are left out. A missing reading gives
/// results that say so, never an error.
#[must_use]
pub fn evaluate(
    engine: &Engine,
    testers: &[Tester],
    log: &Log,
    limits: &LimitsInForce,
) -> Evaluation {
    let rows = readings::in_force(engine, testers, log);
    let dry = DryReadings::new(&rows);
    let leaks = LeakReadings::new(engine.dimensions.bore, &rows);
    Evaluation {
        rule_set: limits.set.id.to_string(),
        rule_set_name: limits.set.name.to_string(),
        cylinders: rows.iter().map(|row| cylinder(row, &dry, &leaks, limits)).collect(),
        cranking: dry.summary(),
        leak_down: leaks.summary(),
        put_aside: limits
            .put_aside
            .iter()
            .map(|limit| PutAside { limit: *limit, source: limits.source(limit) })
            .collect(),
    }
}

fn cylinder<'a>(
    row: &CylinderReadings<'a>,
    dry: &DryReadings<'a>,
    leaks: &LeakReadings<'a>,
    limits: &LimitsInForce,
) -> CylinderEvaluation {
    let result = |limit: &Limit| {
        let answer = match &limit.demand {
            Demand::Cranking(demand) => dry.answer(row.cylinder, demand, limit.at_limit),
            Demand::LeakDown(demand) => leaks.answer(row, demand, limit.at_limit, limit.through),
        };
        with_source(limit, answer, limits)
    };
    let before_tap = row.leak_as_found.filter(|_| row.leak_tapped.is_some());
    CylinderEvaluation {
        cylinder: row.cylinder,
        dry: dry.against_others(row.cylinder),
        wet: row.wet.as_ref().map(cranking::figure),
        wet_rise: wet_rise(row),
        leak: row.leak().as_ref().map(leak_down::figure),
        leak_before_tap: before_tap.as_ref().map(leak_down::figure),
        results: limits.limits.iter().map(result).collect(),
    }
}

fn wet_rise(row: &CylinderReadings<'_>) -> Option<f64> {
    let (dry, wet) = (row.dry?.range().middle(), row.wet?.range().middle());
    (dry > 0.0).then(|| (wet - dry) / dry)
}

fn with_source(limit: &Limit, answer: Answer, limits: &LimitsInForce) -> LimitResult {
    LimitResult {
        limit: limit.id,
        verdict: answer.verdict,
        says: answer.says,
        band: answer.band,
        asks: answer.asks,
        why_not: answer.why_not,
        source: limits.source(limit),
        note: limit.note,
    }
}
