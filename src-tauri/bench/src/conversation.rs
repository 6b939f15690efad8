//! The state of a job while it is spoken about: what can be said next, and what a meaning does to
//! the log.

use borespoke_core::engine::Cylinder;
use borespoke_core::job::Job;
use borespoke_core::quantity::PressureUnit;
use borespoke_core::record::{
    Act, Cranking, Entry, Gap, LeakDown, LeakReading, Listening, Log, Look, Observation, Remark,
};
use borespoke_speech::language::{Context, Expect, Fact, Meaning, Statement, Which};

/// Where the work stands.
#[derive(Debug, Clone)]
pub struct Conversation {
    context: Context,
    /// Whether the quantity in hand and the cylinder expected follow from what was said before.
    /// Off when clips have nothing to do with each other.
    follow: bool,
    /// Whether the clip before is still unsettled: then "no, one forty" may be about it, and must
    /// not be put in the place of the entry before that.
    open: bool,
}

impl Conversation {
    /// The state before anything is said. `follow` is whether what is said is one job in order.
    pub fn new(job: &Job, unit: PressureUnit, expect: Expect, follow: bool) -> Self {
        let mut context = Context::new(job.engine.clone(), expect);
        context.pressure_unit = unit;
        Self { context, follow, open: false }
    }

    /// What can be said now.
    pub const fn context(&self) -> &Context {
        &self.context
    }

    /// What a meaning does to the log; `None` for one that does nothing to it, or that points at
    /// nothing.
    pub fn act(&self, meaning: &Meaning, log: &Log) -> Option<Act> {
        let pointed = |which: &Which| match which {
            Which::Last if self.open => None,
            Which::Last => log.last_in_force(),
            Which::Cylinder(cylinder) => log.last_about(*cylinder),
        };
        match meaning {
            Meaning::State(statement) => Some(Act::Observe { observation: observation(statement) }),
            Meaning::Correct { which, statement } => {
                let observation = observation(statement);
                let pointed = pointed(which)?;
                let replaces = log.last_like(&observation).unwrap_or(pointed).id;
                Some(Act::Correct { replaces, observation })
            }
            Meaning::Withdraw(which) => Some(Act::Withdraw { entry: pointed(which)?.id }),
            Meaning::Repeat { cylinder, like } => {
                let observation = moved(pointed(like)?.act.observation()?, *cylinder)?;
                Some(Act::Observe { observation })
            }
            Meaning::Remark { cylinder, text } => Some(Act::Observe {
                observation: Observation::Remark(Remark {
                    cylinder: *cylinder,
                    text: text.clone(),
                }),
            }),
            Meaning::Skip { .. }
            | Meaning::Unit(_)
            | Meaning::NextStep
            | Meaning::StopListening => None,
        }
    }

    /// The clip that was just heard was not settled.
    pub const fn leave_open(&mut self) {
        self.open = true;
    }

    /// What stands after a meaning was taken, with the log as it is then.
    pub fn went_on(&mut self, meaning: &Meaning, log: &Log) {
        let last = log.last_in_force().and_then(|entry| entry.act.observation());
        self.context.last = last.cloned();
        match meaning {
            Meaning::State(statement) => {
                self.open = false;
                if self.follow {
                    self.context.expect = in_hand(&statement.fact);
                }
                self.expect_after(statement.cylinder);
            }
            Meaning::Repeat { cylinder, .. } => self.expect_after(*cylinder),
            Meaning::Skip { to } => {
                let order = self.context.engine.firing_order();
                self.context.next = to.or_else(|| order.after(self.context.next?));
            }
            Meaning::Unit(unit) => self.context.pressure_unit = *unit,
            Meaning::Correct { .. }
            | Meaning::Withdraw(_)
            | Meaning::Remark { .. }
            | Meaning::NextStep
            | Meaning::StopListening => {}
        }
    }

    /// Takes up where the entries of a log leave off.
    pub fn take_up(&mut self, entry: &Entry, log: &Log) {
        if let Some(observation) = entry.act.observation() {
            if let Some(cylinder) = observation.cylinder() {
                self.expect_after(cylinder);
            }
            self.context.last =
                log.last_in_force().and_then(|entry| entry.act.observation()).cloned();
        }
    }

    fn expect_after(&mut self, cylinder: Cylinder) {
        if self.follow {
            self.context.next = self.context.engine.firing_order().after(cylinder);
        }
    }
}

/// The quantity a fact is of.
const fn in_hand(fact: &Fact) -> Expect {
    match fact {
        Fact::Cranking { .. } => Expect::Cranking,
        Fact::LeakDown { .. } | Fact::TwoGauge { .. } | Fact::Air { .. } => Expect::LeakDown,
        Fact::Plug { .. } | Fact::Gap { .. } => Expect::Plugs,
    }
}

/// The observation a statement is.
pub fn observation(statement: &Statement) -> Observation {
    let cylinder = statement.cylinder;
    match &statement.fact {
        Fact::Cranking { pressure, bore, stroke } => Observation::Cranking(Cranking {
            cylinder,
            pressure: *pressure,
            bore: *bore,
            stroke: *stroke,
            tester: None,
        }),
        Fact::LeakDown { leak, valves } => Observation::LeakDown(LeakDown {
            cylinder,
            reading: LeakReading::Percent { leak: *leak },
            valves: *valves,
            tester: None,
        }),
        Fact::TwoGauge { supply, cylinder_side, valves } => Observation::LeakDown(LeakDown {
            cylinder,
            reading: LeakReading::Pressures { supply: *supply, cylinder_side: *cylinder_side },
            valves: *valves,
            tester: None,
        }),
        Fact::Plug { signs } => {
            Observation::Look(Look { cylinder, signs: signs.clone(), picture: None, figures: None })
        }
        Fact::Gap { gap } => Observation::Gap(Gap { cylinder, gap: *gap }),
        Fact::Air { at } => Observation::Listening(Listening { cylinder, at: *at }),
    }
}

/// The same observation of another cylinder; a remark has nothing to repeat.
fn moved(observation: &Observation, to: Cylinder) -> Option<Observation> {
    let mut moved = observation.clone();
    match &mut moved {
        Observation::Cranking(read) => read.cylinder = to,
        Observation::LeakDown(read) => read.cylinder = to,
        Observation::Listening(heard) => heard.cylinder = to,
        Observation::Look(look) => look.cylinder = to,
        Observation::Gap(read) => read.cylinder = to,
        Observation::Remark(_) => return None,
    }
    Some(moved)
}
