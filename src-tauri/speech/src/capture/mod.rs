//! Where sound comes from: a file, a microphone, or a test.
//!
//! All three are a [`Source`], so that what listens does not know which it is. [`Listener`] joins a
//! source with the endpointer: utterances come out, and when the source ends in the middle of a
//! word, what was heard of it comes out first.

mod feed;
mod file;
mod listener;
#[cfg(feature = "microphone")]
mod microphone;
mod rate;

use thiserror::Error;

pub use feed::Feed;
pub use file::FileSource;
pub use listener::{Listener, Step};
#[cfg(feature = "microphone")]
pub use microphone::Microphone;
pub use rate::To16k;

/// What a source gives when it is asked.
#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    /// Sound at 16 kHz, one channel.
    Sound(Vec<f32>),
    /// Nothing came within the time a source waits, a tenth of a second or so. Ask again.
    Nothing,
    /// Some sound was lost: nobody asked for it in time. What comes next does not follow on.
    Lost,
    /// No more will come.
    Ended(End),
}

/// Why a source ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum End {
    /// It was all.
    Finished,
    /// It failed.
    Failed(CaptureError),
}

/// Something that gives sound.
pub trait Source {
    /// The next piece. Waits for it, but not for long. After [`Piece::Ended`] it goes on to say so.
    fn next_piece(&mut self) -> Piece;
}

/// Why there is no sound.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum CaptureError {
    /// No microphone, or no sound system.
    #[error("no microphone was found")]
    Missing,
    /// The system does not let us.
    #[error("the microphone may not be used: the system denies it")]
    Denied,
    /// Another program has it.
    #[error("the microphone is in use by another program")]
    Busy,
    /// It was there and is gone.
    #[error("the microphone was unplugged or switched off")]
    Unplugged,
    /// It gives sound in a form that is not read here.
    #[error("the microphone gives {given}, which cannot be read")]
    Unsupported {
        /// What it gives.
        given: String,
    },
    /// Anything else the system says.
    #[error("the microphone failed: {0}")]
    System(String),
}

impl CaptureError {
    /// What can be done about it.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::Missing => "plug a microphone in, or type the readings",
            Self::Denied => "allow the microphone for this app in the system's settings",
            Self::Busy => "close the other program that listens, then try again",
            Self::Unplugged => "plug it in again; everything said up to then was heard and is kept",
            Self::Unsupported { .. } => "choose another microphone in the system's settings",
            Self::System(_) => "try again; if it stays so, restart the phone or type the readings",
        }
    }
}
