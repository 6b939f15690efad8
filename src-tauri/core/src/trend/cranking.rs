//! Two dry cranking pressures of one cylinder.

use super::change::{Change, Direction, NotCompared};
use super::visits::Seen;
use crate::expectation::{at_other_ambient, pressure_at_altitude};
use crate::flow::GaugeError;
use crate::job::Conditions;
use crate::quantity::{AbsolutePressure, GaugePressure, StatedPressure};
use crate::readings::CrankingRead;
use crate::tester::{Tester, TesterKind, ZeroCheck};

pub(super) fn compare(
    before: &Seen<'_, CrankingRead<'_>>,
    after: &Seen<'_, CrankingRead<'_>>,
) -> Result<(Change, Direction), NotCompared> {
    let (Some(one), Some(other)) = (before.read.gauge, after.read.gauge) else {
        return Err(NotCompared::TesterUnknown);
    };
    if one.name != other.name || one.kind != other.kind {
        return Err(NotCompared::GaugeDiffers);
    }
    if zero_off(one) || zero_off(other) {
        return Err(NotCompared::ZeroOff);
    }
    if cranked_differently(&before.job.conditions, &after.job.conditions) {
        return Err(NotCompared::CrankedDifferently);
    }
    let carried = match (ambient(&before.job.conditions), ambient(&after.job.conditions)) {
        (Some(from), Some(to)) => {
            let one = GaugePressure::from_pascals(1.0);
            at_other_ambient(one, from, to).pascals()
        }
        // Nothing known of one of the places: taken for the same.
        _ => 1.0,
    };
    let (was, is) = (before.read.range(), after.read.range());
    let half = |range: &crate::readings::Range| (range.high - range.low) / 2.0 + error(one);
    let off_by = half(&was) * carried + half(&is);
    let (was, is) = (was.middle() * carried, is.middle());
    let change = Change::Cranking {
        before: GaugePressure::from_pascals(was),
        after: GaugePressure::from_pascals(is),
        change: GaugePressure::from_pascals(is - was),
        off_by: GaugePressure::from_pascals(off_by),
    };
    Ok((change, Direction::of(Some(is - was - off_by), Some(is - was + off_by))))
}

pub(super) const fn zero_off(tester: &Tester) -> bool {
    matches!(tester.zero, ZeroCheck::Off { .. })
}

/// The furthest a gauge may be off, in pascals.
fn error(gauge: &Tester) -> f64 {
    let resolution = match gauge.kind {
        TesterKind::CrankingGauge { resolution } => resolution,
        TesterKind::LeakDownSet { .. } => None,
    };
    let assumed = GaugeError::ASSUMED;
    let resolution = resolution.map_or(assumed.resolution, StatedPressure::gauge);
    GaugeError { resolution, ..assumed }.half_width()
}

/// Said otherwise on one visit than on the other. What was not said counts as done alike.
fn cranked_differently(before: &Conditions, after: &Conditions) -> bool {
    let differs = |one: Option<bool>, other: Option<bool>| {
        one.zip(other).is_some_and(|(one, other)| one != other)
    };
    differs(before.throttle_open, after.throttle_open)
        || differs(before.all_plugs_out, after.all_plugs_out)
        || differs(before.battery_charged, after.battery_charged)
}

/// The pressure of the air around, where it is known and can be.
pub(super) fn ambient(conditions: &Conditions) -> Option<AbsolutePressure> {
    let standard = || conditions.altitude.and_then(|height| pressure_at_altitude(height).ok());
    conditions.barometer.filter(|barometer| barometer.pascals() > 0.0).or_else(standard)
}
