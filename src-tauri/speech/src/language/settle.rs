//! From the clauses of an utterance to its meanings: the job's state fills in what was not said,
//! and what cannot be is refused.

use borespoke_core::engine::Cylinder;
use borespoke_core::quantity::PressureUnit;
use borespoke_core::record::{Bore, Stroke, Valves};

use super::context::{Context, Expect};
use super::doubt::unlikely;
use super::draft::{Draft, Kind};
use super::fact::{Defaults, changed, facts, kind_of, near};
use super::grammar::{Event, Mark};
use super::meaning::{Fact, Meaning, Statement, Which};
use super::number::Decimal;
use super::problem::Problem;

/// What has been understood of the utterance so far.
#[derive(Debug, Clone)]
pub(super) struct Settled<'c> {
    pub(super) context: &'c Context,
    pub(super) meanings: Vec<Meaning>,
    pub(super) problems: Vec<Problem>,
    pub(super) unit: PressureUnit,
    /// Something before was not understood and may have named a cylinder.
    pub(super) unread: bool,
}

impl<'c> Settled<'c> {
    pub(super) const fn new(context: &'c Context) -> Self {
        Self {
            context,
            meanings: Vec::new(),
            problems: Vec::new(),
            unit: context.pressure_unit,
            unread: false,
        }
    }

    /// Adds what one run of words means.
    pub(super) fn take(&mut self, events: &[Event]) {
        let begins = |event: &Event| {
            matches!(
                event,
                Event::Mark(
                    Mark::Breath
                        | Mark::Withdraw
                        | Mark::Same
                        | Mark::Skip
                        | Mark::SkipOne
                        | Mark::NextStep
                        | Mark::Stop
                        | Mark::UnitChange
                        | Mark::PutRightOnly
                )
            )
        };
        let first = events.iter().position(begins).unwrap_or(events.len());
        let mut rest = &events[first..];
        while let Some((head, tail)) = rest.split_first() {
            let length = tail.iter().position(begins).unwrap_or(tail.len());
            let (act, next) = tail.split_at(length);
            if let Event::Mark(mark) = head {
                self.act(*mark, act);
            }
            rest = next;
        }
    }

    fn act(&mut self, mark: Mark, events: &[Event]) {
        let outcome = match mark {
            Mark::Breath => {
                self.breath(events);
                Ok(())
            }
            Mark::Withdraw => self.withdraw(events),
            Mark::Same => self.same(events),
            Mark::Skip => self.skip(events),
            Mark::SkipOne => {
                self.meanings.push(Meaning::Skip { to: None });
                Ok(())
            }
            Mark::NextStep => {
                self.meanings.push(Meaning::NextStep);
                Ok(())
            }
            Mark::Stop => {
                self.meanings.push(Meaning::StopListening);
                Ok(())
            }
            Mark::UnitChange => {
                for event in events {
                    if let Event::Mark(Mark::Pressure(unit)) = event {
                        self.unit = *unit;
                        self.meanings.push(Meaning::Unit(*unit));
                    }
                }
                Ok(())
            }
            _ => {
                // What came before is in doubt, so it does not count.
                if self.last_said().is_some() {
                    self.meanings.pop();
                }
                Err(Problem::CorrectionUnclear)
            }
        };
        if let Err(problem) = outcome {
            self.problems.push(problem);
        }
    }

    fn cylinder(&self, number: u32) -> Result<Cylinder, Problem> {
        self.context.engine.cylinder(number).map_err(Problem::from)
    }

    fn named(&self, events: &[Event]) -> Result<Option<Cylinder>, Problem> {
        events
            .iter()
            .find_map(|event| match event {
                Event::Cylinder(number) => Some(self.cylinder(*number)),
                _ => None,
            })
            .transpose()
    }

    fn withdraw(&mut self, events: &[Event]) -> Result<(), Problem> {
        let which = self.named(events)?.map_or(Which::Last, Which::Cylinder);
        // Said and taken back in one breath: nothing remains.
        if which == Which::Last && self.last_said().is_some() {
            self.meanings.pop();
            return Ok(());
        }
        self.meanings.push(Meaning::Withdraw(which));
        Ok(())
    }

