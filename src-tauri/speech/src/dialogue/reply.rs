//! What a meaning does to the log, and what the phone says to it.

use borespoke_core::engine::Cylinder;
use borespoke_core::quantity::PressureUnit;
use borespoke_core::record::{Act, Entry, Log, Look, Observation, Remark};
use thiserror::Error;

use super::read_back::{read_back, spoken_statement};
use crate::language::{Context, Meaning, Statement, Which};

/// What a meaning does.
#[derive(Debug, Clone, PartialEq)]
pub enum Effect {
    /// Goes into the log.
    Log(Act),
    /// The cylinder expected next.
    Expect(Cylinder),
    /// The unit in hand.
    Unit(PressureUnit),
    /// The next step is to be said.
    NextStep,
    /// The microphone is to be closed.
    StopListening,
}

/// The sound to make with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Cue {
    /// Taken.
    Accepted,
    /// Something earlier was changed or taken back.
    Changed,
    /// Kept as a remark.
    Noted,
    /// Moved on; nothing was written.
    Moved,
    /// A question follows.
    Asking,
    /// Not heard, or not possible.
    Refused,
}

/// What a meaning does, and what is said to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Reply {
    /// What it does.
    pub effect: Effect,
    /// The sound.
    pub cue: Cue,
    /// The words, said once the effect is on disk.
    pub words: String,
}

/// Why a meaning can do nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Refusal {
    /// Nothing in force that it could be about.
    #[error("there is nothing earlier that this could be about")]
    NothingEarlier,
    /// Nothing in force about that cylinder.
    #[error("there is nothing yet about cylinder {0}")]
    NothingAbout(Cylinder),
    /// No cylinder is expected, so there is none to go on from.
    #[error("which cylinder? none is expected; say its number")]
    WhichCylinder,
}

/// What `meaning` does to a job with this log.
///
/// # Errors
/// [`Refusal`] when it points at something that is not there.
pub fn reply(context: &Context, log: &Log, meaning: &Meaning) -> Result<Reply, Refusal> {
    Ok(match meaning {
        Meaning::State(statement) => observed(statement),
        Meaning::Correct { which, statement } => match corrected_entry(log, *which, statement) {
            Some(entry) => Reply {
                words: format!("{}, corrected", spoken_statement(statement)),
                cue: Cue::Changed,
                effect: Effect::Log(Act::Correct {
                    replaces: entry.id,
                    observation: kept_beside(entry, statement),
                }),
            },
            // Named in full, it can stand without anything to correct.
            None if matches!(which, Which::Cylinder(_)) => observed(statement),
            None => return Err(Refusal::NothingEarlier),
        },
        Meaning::Withdraw(which) => withdrawn(log, *which)?,
        Meaning::Repeat { cylinder, like } => observed(&repeated(log, *like)?.moved_to(*cylinder)),
        Meaning::Skip { to } => {
            let to = match to {
                Some(to) => *to,
                None => context
                    .next
                    .and_then(|next| context.engine.firing_order().after(next))
                    .ok_or(Refusal::WhichCylinder)?,
            };
            moved(Effect::Expect(to), format!("cylinder {}", crate::language::say_cylinder(to)))
        }
        Meaning::Unit(unit) => {
            moved(Effect::Unit(*unit), super::read_back::unit_words(*unit).to_owned())
        }
        Meaning::NextStep => moved(Effect::NextStep, String::new()),
        Meaning::StopListening => moved(Effect::StopListening, "not listening".to_owned()),
        Meaning::Remark { cylinder, text } => Reply {
            effect: Effect::Log(Act::Observe {
                observation: Observation::Remark(Remark {
                    cylinder: *cylinder,
                    text: text.clone(),
                }),
            }),
            cue: Cue::Noted,
            words: "noted".to_owned(),
        },
    })
}

fn observed(statement: &Statement) -> Reply {
    Reply {
        effect: Effect::Log(Act::Observe { observation: statement.observation() }),
        cue: Cue::Accepted,
        words: spoken_statement(statement),
    }
}

