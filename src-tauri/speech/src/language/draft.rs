//! What the marks of one clause add up to, before the job's state fills in what was not said.

use borespoke_core::quantity::{LengthUnit, PressureUnit};
use borespoke_core::record::{AirExit, Bore, PlugSign};

use super::grammar::{Event, Mark};
use super::number::Decimal;

/// The quantity that a clause is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Cranking,
    LeakDown,
    TwoGauge,
    Gap,
    Plug,
    Air,
}

/// Which stroke was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SaidStroke {
    /// Where the needle came to rest.
    Final,
    /// After so many.
    After(u32),
}

/// One clause.
#[derive(Debug, Clone, Default, PartialEq)]
#[expect(clippy::struct_excessive_bools, reason = "each is a thing that was said or was not")]
pub(super) struct Draft {
    pub(super) put_right: bool,
    pub(super) denied: bool,
    pub(super) upper_end: bool,
    pub(super) between: bool,
    pub(super) about: bool,
    pub(super) bare_at: bool,
    pub(super) vague: bool,
    pub(super) colour: bool,
    pub(super) percent: bool,
    pub(super) cranking: bool,
    pub(super) leak: bool,
    pub(super) gap: bool,
    pub(super) over: bool,
    pub(super) tapped: bool,
    pub(super) only_cylinder: bool,
    /// Named twice, differently.
    pub(super) torn: bool,
    pub(super) cylinder: Option<u32>,
    /// It was named behind the number.
    pub(super) cylinder_last: bool,
    pub(super) numbers: Vec<Decimal>,
    pub(super) pressure_unit: Option<PressureUnit>,
    pub(super) length_unit: Option<LengthUnit>,
    pub(super) bore: Option<Bore>,
    pub(super) stroke: Option<SaidStroke>,
    pub(super) signs: Vec<PlugSign>,
    pub(super) air: Vec<AirExit>,
}

impl Draft {
    pub(super) fn take(&mut self, event: Event) {
        match event {
            Event::Mark(mark) => self.take_mark(mark),
            Event::Cylinder(n) => {
                self.torn |= self.cylinder.is_some_and(|named| named != n);
                self.cylinder = Some(n);
                self.cylinder_last = !self.numbers.is_empty();
            }
            Event::Stroke(n) => self.stroke = Some(SaidStroke::After(n)),
            Event::Number(number) => self.numbers.push(number),
        }
    }

    fn take_mark(&mut self, mark: Mark) {
        match mark {
            Mark::PutRight => self.put_right = true,
            Mark::BareAt => self.bare_at = true,
            Mark::Vague => self.vague = true,
            Mark::OnlyCylinder => self.only_cylinder = true,
            Mark::Not | Mark::Denied => self.denied = true,
            Mark::To => self.upper_end = true,
            Mark::Between => self.between = true,
            Mark::About => self.about = true,
            Mark::Pressure(unit) => self.pressure_unit = Some(unit),
            Mark::Length(unit) => self.length_unit = Some(unit),
            Mark::Percent => self.percent = true,
            Mark::Cranking => self.cranking = true,
            Mark::Leak => self.leak = true,
            Mark::Gap => self.gap = true,
            Mark::Over => self.over = true,
            Mark::Dry => self.bore = Some(Bore::Dry),
            Mark::Wet => self.bore = Some(Bore::Wet),
            Mark::Nth(n) => self.stroke = Some(SaidStroke::After(u32::from(n))),
            Mark::Final => self.stroke = Some(SaidStroke::Final),
            Mark::Tapped => self.tapped = true,
            Mark::Colour => self.colour = true,
            Mark::Sign(sign) => {
                if !self.signs.contains(&sign) {
                    self.signs.push(sign);
                }
            }
            Mark::Air(exit) => {
                if !self.air.contains(&exit) {
                    self.air.push(exit);
                }
            }
            Mark::Breath
            | Mark::Clause
            | Mark::Stroke
            | Mark::PutRightOnly
            | Mark::Withdraw
            | Mark::Same
            | Mark::Like
            | Mark::Skip
            | Mark::SkipOne
            | Mark::NextStep
            | Mark::Stop
            | Mark::UnitChange => {}
        }
    }

    /// The quantity, when the clause itself says it.
    pub(super) fn kind(&self) -> Option<Kind> {
        if self.over {
            Some(Kind::TwoGauge)
        } else if self.gap || self.length_unit.is_some() {
            Some(Kind::Gap)
        } else if self.percent || self.leak || self.tapped {
            Some(Kind::LeakDown)
        } else if self.pressure_unit.is_some()
            || self.cranking
            || self.bore.is_some()
            || self.stroke.is_some()
        {
            Some(Kind::Cranking)
        } else if !self.air.is_empty() {
            Some(Kind::Air)
        } else if !self.signs.is_empty() || self.colour {
            Some(Kind::Plug)
        } else {
            None
        }
    }

    /// Whether it says more than a cylinder, a unit, or dry or wet.
    pub(super) fn has_claim(&self) -> bool {
        !self.numbers.is_empty() || !self.signs.is_empty() || !self.air.is_empty() || self.colour
    }

    /// Whether it is a number and at most its unit: what may be the second end of a range.
    pub(super) fn is_number_alone(&self) -> bool {
        let plain = Self {
            cylinder: self.cylinder,
            cylinder_last: self.cylinder_last,
            numbers: self.numbers.clone(),
            pressure_unit: self.pressure_unit,
            length_unit: self.length_unit,
            percent: self.percent,
            about: self.about,
            upper_end: self.upper_end,
            tapped: self.tapped,
            bore: self.bore,
            ..Self::default()
        };
        self.numbers.len() == 1 && *self == plain
    }

    /// This clause with what `by` says in the place of what it said.
    pub(super) fn overlaid(&self, by: &Self) -> Self {
        let mut laid = by.clone();
        laid.put_right = self.put_right;
        laid.cylinder = by.cylinder.or(self.cylinder);
        laid.bare_at = self.bare_at && by.cylinder.is_none();
        laid.only_cylinder = false;
        laid.pressure_unit = by.pressure_unit.or(self.pressure_unit);
        laid.length_unit = by.length_unit.or(self.length_unit);
        laid.bore = by.bore.or(self.bore);
        laid.stroke = by.stroke.or(self.stroke);
        if !by.has_claim() {
            laid.numbers.clone_from(&self.numbers);
            laid.signs.clone_from(&self.signs);
            laid.air.clone_from(&self.air);
            laid.colour = self.colour;
            laid.about |= self.about;
            laid.percent |= self.percent;
            laid.leak |= self.leak;
            laid.gap |= self.gap;
            laid.over |= self.over;
        }
        laid.tapped |= self.tapped;
        laid.cranking |= self.cranking;
        laid
    }

    /// Makes `upper` the upper end of this one's range.
    pub(super) fn widen(&mut self, upper: &Self) {
        self.numbers.extend_from_slice(&upper.numbers);
        self.cylinder = self.cylinder.or(upper.cylinder);
        self.pressure_unit = self.pressure_unit.or(upper.pressure_unit);
        self.length_unit = self.length_unit.or(upper.length_unit);
        self.percent |= upper.percent;
        self.about |= upper.about;
        self.tapped |= upper.tapped;
        self.bore = self.bore.or(upper.bore);
    }
}