    fn same(&mut self, events: &[Event]) -> Result<(), Problem> {
        let like_at = events.iter().position(|event| *event == Event::Mark(Mark::Like));
        let (of, like) = events.split_at(like_at.unwrap_or(events.len()));
        let like = self.named(like)?.map_or(Which::Last, Which::Cylinder);
        let cylinder = match self.named(of)? {
            Some(cylinder) => cylinder,
            None => self.expected()?,
        };
        if like == Which::Last && self.context.last.is_none() && self.last_said().is_none() {
            return Err(Problem::NothingEarlier);
        }
        // In one breath with the reading it repeats, it is a reading of its own.
        match (like, self.last_said().cloned()) {
            (Which::Last, Some(said)) => {
                let cylinder = match self.named(of)? {
                    Some(named) => named,
                    None => self
                        .context
                        .engine
                        .firing_order()
                        .after(said.cylinder)
                        .ok_or(Problem::WhichCylinder)?,
                };
                self.meanings.push(Meaning::State(Statement { cylinder, ..said }));
            }
            _ => self.meanings.push(Meaning::Repeat { cylinder, like }),
        }
        Ok(())
    }

    fn skip(&mut self, events: &[Event]) -> Result<(), Problem> {
        let to = self.named(events)?;
        self.meanings.push(Meaning::Skip { to });
        Ok(())
    }

    fn expected(&self) -> Result<Cylinder, Problem> {
        if self.unread {
            return Err(Problem::WhichCylinder);
        }
        let skipped = self.meanings.iter().rev().find_map(|meaning| match meaning {
            Meaning::Skip { to } => *to,
            _ => None,
        });
        skipped.or(self.context.next).ok_or(Problem::WhichCylinder)
    }

    /// The statement of this utterance that stands last.
    pub(super) fn last_said(&self) -> Option<&Statement> {
        match self.meanings.last() {
            Some(Meaning::State(statement) | Meaning::Correct { statement, .. }) => Some(statement),
            _ => None,
        }
    }

    fn breath(&mut self, events: &[Event]) {
        let drafts = ranges_joined(drafts(events));
        let said: Vec<PressureUnit> =
            drafts.iter().filter_map(|draft| draft.pressure_unit).collect();
        let breath_unit = match said.as_slice() {
            [unit, rest @ ..] if rest.iter().all(|other| other == unit) => Some(*unit),
            _ => None,
        };
        let count = drafts.len();
        let mut put_right = false;
        // A clause that could not be, and may yet be put right.
        let mut failed: Option<(Draft, Problem)> = None;
        for mut draft in drafts {
            if draft.denied {
                self.deny(&mut put_right);
                continue;
            }
            draft.put_right |= put_right;
            put_right = false;
            match failed.take() {
                Some((earlier, _)) if draft.put_right => draft = earlier.overlaid(&draft),
                Some((_, problem)) => self.problems.push(problem),
                None => {}
            }
            let outcome = if draft.put_right {
                self.put_right(&draft)
            } else {
                self.state(&draft, breath_unit, count)
            };
            failed = outcome.err().map(|problem| (draft, problem));
        }
        self.problems.extend(failed.map(|(_, problem)| problem));
    }

    /// "not one fifty": what stands beside it is a correction.
    fn deny(&mut self, put_right: &mut bool) {
        match self.meanings.pop() {
            Some(Meaning::State(statement)) if self.context.last.is_some() => {
                let which =
                    if statement.named { Which::Cylinder(statement.cylinder) } else { Which::Last };
                self.meanings.push(Meaning::Correct { which, statement });
            }
            Some(other) => self.meanings.push(other),
            None => *put_right = true,
        }
    }

    fn state(
        &mut self,
        draft: &Draft,
        breath_unit: Option<PressureUnit>,
        count: usize,
    ) -> Result<(), Problem> {
        if draft.torn {
            return Err(Problem::WhichCylinder);
        }
        let kind = match draft.kind() {
            Some(kind) => kind,
            None => self.bare_kind(draft, breath_unit)?,
        };
        self.refuse_unlikely(draft, kind, breath_unit, count)?;
        let unit = draft.pressure_unit.or(breath_unit).unwrap_or(self.unit);
        let defaults = Defaults { unit, bore: self.context.bore, stroke: Stroke::Final };
        let facts = facts(draft, kind, defaults)?;
        for fact in facts {
            let cylinder = match draft.cylinder {
                Some(number) => self.cylinder(number)?,
                None => self.unnamed_cylinder(&fact)?,
            };
            let named = draft.cylinder.is_some();
            let statement = Statement { cylinder, named, fact };
            if self.meanings.iter().any(|said| contradicts(said, &statement)) {
                return Err(Problem::TwoReadings(cylinder));
            }
            self.meanings.push(Meaning::State(statement));
        }
        Ok(())
    }

