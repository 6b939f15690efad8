//! The corpus: who says what, how, and how it comes to the phone.

use std::path::{Path, PathBuf};

use rand::RngExt;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::clip::{self, ClipError};
use crate::noise::Noise;
use crate::phrase::{Act, say};
use crate::room::Room;
use crate::seed::stream;
use crate::situation::Situation;
use crate::truth::Entry;
use crate::voice::{self, Delivery, Half, VOICES, Voice, VoiceError};

/// The seed of the committed manifest.
pub const SEED: u64 = 1_853;

/// One utterance. Sound is made of it when it is asked for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Utterance {
    /// Its name, such as "cranking-0042".
    pub id: String,
    /// What it is for.
    pub act: Act,
    /// For fitting or for measuring.
    pub half: Half,
    /// Who says it.
    pub voice: String,
    /// Speed, 1 is the voice's own.
    pub speed: f32,
    /// Pitch, 1 is the voice's own.
    pub pitch: f32,
    /// Level of the speech, decibels below full scale.
    pub level_db: f32,
    /// The words.
    pub words: String,
    /// The state of the job.
    pub situation: Situation,
    /// What must be heard.
    pub heard: Vec<Entry>,
}

/// How an utterance comes to the phone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Condition {
    /// The speech's level above the noise, decibels. `None`: no noise.
    pub snr_db: Option<f32>,
    /// In a room, or close by.
    pub in_a_room: bool,
}

impl Condition {
    /// The conditions of the benchmark's table.
    pub const ALL: [Self; 7] = [
        Self { snr_db: None, in_a_room: false },
        Self { snr_db: Some(20.0), in_a_room: false },
        Self { snr_db: Some(10.0), in_a_room: false },
        Self { snr_db: Some(5.0), in_a_room: false },
        Self { snr_db: Some(0.0), in_a_room: false },
        Self { snr_db: None, in_a_room: true },
        Self { snr_db: Some(10.0), in_a_room: true },
    ];

    /// The name in tables.
    #[must_use]
    pub fn name(self) -> String {
        let noise = self.snr_db.map_or_else(|| "clean".to_owned(), |snr| format!("{snr:.0} dB"));
        if self.in_a_room { format!("{noise}, room") } else { noise }
    }
}

