//! The synthetic speakers.

use std::path::Path;
use std::process::Command;

use thiserror::Error;

use crate::clip::{self, ClipError};

/// A speaker.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Voice {
    /// What it is called in manifests.
    pub name: &'static str,
    synthesiser: Synthesiser,
    /// Which half of the corpus it speaks.
    pub half: Half,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Synthesiser {
    Espeak(&'static str),
    Flite(&'static str),
}

/// What a voice may be used for: settings are fitted on one half and measured on the other.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum Half {
    /// For fitting.
    Tune,
    /// For measuring.
    Check,
}

const fn espeak(name: &'static str, voice: &'static str, half: Half) -> Voice {
    Voice { name, synthesiser: Synthesiser::Espeak(voice), half }
}

const fn flite(name: &'static str, half: Half) -> Voice {
    Voice { name, synthesiser: Synthesiser::Flite(name), half }
}

/// Every speaker. No accent and no variant stands in both halves. The other voices of `flite` are
/// left out on purpose: they are kept apart, to judge with voices nobody here has fitted to.
pub const VOICES: [Voice; 14] = [
    espeak("american-m3", "en-us+m3", Half::Tune),
    espeak("british-f2", "en-gb+f2", Half::Tune),
    espeak("scottish-m7", "en-gb-scotland+m7", Half::Tune),
    espeak("caribbean-m1", "en-029+m1", Half::Tune),
    espeak("new-york-klatt2", "en-us-nyc+klatt2", Half::Tune),
    espeak("american-annie", "en-us+Annie", Half::Tune),
    espeak("british-edward", "en-gb+edward", Half::Tune),
    flite("kal16", Half::Tune),
    espeak("lancaster-m4", "en-gb-x-gbclan+m4", Half::Check),
    espeak("midlands-f3", "en-gb-x-gbcwmd+f3", Half::Check),
    espeak("received-f4", "en-gb-x-rp+f4", Half::Check),
    espeak("american-michael", "en-us+Michael", Half::Check),
    espeak("british-klatt4", "en-gb+klatt4", Half::Check),
    flite("slt", Half::Check),
];

/// How it is said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Delivery {
    /// Speed: 1 is the synthesiser's own at about 160 words a minute.
    pub speed: f32,
    /// Pitch: 1 is the synthesiser's own.
    pub pitch: f32,
}

impl Default for Delivery {
    fn default() -> Self {
        Self { speed: 1.0, pitch: 1.0 }
    }
}