    /// What a number is when the clause does not say.
    fn bare_kind(&self, draft: &Draft, breath_unit: Option<PressureUnit>) -> Result<Kind, Problem> {
        if breath_unit.is_some() {
            return Ok(Kind::Cranking);
        }
        if let Some(said) = self.last_said() {
            match said.fact {
                Fact::Cranking { .. } => return Ok(Kind::Cranking),
                Fact::LeakDown { .. } => return Ok(Kind::LeakDown),
                _ => {}
            }
        }
        let number = draft.numbers.first().copied().unwrap_or(Decimal::whole(0));
        match self.context.expect {
            Expect::Cranking => Ok(Kind::Cranking),
            Expect::LeakDown => Ok(Kind::LeakDown),
            Expect::Plugs => Err(unlikely(number)),
            Expect::Anything if number.value() > 100.0 => Ok(Kind::Cranking),
            Expect::Anything => {
                let ways = [Kind::Cranking, Kind::LeakDown].map(|kind| {
                    let mut settled = Self::new(self.context);
                    let defaults = Defaults {
                        unit: self.unit,
                        bore: self.context.bore,
                        stroke: Stroke::Final,
                    };
                    let cylinder = match draft.cylinder {
                        Some(number) => settled.cylinder(number)?,
                        None => settled.expected()?,
                    };
                    for fact in facts(draft, kind, defaults)? {
                        let named = draft.cylinder.is_some();
                        settled.meanings.push(Meaning::State(Statement { cylinder, named, fact }));
                    }
                    Ok(settled.meanings)
                });
                let ways: Vec<_> = ways.into_iter().collect::<Result<_, Problem>>()?;
                Err(Problem::Ambiguous(ways))
            }
        }
    }

    /// The cylinder that a fact without one is about: the one just spoken of when the fact goes on
    /// about it, and else the expected one.
    fn unnamed_cylinder(&self, fact: &Fact) -> Result<Cylinder, Problem> {
        if let Some(said) = self.last_said() {
            if goes_on(&said.fact, fact) {
                return Ok(said.cylinder);
            }
            // Two readings of one kind in a breath without a cylinder: whose is the second?
            return Err(Problem::WhichCylinder);
        }
        let earlier = self.context.last.as_ref().and_then(Statement::of);
        match earlier {
            Some(earlier) if goes_on(&earlier.fact, fact) && self.nothing_skipped() => {
                Ok(earlier.cylinder)
            }
            _ => self.expected(),
        }
    }

    fn nothing_skipped(&self) -> bool {
        !self.meanings.iter().any(|meaning| matches!(meaning, Meaning::Skip { .. }))
    }

    fn put_right(&mut self, draft: &Draft) -> Result<(), Problem> {
        if draft.torn {
            return Err(Problem::WhichCylinder);
        }
        let said = self.last_said().cloned();
        let base = said.clone().or_else(|| self.context.last.as_ref().and_then(Statement::of));
        let statement = self.corrected(draft, base.as_ref())?;
        if said.is_some() {
            if let Some(Meaning::State(place) | Meaning::Correct { statement: place, .. }) =
                self.meanings.last_mut()
            {
                *place = statement;
            }
            return Ok(());
        }
        let which = match draft.cylinder {
            Some(_) if !draft.only_cylinder => Which::Cylinder(statement.cylinder),
            _ => Which::Last,
        };
        self.meanings.push(Meaning::Correct { which, statement });
        Ok(())
    }

    /// The statement that stands instead of `base`.
    fn corrected(&self, draft: &Draft, base: Option<&Statement>) -> Result<Statement, Problem> {
        let named = draft.cylinder.map(|number| self.cylinder(number)).transpose()?;
        if !draft.has_claim() {
            let base = base.ok_or(Problem::NothingEarlier)?;
            let fact = changed(draft, &base.fact)?;
            let cylinder = named.unwrap_or(base.cylinder);
            return Ok(Statement { cylinder, named: named.is_some() || base.named, fact });
        }
        let base_kind = base.map(|base| kind_of(&base.fact));
        if draft.kind().is_none() && self.may_be_no_cylinder(draft, self.unit, true) {
            return Err(unlikely(draft.numbers.first().copied().unwrap_or(Decimal::whole(0))));
        }
        let kind = match (draft.kind(), base_kind) {
            // "no, one forty wet" of a leak-down is still about a pressure.
            (Some(kind), _)
            | (None, Some(kind @ (Kind::Cranking | Kind::LeakDown | Kind::Gap))) => kind,
            (None, _) => self.bare_kind(draft, None)?,
        };
        let defaults = match base.map(|base| &base.fact) {
            Some(Fact::Cranking { pressure, bore, stroke }) => {
                Defaults { unit: pressure.value.unit(), bore: *bore, stroke: *stroke }
            }
            _ => Defaults { unit: self.unit, bore: self.context.bore, stroke: Stroke::Final },
        };
        let mut facts = facts(draft, kind, defaults)?;
        if let (Some(Fact::LeakDown { valves, .. }), Some(base)) = (facts.first_mut(), base)
            && let Fact::LeakDown { valves: earlier, .. } = base.fact
            && !draft.tapped
        {
            *valves = earlier;
        }
        let fact = facts.into_iter().next().ok_or(Problem::CorrectionUnclear)?;
        let cylinder = match (named, base) {
            (Some(cylinder), _) => cylinder,
            (None, Some(base)) => base.cylinder,
            (None, None) => return Err(Problem::NothingEarlier),
        };
        let named = named.is_some() || base.is_some_and(|base| base.named);
        Ok(Statement { cylinder, named, fact })
    }
}

