//! Numbers and words said alone, which people also say of other things: what is not taken for a
//! reading without its cylinder, its unit or a word that says what it is.

use borespoke_core::quantity::{GaugePressure, PressureUnit};

use super::context::Expect;
use super::draft::{Draft, Kind};
use super::number::Decimal;
use super::problem::Problem;
use super::settle::Settled;

/// A pressure below this, said without its cylinder and its unit, is not taken for a reading: a
/// number that small is as likely a cylinder or a count.
const LEAST_BARE: GaugePressure = GaugePressure::new(20.0, PressureUnit::Psi);

pub(super) fn unlikely(number: Decimal) -> Problem {
    Problem::Unlikely(number.to_string())
}

impl Settled<'_> {
    /// A number or a word said alone, which people also say of other things.
    pub(super) fn refuse_unlikely(
        &self,
        draft: &Draft,
        kind: Kind,
        breath_unit: Option<PressureUnit>,
        count: usize,
    ) -> Result<(), Problem> {
        let first = draft.numbers.first().copied().unwrap_or(Decimal::whole(0));
        let named = draft.cylinder.is_some();
        let expect = self.context.expect;
        let follows = self.last_said().is_some();
        let doubtful = match kind {
            Kind::Cranking => {
                let unit = draft.pressure_unit.or(breath_unit);
                let bare = unit.is_none() && !draft.cranking;
                let in_unit = unit.unwrap_or(self.unit);
                let span = self.context.plausible.cranking(in_unit);
                let small =
                    first.value() < LEAST_BARE.in_unit(in_unit) || !span.holds(first.value());
                let broken = first.as_whole().is_none() && in_unit.decimals() == 0;
                let unexpected = matches!(expect, Expect::LeakDown | Expect::Plugs);
                (bare && broken)
                    || (count == 1
                        && (bare || in_unit == PressureUnit::Psi)
                        && self.may_be_no_cylinder(draft, in_unit, bare))
                    || (bare && !named && draft.bore.is_none() && draft.stroke.is_none() && small)
                    || (!named && !follows && unexpected)
            }
            Kind::LeakDown => {
                let worded = draft.leak || draft.tapped;
                let unexpected = expect != Expect::LeakDown || first.value() >= 100.0;
                (!named && !worded && !follows && unexpected) || self.may_be_counted(draft, count)
            }
            Kind::Gap => !named && !draft.gap && expect != Expect::Plugs,
            Kind::Plug => {
                let in_hand = expect == Expect::Plugs;
                (!named && !in_hand)
                    || (!named && draft.vague && draft.signs.len() == 1)
                    || (draft.bare_at && !in_hand)
            }
            Kind::TwoGauge | Kind::Air => false,
        };
        if !doubtful {
            return Ok(());
        }
        Err(match (kind, draft.signs.first(), draft.numbers.is_empty()) {
            (Kind::Plug, Some(sign), _) => Problem::Unlikely(sign.name().to_owned()),
            (Kind::Plug, None, _) => Problem::PlugUnclear,
            _ => unlikely(first),
        })
    }

    /// Whether what looks like a cylinder by its number alone may be the first digit of the reading:
    /// "one, forty". Where the unit, dry or wet was said, it is one only if both together would be
    /// plausible.
    pub(super) fn may_be_no_cylinder(&self, draft: &Draft, unit: PressureUnit, bare: bool) -> bool {
        let (Some(cylinder), Some(number)) = (draft.cylinder, draft.numbers.first()) else {
            return false;
        };
        let hundred = GaugePressure::new(100.0, PressureUnit::Psi).in_unit(unit);
        let joined = f64::from(cylinder) * 100.0 + number.value();
        let worded = draft.bore.is_some() || draft.stroke.is_some();
        draft.bare_at
            && number.value() < hundred
            && ((bare && !worded) || self.context.plausible.cranking(unit).holds(joined))
    }

    /// Whether a small percentage may be a cylinder's number, or a cylinder's number the lower end
    /// of a range: "seven, five, six", "four, five percent".
    fn may_be_counted(&self, draft: &Draft, count: usize) -> bool {
        let Some(number) = draft.numbers.first().map(|number| number.value()) else { return false };
        let bare = draft.cylinder.is_none() && !draft.percent && !draft.leak && !draft.tapped;
        let as_cylinder = number <= self.context.engine.cylinder_count() as f64;
        let as_range = draft.bare_at
            && draft.cylinder.is_some_and(|cylinder| {
                let step = number - f64::from(cylinder);
                step > 0.0 && step <= 2.0
            });
        (bare && count > 1 && as_cylinder) || (count == 1 && as_range)
    }
}