fn moved(effect: Effect, words: String) -> Reply {
    Reply { effect, cue: Cue::Moved, words }
}

/// Whether it was said to the phone. A remark may be talk that it overheard.
const fn is_said(observation: &Observation) -> bool {
    !matches!(observation, Observation::Remark(_))
}

/// Whether two observations fill the same place: the same quantity, read in the same way.
fn same_place(a: &Observation, b: &Observation) -> bool {
    match (a, b) {
        (Observation::Cranking(a), Observation::Cranking(b)) => {
            a.bore == b.bore && a.stroke == b.stroke
        }
        (Observation::LeakDown(a), Observation::LeakDown(b)) => a.valves == b.valves,
        _ => same_kind(a, b),
    }
}

fn same_kind(a: &Observation, b: &Observation) -> bool {
    std::mem::discriminant(a) == std::mem::discriminant(b)
}

/// The entry that a correction is of.
///
/// A named cylinder: its newest reading in the same place (dry for dry). Where it has none, the last
/// thing said, if it was of the same quantity: it then was of the wrong cylinder. What was said
/// before that is not touched. Without a cylinder: the newest reading of the same quantity.
fn corrected_entry<'l>(log: &'l Log, which: Which, statement: &Statement) -> Option<&'l Entry> {
    let meant = statement.observation();
    let standing = log.in_force();
    let newest = |fits: &dyn Fn(&Observation) -> bool| {
        standing.iter().rev().find(|(_, observation)| fits(observation)).map(|(entry, _)| *entry)
    };
    match which {
        Which::Cylinder(cylinder) => {
            newest(&|other| other.cylinder() == Some(cylinder) && same_place(other, &meant))
                .or_else(|| {
                    newest(&is_said).filter(|last| {
                        last.act.observation().is_some_and(|last| same_kind(last, &meant))
                    })
                })
        }
        Which::Last => newest(&|other| same_kind(other, &meant)),
    }
}

/// The corrected observation. What the earlier entry holds beside the words, it keeps: the tester,
/// and of a look the picture.
fn kept_beside(entry: &Entry, statement: &Statement) -> Observation {
    let mut observation = statement.observation();
    match (&mut observation, entry.act.observation()) {
        (Observation::Cranking(new), Some(Observation::Cranking(old))) => {
            new.tester.clone_from(&old.tester);
        }
        (Observation::LeakDown(new), Some(Observation::LeakDown(old))) => {
            new.tester.clone_from(&old.tester);
        }
        (Observation::Look(new), Some(Observation::Look(old))) if new.cylinder == old.cylinder => {
            *new = Look { signs: std::mem::take(&mut new.signs), ..old.clone() };
        }
        _ => {}
    }
    observation
}

fn withdrawn(log: &Log, which: Which) -> Result<Reply, Refusal> {
    let standing = log.in_force();
    let (entry, observation) = standing
        .iter()
        .rev()
        .find(|(_, observation)| match which {
            Which::Last => is_said(observation),
            Which::Cylinder(cylinder) => observation.cylinder() == Some(cylinder),
        })
        // Where there are only remarks, the newest of them is meant.
        .or_else(|| standing.last().filter(|_| which == Which::Last))
        .ok_or(match which {
            Which::Last => Refusal::NothingEarlier,
            Which::Cylinder(cylinder) => Refusal::NothingAbout(cylinder),
        })?;
    Ok(Reply {
        effect: Effect::Log(Act::Withdraw { entry: entry.id }),
        cue: Cue::Changed,
        words: format!("taken back: {}", read_back(observation)),
    })
}

fn repeated(log: &Log, like: Which) -> Result<Statement, Refusal> {
    log.in_force()
        .iter()
        .rev()
        .filter(|(_, observation)| match like {
            Which::Last => true,
            Which::Cylinder(cylinder) => observation.cylinder() == Some(cylinder),
        })
        .find_map(|(_, observation)| Statement::of(observation))
        .ok_or(match like {
            Which::Last => Refusal::NothingEarlier,
            Which::Cylinder(cylinder) => Refusal::NothingAbout(cylinder),
        })
}
