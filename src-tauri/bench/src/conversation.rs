//! A job while it is spoken about: what stands beside its log between one utterance and the next.
//! What a meaning does to the log is `dialogue`'s to say.

use borespoke_core::engine::{Cylinder, Engine};
use borespoke_core::quantity::PressureUnit;
use borespoke_core::record::{Act, Log, Observation};
use borespoke_speech::dialogue::{self, Effect};
use borespoke_speech::language::{Context, Expect, Fact, Meaning, Which};

/// How the clips of a job belong together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Course {
    /// One job in the order of the work: the quantity in hand and the cylinder expected follow from
    /// what was said before.
    InOrder,
    /// Clips that have nothing to do with each other, but for what a correction is of.
    Apart,
}

/// Where the work stands.
#[derive(Debug, Clone)]
pub struct Conversation {
    engine: Engine,
    gauge_unit: PressureUnit,
    unit_said: Option<PressureUnit>,
    expect: Expect,
    course: Course,
    skipped_to: Option<Cylinder>,
    /// Whether the clip before is still unsettled: then "no, one forty" may be about it, and must
    /// not be put in the place of the entry before that.
    open: bool,
}

impl Conversation {
    /// The state before anything is said. `gauge_unit` is what the cranking gauge is marked in.
    pub fn new(engine: &Engine, gauge_unit: PressureUnit, expect: Expect, course: Course) -> Self {
        Self {
            engine: engine.clone(),
            gauge_unit,
            unit_said: None,
            expect,
            course,
            skipped_to: None,
            open: false,
        }
    }

    /// What can be said now.
    pub fn context(&self, log: &Log) -> Context {
        let followed = dialogue::context(&self.engine, log, self.expect);
        let mut context = match self.course {
            Course::InOrder => followed,
            Course::Apart => {
                Context { last: followed.last, ..Context::new(self.engine.clone(), self.expect) }
            }
        };
        let cranked =
            |(_, observation): &(_, &Observation)| matches!(observation, Observation::Cranking(_));
        if let Some(said) = self.unit_said {
            context.pressure_unit = said;
        } else if self.course == Course::Apart || !log.in_force().iter().any(cranked) {
            context.pressure_unit = self.gauge_unit;
        }
        context.next = self.skipped_to.or(context.next);
        context
    }

    /// Takes a meaning in: what it does to the log, or `None` when it does nothing to it or points
    /// at nothing.
    pub fn take(&mut self, meaning: &Meaning, log: &Log) -> Option<Act> {
        if self.open && points_at_last(meaning) {
            return None;
        }
        match dialogue::reply(&self.context(log), log, meaning).ok()?.effect {
            Effect::Log(act) => {
                self.went_on(meaning);
                Some(act)
            }
            Effect::Expect(cylinder) => {
                self.skipped_to = Some(cylinder);
                None
            }
            Effect::Unit(unit) => {
                self.unit_said = Some(unit);
                None
            }
            Effect::NextStep | Effect::StopListening => None,
        }
    }

    /// The clip that was just heard was not settled.
    pub const fn leave_open(&mut self) {
        self.open = true;
    }

    fn went_on(&mut self, meaning: &Meaning) {
        match meaning {
            Meaning::State(statement) => {
                self.open = false;
                self.skipped_to = None;
                if self.course == Course::InOrder {
                    self.expect = in_hand(&statement.fact);
                }
            }
            Meaning::Repeat { .. } => self.skipped_to = None,
            _ => {}
        }
    }
}

const fn points_at_last(meaning: &Meaning) -> bool {
    matches!(
        meaning,
        Meaning::Correct { which: Which::Last, .. }
            | Meaning::Withdraw(Which::Last)
            | Meaning::Repeat { like: Which::Last, .. }
    )
}

/// The quantity a fact is of.
const fn in_hand(fact: &Fact) -> Expect {
    match fact {
        Fact::Cranking { .. } => Expect::Cranking,
        Fact::LeakDown { .. } | Fact::TwoGauge { .. } | Fact::Air { .. } => Expect::LeakDown,
        Fact::Plug { .. } | Fact::Gap { .. } => Expect::Plugs,
    }
}

#[cfg(test)]
mod tests {
    use borespoke_core::engine::FiringOrder;
    use borespoke_core::record::{Entry, EntryId, Origin};
    use borespoke_speech::language::Language;
    use jiff::Timestamp;
    use uuid::Uuid;

    use super::*;

    struct Job {
        conversation: Conversation,
        log: Log,
    }

    impl Job {
        fn new() -> Self {
            let engine = Engine::new(FiringOrder::new([1, 3, 4, 2]).unwrap(), None).unwrap();
            let conversation =
                Conversation::new(&engine, PressureUnit::Psi, Expect::Anything, Course::InOrder);
            Self { conversation, log: Log::new() }
        }

        fn say(&mut self, text: &str) -> Option<Act> {
            let understood = Language::new(&self.conversation.context(&self.log)).understand(text);
            assert!(understood.problems.is_empty(), "{text}: {understood:?}");
            let act = self.conversation.take(&understood.meanings[0], &self.log)?;
            let id = EntryId(Uuid::from_u128(self.log.entries().len() as u128 + 1));
            let at = Timestamp::UNIX_EPOCH;
            let entry = Entry { id, at, origin: Origin::Typed, act: act.clone() };
            self.log.append(entry).unwrap();
            Some(act)
        }
    }

    #[test]
    fn a_corrected_pressure_never_displaces_a_reading_of_another_kind() {
        let mut job = Job::new();
        job.say("cylinder three, 105 psi");
        job.say("cylinder one, 8 percent leak");
        let Some(Act::Correct { replaces, .. }) = job.say("no, cylinder three is 150 psi") else {
            panic!("not a correction")
        };
        assert_eq!(replaces, job.log.entries()[0].id);
        // Nothing was cranked on four, and the last thing said was a leak-down: nothing is displaced by what is said of it.
        job.say("cylinder two, 6 percent leak");
        let act = job.say("no, cylinder four is 150 psi");
        assert!(matches!(act, Some(Act::Observe { .. })), "{act:?}");
    }

    #[test]
    fn what_points_at_the_last_waits_until_the_open_clip_is_settled() {
        let mut job = Job::new();
        job.say("cylinder three, 105 psi");
        job.conversation.leave_open();
        for text in ["no, 140", "take that back"] {
            assert_eq!(job.say(text), None, "{text}");
        }
        job.say("cylinder four, 150 psi");
        assert!(matches!(job.say("no, 140"), Some(Act::Correct { .. })));
    }

    #[test]
    fn taking_back_is_of_the_last_reading_not_of_talk() {
        let mut job = Job::new();
        job.say("cylinder three, 105 psi");
        job.say("remark the belt squeals");
        let Some(Act::Withdraw { entry }) = job.say("take that back") else {
            panic!("no withdrawal")
        };
        assert_eq!(entry, job.log.entries()[0].id);
    }

    #[test]
    fn a_unit_and_a_skip_stand_until_something_is_read() {
        let mut job = Job::new();
        job.say("readings in bar");
        job.say("skip to cylinder two");
        let context = job.conversation.context(&job.log);
        assert_eq!(context.pressure_unit, PressureUnit::Bar);
        assert_eq!(context.next.map(Cylinder::number), Some(2));
        job.say("cylinder two, 9.5 bar");
        assert_eq!(job.conversation.context(&job.log).next.map(Cylinder::number), Some(1));
    }
}
