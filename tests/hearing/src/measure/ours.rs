//! The recogniser of this project as a [`Hearer`].

use std::num::NonZeroUsize;
use std::path::Path;
use std::time::{Duration, Instant};

use borespoke_speech::hearing::{Outcome as Spoken, Sound, listen, weigh};
use borespoke_speech::language::{Language, Meaning};
use borespoke_speech::recogniser::{Effort, Recogniser};
use borespoke_speech::sound::Clip;

use super::kept::{Kept, KeptTranscript};
use super::{Hearer, MeasureError, context, entries};
use crate::score::{Answer, Outcome};
use crate::situation::Situation;

/// The recogniser with its weights.
pub struct Ours {
    recogniser: Recogniser,
    weights: String,
    kept: Option<Kept>,
    effort: Effort,
}

impl Ours {
    /// Loads weights.
    ///
    /// # Errors
    /// [`MeasureError::Hearer`] when they cannot be loaded.
    pub fn load(weights: &Path, threads: Option<NonZeroUsize>) -> Result<Self, MeasureError> {
        let recogniser =
            Recogniser::load(weights).map_err(|e| MeasureError::Hearer(e.to_string()))?;
        let recogniser = match threads {
            Some(threads) => recogniser.with_threads(threads),
            None => recogniser,
        };
        let weights = weights.file_name().unwrap_or_default().to_string_lossy().into_owned();
        Ok(Self { recogniser, weights, kept: None, effort: Effort::default() })
    }

    /// Takes what was heard in an earlier run from a file, and adds what is heard now: a change of
    /// what comes after the recogniser is measured in seconds.
    ///
    /// # Errors
    /// [`MeasureError::File`] when the file cannot be read or added to.
    pub fn keeping(self, file: &Path) -> Result<Self, MeasureError> {
        Ok(Self { kept: Some(Kept::open(file)?), ..self })
    }

    /// With so many steps of the network once one text is whole.
    #[must_use]
    pub fn with_steps(self, steps: usize) -> Self {
        Self { effort: Effort { steps, ..self.effort }, ..self }
    }

    fn transcript(
        &mut self,
        clip: &Clip,
        language: &Language,
    ) -> Result<KeptTranscript, MeasureError> {
        let key = Kept::key(&self.weights, self.effort.steps, clip.samples(), language);
        if let Some(known) = self.kept.as_ref().and_then(|kept| kept.get(key)) {
            return Ok(known.clone());
        }
        let begun = Instant::now();
        let transcript = listen(&self.recogniser, clip, language, self.effort)
            .map_err(|e| MeasureError::Hearer(e.to_string()))?;
        let heard = KeptTranscript { key, transcript, seconds: begun.elapsed().as_secs_f64() };
        if let Some(kept) = &mut self.kept {
            kept.add(heard.clone())?;
        }
        Ok(heard)
    }
}

impl Hearer for Ours {
    fn hear(&mut self, clip: &[f32], situation: &Situation) -> Result<Answer, MeasureError> {
        let context = context(situation);
        let clip = Clip::new(clip.to_vec());
        let begun = Instant::now();
        let language = Language::new(&context);
        let made = begun.elapsed();
        let transcribed = self.transcript(&clip, &language)?;
        let begun = Instant::now();
        let heard = weigh(&transcribed.transcript, &Sound::of(&clip), &language);
        let took = made + Duration::from_secs_f64(transcribed.seconds) + begun.elapsed();
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