/// Why the corpus could not be made.
#[derive(Debug, Error)]
pub enum CorpusError {
    /// A synthesiser is missing or failed.
    #[error(transparent)]
    Voice(#[from] VoiceError),
    /// A clip could not be written.
    #[error(transparent)]
    Clip(#[from] ClipError),
    /// A folder could not be made.
    #[error("clip cache {path}: {source}")]
    Cache {
        /// The folder.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
}

/// All utterances of a seed.
#[must_use]
pub fn utterances(seed: u64) -> Vec<Utterance> {
    let mut all = Vec::new();
    for (act, count) in Act::COUNTS {
        for i in 0..count {
            let id = format!("{}-{i:04}", act.name());
            let mut random = stream(seed, &id);
            let phrase = say(act, &mut random);
            // Every voice says as much as any other.
            let voice = VOICES[all.len() % VOICES.len()];
            let rounded = |value: f32| (value * 100.0).round() / 100.0;
            all.push(Utterance {
                id,
                act,
                half: voice.half,
                voice: voice.name.to_owned(),
                speed: rounded(random.random_range(0.85..1.25)),
                pitch: rounded(random.random_range(0.85..1.2)),
                level_db: rounded(random.random_range(-32.0..-18.0)),
                words: phrase.words,
                situation: phrase.situation,
                heard: phrase.heard,
            });
        }
    }
    all
}

/// The manifest: one utterance a line.
///
/// # Panics
/// Never: an utterance is plain data.
#[must_use]
pub fn manifest(utterances: &[Utterance]) -> String {
    utterances
        .iter()
        .map(|utterance| serde_json::to_string(utterance).expect("plain data") + "\n")
        .collect()
}

/// Makes sound of utterances. What was said once is kept in a folder.
#[derive(Debug)]
pub struct Studio {
    cache: PathBuf,
    scratch: tempfile::TempDir,
    seed: u64,
    talk: Vec<(Half, Vec<Vec<f32>>)>,
}

impl Studio {
    /// A studio that keeps its clips in `cache`.
    ///
    /// # Errors
    /// [`CorpusError`] when the folder cannot be made or the background talk cannot be said.
    pub fn open(cache: &Path, seed: u64) -> Result<Self, CorpusError> {
        let failed = |source| CorpusError::Cache { path: cache.to_owned(), source };
        std::fs::create_dir_all(cache).map_err(failed)?;
        let mut studio = Self {
            cache: cache.to_owned(),
            scratch: tempfile::tempdir().map_err(failed)?,
            seed,
            talk: Vec::new(),
        };
        for half in [Half::Tune, Half::Check] {
            let talk = studio.background_talk(half)?;
            studio.talk.push((half, talk));
        }
        Ok(studio)
    }

    /// The radio of a half is spoken by the voices of that half.
    fn background_talk(&self, half: Half) -> Result<Vec<Vec<f32>>, CorpusError> {
        const LINES: [&str; 6] = [
            "And now the weather for the valley, with some rain in the afternoon.",
            "You are listening to the lunch hour, stay with us for more music.",
            "Traffic is slow on the ring road this morning, so leave a little earlier.",
            "Call now and get the second pair for half the price.",
            "He scored twice in the second half, and that was the end of it.",
            "The council will vote on the new bridge before the end of the month.",
        ];
        VOICES
            .into_iter()
            .filter(|voice| voice.half == half)
            .zip(LINES)
            .map(|(voice, line)| self.said(voice, line, Delivery::default()))
            .collect()
    }

    /// The bare speech.
    fn said(&self, voice: Voice, words: &str, delivery: Delivery) -> Result<Vec<f32>, CorpusError> {
        let key = format!("{}|{}|{}|{words}", voice.name, delivery.speed, delivery.pitch);
        let mut name = stream(0, &key);
        let file = self.cache.join(format!("{:016x}.wav", name.random_range(0..=u64::MAX)));
        if file.exists() {
            return Ok(clip::read(&file)?);
        }
        let samples = voice.say(words, delivery, self.scratch.path())?;
        // Under another name first: a run that is stopped here leaves no half a clip behind.
        let unfinished = self.scratch.path().join("unfinished.wav");
        clip::write(&unfinished, &samples)?;
        std::fs::copy(&unfinished, file.with_extension("part"))
            .and_then(|_| std::fs::rename(file.with_extension("part"), &file))
            .map_err(|source| CorpusError::Cache { path: file.clone(), source })?;
        Ok(clip::read(&file)?)
    }

    /// The utterance as the phone gets it, and the noise that was put in.
    ///
    /// # Errors
    /// [`CorpusError`] when it cannot be spoken.
    pub fn render(
        &self,
        utterance: &Utterance,
        condition: Condition,
    ) -> Result<(Vec<f32>, Option<Noise>), CorpusError> {
        let voice = voice::named(&utterance.voice)?;
        let delivery = Delivery { speed: utterance.speed, pitch: utterance.pitch };
        let said = self.said(voice, &utterance.words, delivery)?;
        let mut random = stream(self.seed, &format!("{}|{}", utterance.id, condition.name()));
        let mut sound =
            clip::padded(&said, random.random_range(0.15..0.4), random.random_range(0.25..0.5));
        if condition.in_a_room {
            let length = sound.len();
            sound = Room::any(&mut random).hear(&sound, &mut random);
            sound.truncate(length + clip::samples_in(0.2));
        }
        let level = clip::speech_level(&sound);
        if level > 0.0 {
            clip::scale(&mut sound, clip::from_db(utterance.level_db) / level);
        }
        let noise = condition.snr_db.map(|snr| {
            let kind = Noise::ALL[random.random_range(0..Noise::ALL.len())];
            let talk = self.talk.iter().find(|(half, _)| *half == utterance.half);
            let talk = talk.map_or(&[][..], |(_, talk)| talk.as_slice());
            let noise = kind.make(sound.len(), talk, &mut random);
            clip::add_noise(&mut sound, &noise, snr);
            kind
        });
        clip::keep_from_clipping(&mut sound);
        Ok((sound, noise))
    }
}

/// At most `count` utterances of a half, spread over acts and voices, the same for a seed.
#[must_use]
pub fn sample(all: &[Utterance], half: Half, count: usize, seed: u64) -> Vec<&Utterance> {
    let mut chosen: Vec<(u64, &Utterance)> = all
        .iter()
        .filter(|utterance| utterance.half == half)
        .map(|utterance| {
            (
                stream(seed, &format!("sample {}", utterance.id)).random_range(0..=u64::MAX),
                utterance,
            )
        })
        .collect();
    chosen.sort_by_key(|(key, _)| *key);
    chosen.into_iter().take(count).map(|(_, utterance)| utterance).collect()
}

/// The few clips that are committed, so that a change of a synthesiser is noticed: each voice once,
/// the conditions in turn.
#[must_use]
pub fn subset(all: &[Utterance]) -> Vec<(&Utterance, Condition)> {
    VOICES
        .iter()
        .zip(Condition::ALL.into_iter().cycle())
        .filter_map(|(voice, condition)| {
            let short = |u: &&Utterance| u.voice == voice.name && u.words.len() < 40;
            all.iter().filter(short).nth(10).map(|utterance| (utterance, condition))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;

    use super::*;

    #[test]
    fn there_is_enough_of_everything() {
        let all = utterances(SEED);
        assert!(all.len() >= 2_000, "{}", all.len());
        let talk = all.iter().filter(|u| matches!(u.act, Act::Remark | Act::SmallTalk)).count();
        assert!(talk >= 300, "{talk}");
        let mut by_voice: HashMap<&str, usize> = HashMap::new();
        for utterance in &all {
            *by_voice.entry(&utterance.voice).or_default() += 1;
        }
        assert!(by_voice.len() >= 8);
        assert!(by_voice.values().all(|&count| count >= 150), "{by_voice:?}");
    }

    #[test]
    fn each_half_has_every_act() {
        let all = utterances(SEED);
        for half in [Half::Tune, Half::Check] {
            for (act, _) in Act::COUNTS {
                assert!(all.iter().any(|u| u.half == half && u.act == act), "{half:?} {act:?}");
            }
        }
    }

    #[test]
    fn the_manifest_reads_back() {
        let all = utterances(SEED);
        let back: Vec<Utterance> =
            manifest(&all).lines().map(|line| serde_json::from_str(line).unwrap()).collect();
        assert_eq!(back, all);
    }

    #[test]
    fn a_clip_is_made_the_same_again() {
        let folder = tempfile::tempdir().unwrap();
        let all = utterances(SEED);
        let noisy = Condition { snr_db: Some(5.0), in_a_room: true };
        let first = Studio::open(folder.path(), SEED).unwrap().render(&all[0], noisy).unwrap();
        let again = Studio::open(folder.path(), SEED).unwrap().render(&all[0], noisy).unwrap();
        assert_eq!(first, again);
    }
}
