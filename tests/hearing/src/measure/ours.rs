//! The recogniser of this project as a [`Hearer`].

use std::path::Path;
use std::time::Instant;

use borespoke_speech::hearing::{Outcome as Spoken, hear};
use borespoke_speech::language::Meaning;
use borespoke_speech::recogniser::Recogniser;
use borespoke_speech::sound::Clip;

use super::{Hearer, MeasureError, context, entries};
use crate::score::{Answer, Outcome};
use crate::situation::Situation;

/// The recogniser with its weights.
pub struct Ours {
    recogniser: Recogniser,
}

impl Ours {
    /// Loads weights.
    ///
    /// # Errors
    /// [`MeasureError::Hearer`] when they cannot be loaded.
    pub fn load(weights: &Path) -> Result<Self, MeasureError> {
        let recogniser =
            Recogniser::load(weights).map_err(|e| MeasureError::Hearer(e.to_string()))?;
        Ok(Self { recogniser })
    }
}

impl Hearer for Ours {
    fn hear(&mut self, clip: &[f32], situation: &Situation) -> Result<Answer, MeasureError> {
        let context = context(situation);
        let clip = Clip::new(clip.to_vec());
        let begun = Instant::now();
        let heard = hear(&self.recogniser, &clip, &context)
            .map_err(|e| MeasureError::Hearer(e.to_string()))?;
        let took = begun.elapsed();
        let in_the_log = |meanings: &[Meaning]| entries(meanings, situation);
        let (outcome, offered) = match &heard.outcome {
            Spoken::Accepted(_) => (Outcome::Accepted, Vec::new()),
            Spoken::Ask(both) => (Outcome::Ask, both.iter().map(|one| in_the_log(one)).collect()),
            Spoken::Remark(_) => (Outcome::Remark, Vec::new()),
            Spoken::Unheard => (Outcome::Unheard, Vec::new()),
        };
        Ok(Answer {
            outcome,
            entries: in_the_log(&heard.likeliest),
            offered,
            sureness: heard.sureness.value(),
            text: heard.text,
            took,
            features: heard.evidence.map(|e| e.named().to_vec()).unwrap_or_default(),
        })
    }
}
