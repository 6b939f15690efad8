//! `hear`: what would be heard in clips. Nothing is stored.

use std::path::{Path, PathBuf};
use std::time::Instant;

use borespoke_core::record::{Entry, EntryId, Log, Observation, Origin};
use borespoke_speech::hearing::{self, Heard, Outcome};
use borespoke_speech::language::{Context, Expect, Language, Meaning, Which};
use borespoke_speech::recogniser::Recogniser;
use borespoke_speech::sound::Clip;

use crate::case::Description;
use crate::conversation::{Conversation, Course};
use crate::error::BenchError;
use crate::identity::{Clock, Identities};
use crate::wire::{HearLine, OutcomeWord, WireEntry};

/// Hears clips one after the other in the state of a case. What one means can depend on the one
/// before ("no, one forty"); which cylinder is expected next does not.
///
/// # Errors
/// [`BenchError`] when the case cannot be read or the recogniser fails. A clip that cannot be
/// heard goes to `on` as an error and stops no other.
pub fn hear(
    case: &Path,
    expect: Expect,
    clips: &[PathBuf],
    ears: &Recogniser,
    clock: &dyn Clock,
    on: &mut dyn FnMut(Result<&HearLine, &BenchError>),
) -> Result<(), BenchError> {
    let description = Description::read(case)?;
    let job = description.to_job(clock.now(), "");
    let mut conversation = Conversation::new(&job.engine, description.unit, expect, Course::Apart);
    let mut imagined = Imagined { log: Log::new(), identities: Identities::default() };
    for path in clips {
        let name = path.display().to_string();
        let clip = match Clip::open(path) {
            Ok(clip) => clip,
            Err(source) => {
                on(Err(&BenchError::Clip { name, source }));
                continue;
            }
        };
        let (line, meanings) = listen(name, &clip, ears, &conversation.context(&imagined.log))?;
        on(Ok(&line));
        imagined.take(&meanings, &mut conversation, clock);
        if matches!(line.outcome, OutcomeWord::Ask | OutcomeWord::Unheard) {
            conversation.leave_open();
        }
    }
    Ok(())
}

/// A log that is kept only as long as `hear` runs.
struct Imagined {
    log: Log,
    identities: Identities,
}

impl Imagined {
    fn take(&mut self, meanings: &[Meaning], conversation: &mut Conversation, clock: &dyn Clock) {
        for meaning in meanings {
            if let Some(act) = conversation.take(meaning, &self.log) {
                let at = clock.now();
                let id = EntryId(self.identities.new_at(at));
                // Always fits: the act was made against this log, and the identity is new.
                let _ = self.log.append(Entry { id, at, origin: Origin::Typed, act });
            }
        }
    }
}

/// Hears one clip: the line to tell, and the meanings to take in, which are none unless it was
/// heard surely.
pub(crate) fn listen(
    name: String,
    clip: &Clip,
    ears: &Recogniser,
    context: &Context,
) -> Result<(HearLine, Vec<Meaning>), BenchError> {
    let begun = Instant::now();
    let language = Language::new(context);
    let heard = hearing::hear_in(ears, clip, &language)?;
    let ms = begun.elapsed().as_secs_f64() * 1e3;
    Ok(tell(name, ms, heard, &language))
}

fn tell(clip: String, ms: f64, heard: Heard, language: &Language) -> (HearLine, Vec<Meaning>) {
    let last = language.context().last.as_ref();
    let wire = |meanings: &[Meaning]| -> Vec<WireEntry> {
        meanings
            .iter()
            .map(|meaning| match meaning {
                // "Take that back" names no cylinder, but is about one.
                Meaning::Withdraw(Which::Last) => {
                    WireEntry::withdrawal(last.and_then(Observation::cylinder))
                }
                meaning => WireEntry::from(meaning),
            })
            .collect()
    };
    let (outcome, entries, offered, taken) = match heard.outcome {
        Outcome::Accepted(meanings) => {
            (OutcomeWord::Accepted, wire(&meanings), Vec::new(), meanings)
        }
        Outcome::Ask([one, other]) => {
            let offered = one.first().into_iter().chain(other.first()).map(WireEntry::from);
            (OutcomeWord::Ask, Vec::new(), offered.collect(), Vec::new())
        }
        Outcome::Remark(meanings) => (OutcomeWord::Remark, wire(&meanings), Vec::new(), meanings),
        Outcome::Unheard => (OutcomeWord::Unheard, Vec::new(), Vec::new(), Vec::new()),
    };
    let problems = match outcome {
        OutcomeWord::Accepted => Vec::new(),
        _ => language.understand(&heard.text).problems.iter().map(ToString::to_string).collect(),
    };
    let sureness = heard.sureness.value();
    (HearLine { clip, outcome, entries, offered, sureness, ms, text: heard.text, problems }, taken)
}
