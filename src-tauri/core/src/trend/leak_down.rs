//! Two leak-downs of one cylinder.

use super::change::{Change, Direction, NotCompared};
use super::cranking::{ambient, zero_off};
use super::visits::Seen;
use crate::flow::{Air, FlowError, GaugeError, LeakBars, LeakDownSet, PercentError};
use crate::quantity::{Area, LeakPercent, StatedPressure, Temperature};
use crate::readings::LeakRead;
use crate::record::LeakReading;
use crate::tester::Tester;

pub(super) fn compare(
    before: &Seen<'_, LeakRead<'_>>,
    after: &Seen<'_, LeakRead<'_>>,
) -> Result<(Change, Direction), NotCompared> {
    let (Some(one), Some(other)) = (before.read.set, after.read.set) else {
        return Err(NotCompared::TesterUnknown);
    };
    if zero_off(one) || zero_off(other) {
        return Err(NotCompared::ZeroOff);
    }
    if before.read.after_tap != after.read.after_tap {
        return Err(NotCompared::TappedOnce);
    }
    match (bars(before, one)?, bars(after, other)?) {
        (Some(was), Some(is)) => Ok(by_area(&was, &is)),
        _ if one.name == other.name && one.kind == other.kind => by_loss(&before.read, &after.read),
        _ => Err(NotCompared::SetDiffers),
    }
}

/// The leak with its error bars; `None` when the restrictor or the supply is not known.
fn bars(seen: &Seen<'_, LeakRead<'_>>, tester: &Tester) -> Result<Option<LeakBars>, NotCompared> {
    let supply = seen.read.supply.map(StatedPressure::gauge);
    let Ok(set) = LeakDownSet::of(tester, supply) else { return Ok(None) };
    let air = ambient(&seen.job.conditions)
        .and_then(|around| Air::new(around, Temperature::TWENTY_CELSIUS).ok())
        .unwrap_or_default();
    let bars = match seen.read.reading {
        LeakReading::Percent { leak } => {
            let (low, high) = (leak.value, leak.up_to.unwrap_or(leak.value));
            set.bars_at_loss(low, high, PercentError::ASSUMED, air)
        }
        LeakReading::Pressures { cylinder_side, .. } => {
            let error = GaugeError::ASSUMED;
            set.bars_at_held(cylinder_side.gauge(), error, error, air)
        }
    };
    bars.map(Some).map_err(|error| match error {
        FlowError::NothingHeld => NotCompared::BeyondMeasuring,
        _ => NotCompared::ImpossiblePressures,
    })
}

fn by_area(was: &LeakBars, is: &LeakBars) -> (Change, Direction) {
    let least = was.most.map(|was_most| is.least.square_metres() - was_most.square_metres());
    let most = is.most.map(|is_most| is_most.square_metres() - was.least.square_metres());
    let change = Change::LeakArea {
        before: was.as_read.map(|leak| leak.area),
        after: is.as_read.map(|leak| leak.area),
        least: least.map(Area::from_square_metres),
        most: most.map(Area::from_square_metres),
    };
    (change, Direction::of(least, most))
}

/// Without the restrictor only percentages at the same supply can be set side by side.
fn by_loss(
    before: &LeakRead<'_>,
    after: &LeakRead<'_>,
) -> Result<(Change, Direction), NotCompared> {
    let same_supply = match (before.supply, after.supply) {
        (Some(one), Some(other)) => {
            let (one, other) = (one.gauge().pascals(), other.gauge().pascals());
            (one - other).abs() <= 0.025 * one.max(other)
        }
        (one, other) => one.is_none() && other.is_none(),
    };
    if !same_supply {
        return Err(NotCompared::SupplyDiffers);
    }
    let (Some(was), Some(is)) = (before.loss(), after.loss()) else {
        return Err(NotCompared::ImpossiblePressures);
    };
    let half = |range: crate::readings::Range| (range.high - range.low) * 50.0;
    let error = PercentError::ASSUMED.half_width();
    let off_by = half(was) + half(is) + 2.0 * error;
    let (was, is) = (was.middle() * 100.0, is.middle() * 100.0);
    let percent = |value| LeakPercent::new(value).map_err(|_| NotCompared::ImpossiblePressures);
    let change =
        Change::Loss { before: percent(was)?, after: percent(is)?, change: is - was, off_by };
    Ok((change, Direction::of(Some(is - was - off_by), Some(is - was + off_by))))
}
