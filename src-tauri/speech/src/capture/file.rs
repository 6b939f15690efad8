//! A clip as a source.

use super::{End, Piece, Source};
use crate::sound::Clip;

/// Gives a clip in pieces of 100 ms, as fast as it is asked.
#[derive(Debug, Clone)]
pub struct FileSource {
    clip: Clip,
    at: usize,
}

impl FileSource {
    /// Of this clip.
    #[must_use]
    pub const fn new(clip: Clip) -> Self {
        Self { clip, at: 0 }
    }
}

impl Source for FileSource {
    fn next_piece(&mut self) -> Piece {
        let rest = &self.clip.samples()[self.at..];
        if rest.is_empty() {
            return Piece::Ended(End::Finished);
        }
        let piece = &rest[..rest.len().min(Clip::RATE as usize / 10)];
        self.at += piece.len();
        Piece::Sound(piece.to_vec())
    }
}