/// Why nothing was said.
#[derive(Debug, Error)]
pub enum VoiceError {
    /// No such speaker.
    #[error("voice: given \"{given}\", allowed are {}", names())]
    Unknown {
        /// The name that was given.
        given: String,
    },
    /// The synthesiser is not on this machine.
    #[error("voice: cannot run {program}: {source}; install it with: apt-get install {program}")]
    Missing {
        /// Which program.
        program: &'static str,
        /// What the system says.
        source: std::io::Error,
    },
    /// The synthesiser failed.
    #[error("voice: {program} failed on \"{words}\": {message}")]
    Failed {
        /// Which program.
        program: &'static str,
        /// What it should have said.
        words: String,
        /// What it printed.
        message: String,
    },
    /// What it made cannot be read.
    #[error(transparent)]
    Clip(#[from] ClipError),
}

fn names() -> String {
    VOICES.map(|voice| voice.name).join(", ")
}

/// The speaker of this name.
///
/// # Errors
/// [`VoiceError::Unknown`].
pub fn named(name: &str) -> Result<Voice, VoiceError> {
    VOICES
        .into_iter()
        .find(|voice| voice.name == name)
        .ok_or_else(|| VoiceError::Unknown { given: name.to_owned() })
}

impl Voice {
    /// Says the words, without silence around them. `scratch` is a folder for one file of this
    /// call; calls at the same time need folders of their own.
    ///
    /// # Errors
    /// [`VoiceError`] when the synthesiser is missing or fails.
    pub fn say(
        self,
        words: &str,
        delivery: Delivery,
        scratch: &Path,
    ) -> Result<Vec<f32>, VoiceError> {
        let file = scratch.join("said.wav");
        let text = spelt_for_speaking(words);
        let (program, mut command) = match self.synthesiser {
            Synthesiser::Espeak(voice) => {
                let mut command = Command::new("espeak-ng");
                command
                    .args(["-v", voice])
                    .args(["-s", &format!("{:.0}", 160.0 * delivery.speed)])
                    .args(["-p", &format!("{:.0}", (50.0 * delivery.pitch).clamp(0.0, 99.0))])
                    .arg("-w")
                    .arg(&file)
                    .arg("--")
                    .arg(&text);
                ("espeak-ng", command)
            }
            Synthesiser::Flite(voice) => {
                let mut command = Command::new("flite");
                let stretch = format!("duration_stretch={:.3}", 1.0 / delivery.speed);
                command.args(["-voice", voice, "--setf", &stretch]);
                if voice == "kal16" {
                    // 95 Hz is what this voice speaks at when left alone.
                    let pitch = format!("int_f0_target_mean={:.1}", 95.0 * delivery.pitch);
                    command.args(["--setf", &pitch]);
                }
                command.args(["-t", &text]).arg("-o").arg(&file);
                ("flite", command)
            }
        };
        let output = command.output().map_err(|source| VoiceError::Missing { program, source })?;
        if !output.status.success() {
            return Err(VoiceError::Failed {
                program,
                words: words.to_owned(),
                message: String::from_utf8_lossy(&output.stderr).trim().to_owned(),
            });
        }
        let mut samples = clip::read(&file)?;
        clip::trim(&mut samples);
        if samples.is_empty() {
            let message = "it made no sound".to_owned();
            return Err(VoiceError::Failed { program, words: words.to_owned(), message });
        }
        Ok(samples)
    }
}

/// Synthesisers say "psi" as a Greek letter; a mechanic spells it.
fn spelt_for_speaking(words: &str) -> String {
    words
        .split(' ')
        .map(|word| {
            let bare = word.trim_end_matches(['.', ',', '?', '!', ':']);
            let end = &word[bare.len()..];
            match bare {
                "psi" => format!("P S I{end}"),
                "kPa" => format!("kilopascals{end}"),
                "TDC" => format!("T D C{end}"),
                _ => word.to_owned(),
            }
        })
        .collect::<Vec<_>>()
        .join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_spelt_and_nothing_else_is_touched() {
        assert_eq!(
            spelt_for_speaking("Three, one oh five psi, dry."),
            "Three, one oh five P S I, dry."
        );
        assert_eq!(spelt_for_speaking("a capsicum"), "a capsicum");
    }

    #[test]
    fn the_halves_share_no_accent_with_its_variant() {
        let of = |half| {
            VOICES.into_iter().filter(move |v| v.half == half).filter_map(|v| match v.synthesiser {
                Synthesiser::Espeak(voice) => voice.split_once('+'),
                Synthesiser::Flite(_) => None,
            })
        };
        for (accent, variant) in of(Half::Tune) {
            for (other_accent, other_variant) in of(Half::Check) {
                assert_ne!(variant, other_variant);
                assert_ne!((accent, variant), (other_accent, other_variant));
            }
        }
    }

    #[test]
    fn an_unknown_voice_is_named() {
        let refusal = named("bob").unwrap_err().to_string();
        assert!(
            refusal.starts_with("voice: given \"bob\", allowed are american-m3, "),
            "{refusal}"
        );
    }

    #[test]
    fn every_voice_speaks() {
        let scratch = tempfile::tempdir().unwrap();
        for voice in VOICES {
            let said = voice.say("One forty psi.", Delivery::default(), scratch.path()).unwrap();
            let seconds = said.len() as f32 / clip::RATE as f32;
            assert!((0.5..4.0).contains(&seconds), "{}: {seconds} s", voice.name);
        }
    }
}
