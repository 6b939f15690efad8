//! A source for tests: gives what it was told to.

use std::collections::VecDeque;

use super::{End, Piece, Source};

/// Gives pieces in order, then [`End::Finished`] or the end that was among them.
#[derive(Debug, Clone, Default)]
pub struct Feed {
    pieces: VecDeque<Piece>,
}

impl Feed {
    /// A feed of these pieces.
    #[must_use]
    pub fn new(pieces: impl IntoIterator<Item = Piece>) -> Self {
        Self { pieces: pieces.into_iter().collect() }
    }

    /// A feed of sound in pieces of `size` samples (at least one), and then this end.
    #[must_use]
    pub fn of(sound: &[f32], size: usize, end: End) -> Self {
        let pieces = sound.chunks(size.max(1)).map(|piece| Piece::Sound(piece.to_vec()));
        Self::new(pieces.chain([Piece::Ended(end)]))
    }
}

impl Source for Feed {
    fn next_piece(&mut self) -> Piece {
        match self.pieces.front() {
            Some(end @ Piece::Ended(_)) => end.clone(),
            Some(_) => self.pieces.pop_front().unwrap_or(Piece::Nothing),
            None => Piece::Ended(End::Finished),
        }
    }
}