fn drafts(events: &[Event]) -> Vec<Draft> {
    let mut drafts: Vec<Draft> = Vec::new();
    let mut ahead = Draft::default();
    for event in events {
        match event {
            Event::Mark(Mark::Clause) => drafts.push(std::mem::take(&mut ahead)),
            // These stand before the clause they belong to.
            Event::Mark(Mark::To | Mark::Not) => ahead.take(*event),
            _ => {
                if let Some(draft) = drafts.last_mut() {
                    draft.take(*event);
                }
            }
        }
    }
    drafts
}

/// Joins the two ends of a range into one clause.
fn ranges_joined(drafts: Vec<Draft>) -> Vec<Draft> {
    let mut joined: Vec<Draft> = Vec::with_capacity(drafts.len());
    for draft in drafts {
        if let Some(lower) = joined.last_mut()
            && lower.numbers.len() == 1
            && draft.is_number_alone()
            && (lower.cylinder.is_none() || draft.cylinder.is_none())
            && (draft.upper_end || lower.between || reads_as_range(lower, &draft))
        {
            lower.widen(&draft);
        } else {
            joined.push(draft);
        }
    }
    joined
}

/// "twenty-three, twenty-four": two near numbers, the second the greater, one unit for both.
fn reads_as_range(lower: &Draft, upper: &Draft) -> bool {
    let ends = (lower.numbers.first(), upper.numbers.first());
    let (Some(from), Some(to)) = ends else { return false };
    let no_unit = lower.pressure_unit.is_none() && lower.length_unit.is_none() && !lower.percent;
    let plain = lower.bore.is_none() && lower.stroke.is_none() && !lower.tapped;
    // Smaller numbers one after the other are as likely counted.
    let counted = from.value() < 10.0;
    let one_cylinder = upper.cylinder.is_none() || upper.cylinder_last;
    no_unit && plain && !counted && one_cylinder && near(from.value(), to.value())
}

/// Whether the later fact goes on about the cylinder of the earlier one.
fn goes_on(earlier: &Fact, later: &Fact) -> bool {
    match (earlier, later) {
        (
            Fact::Cranking { bore: before, stroke: from, .. },
            Fact::Cranking { bore: after, stroke: to, .. },
        ) => {
            (*before == Bore::Dry && *after == Bore::Wet)
                || (before == after && *from != Stroke::Final && from != to)
        }
        (Fact::LeakDown { valves: before, .. }, Fact::LeakDown { valves: after, .. })
        | (Fact::TwoGauge { valves: before, .. }, Fact::TwoGauge { valves: after, .. }) => {
            *before == Valves::AsFound && *after == Valves::Tapped
        }
        (Fact::LeakDown { .. } | Fact::TwoGauge { .. } | Fact::Air { .. }, Fact::Air { .. })
        | (Fact::Plug { .. }, Fact::Gap { .. }) => true,
        (Fact::Air { .. }, Fact::LeakDown { valves, .. } | Fact::TwoGauge { valves, .. }) => {
            *valves == Valves::Tapped
        }
        _ => false,
    }
}

/// Whether something stated in the same breath leaves no room for a statement: another number in the
/// same place.
fn contradicts(said: &Meaning, statement: &Statement) -> bool {
    let Meaning::State(said) = said else { return false };
    said.cylinder == statement.cylinder
        && said.fact != statement.fact
        && match (&said.fact, &statement.fact) {
            (
                Fact::Cranking { bore: a, stroke: b, .. },
                Fact::Cranking { bore: c, stroke: d, .. },
            ) => (a, b) == (c, d),
            (Fact::LeakDown { valves: a, .. }, Fact::LeakDown { valves: b, .. })
            | (Fact::TwoGauge { valves: a, .. }, Fact::TwoGauge { valves: b, .. }) => a == b,
            (Fact::Gap { .. }, Fact::Gap { .. }) => true,
            _ => false,
        }
}
