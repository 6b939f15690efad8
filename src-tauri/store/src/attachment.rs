//! Voice clips and pictures, known by the SHA-256 of their content.

use std::borrow::Cow;
use std::fmt;
use std::io::{self, ErrorKind, Read, Write};

use borespoke_core::record::Digest;
use rusqlite::{Connection, OptionalExtension};
use sha2::{Digest as _, Sha256};

use crate::Workshop;
use crate::error::{Refusal, StoreError, Trouble};

/// How much of a clip or a picture is in memory at once, in bytes.
const PIECE: usize = 256 * 1024;

/// What kind of content an attachment has: an IANA media type (RFC 6838) such as "audio/wav".
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct MediaType(Cow<'static, str>);

impl MediaType {
    /// A voice clip as WAV.
    pub const WAV: Self = Self(Cow::Borrowed("audio/wav"));
    /// A JPEG picture.
    pub const JPEG: Self = Self(Cow::Borrowed("image/jpeg"));
    /// A PNG picture.
    pub const PNG: Self = Self(Cow::Borrowed("image/png"));
    /// A HEIC picture.
    pub const HEIC: Self = Self(Cow::Borrowed("image/heic"));

    /// The type, as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for MediaType {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The SHA-256 of everything the reader gives, and how many bytes that is.
///
/// # Errors
/// What the reader says.
pub fn digest_of(mut content: impl Read) -> io::Result<(Digest, u64)> {
    let mut hasher = Sha256::new();
    let mut piece = vec![0; PIECE];
    let mut length = 0;
    loop {
        let read = read_piece(&mut content, &mut piece)?;
        hasher.update(&piece[..read]);
        length += read as u64;
        if read < PIECE {
            return Ok((digest(hasher), length));
        }
    }
}

/// The SHA-256 of these bytes.
#[must_use]
pub fn digest_of_bytes(content: &[u8]) -> Digest {
    digest(Sha256::new_with_prefix(content))
}

fn digest(hasher: Sha256) -> Digest {
    Digest::from_bytes(hasher.finalize().into())
}

/// Fills the piece as far as the reader goes.
fn read_piece(content: &mut impl Read, piece: &mut [u8]) -> io::Result<usize> {
    let mut filled = 0;
    while filled < piece.len() {
        match content.read(&mut piece[filled..]) {
            Ok(0) => break,
            Ok(read) => filled += read,
            Err(error) if error.kind() == ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
    Ok(filled)
}

/// A clip or a picture to be stored with an entry.
pub struct NewAttachment<'a> {
    digest: Digest,
    media_type: MediaType,
    content: Box<dyn Read + 'a>,
}

impl<'a> NewAttachment<'a> {
    /// One that is in memory.
    #[must_use]
    pub fn from_bytes(media_type: MediaType, content: &'a [u8]) -> Self {
        Self { digest: digest_of_bytes(content), media_type, content: Box::new(content) }
    }

    /// One that is read while it is stored. `digest` is what [`digest_of`] gave; the content is
    /// refused when it turns out to have another.
    #[must_use]
    pub fn from_reader(digest: Digest, media_type: MediaType, content: impl Read + 'a) -> Self {
        Self { digest, media_type, content: Box::new(content) }
    }

    /// The SHA-256 it is known by.
    #[must_use]
    pub const fn digest(&self) -> Digest {
        self.digest
    }

    /// Stores it unless it is there, and gives its key. Must be inside a transaction: an error
    /// leaves pieces behind.
    pub(crate) fn store(mut self, connection: &Connection) -> Result<i64, Trouble> {
        if let Some(key) = key_of(connection, self.digest)? {
            return Ok(key);
        }
        let key: i64 = connection
            .prepare_cached("SELECT coalesce(max(key), 0) + 1 FROM attachment")?
            .query_one([], |row| row.get(0))?;
        let mut insert = connection.prepare_cached(
            "INSERT INTO attachment_piece (attachment, place, content) VALUES (?1, ?2, ?3)",
        )?;
        let mut hasher = Sha256::new();
        let mut piece = vec![0; PIECE];
        let mut length = 0_u64;
        for place in 0_i64.. {
            let read = read_piece(&mut self.content, &mut piece)
                .map_err(|cause| Refusal::Unreadable { digest: self.digest, cause })?;
            if read > 0 {
                hasher.update(&piece[..read]);
                insert.execute((key, place, &piece[..read]))?;
                length += read as u64;
            }
            if read < PIECE {
                break;
            }
        }
        let found = digest(hasher);
        if found != self.digest {
            return Err(Refusal::WrongDigest { given: self.digest, found }.into());
        }
        connection
            .prepare_cached(
                "INSERT INTO attachment (key, digest, media_type, length) VALUES (?1, ?2, ?3, ?4)",
            )?
            .execute((key, found.as_bytes(), self.media_type.as_str(), length))?;
        Ok(key)
    }
}

impl fmt::Debug for NewAttachment<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("NewAttachment")
            .field("digest", &self.digest)
            .field("media_type", &self.media_type)
            .finish_non_exhaustive()
    }
}

/// The key of the attachment with this digest, if it is stored.
pub(crate) fn key_of(connection: &Connection, digest: Digest) -> rusqlite::Result<Option<i64>> {
    connection
        .prepare_cached("SELECT key FROM attachment WHERE digest = ?1")?
        .query_one([digest.as_bytes()], |row| row.get(0))
        .optional()
}

/// A stored clip or picture.
///
/// Reading it (it is a [`Read`]) gives the content piece by piece; the end is reached only when all
/// of it has the digest it is known by, else reading fails with [`ErrorKind::InvalidData`].
#[derive(Debug)]
pub struct StoredAttachment<'w> {
    workshop: &'w Workshop,
    key: i64,
    digest: Digest,
    media_type: MediaType,
    length: u64,
    hasher: Sha256,
    next_place: i64,
    piece: Vec<u8>,
    given: usize,
}

impl Workshop {
    /// The clip or picture with this digest.
    ///
    /// # Errors
    /// [`Refusal::NoSuchAttachment`], or [`crate::FileError`].
    pub fn attachment(&self, digest: Digest) -> Result<StoredAttachment<'_>, StoreError> {
        let row: Option<(i64, String, u64)> = self
            .connection
            .prepare_cached("SELECT key, media_type, length FROM attachment WHERE digest = ?1")
            .and_then(|mut query| {
                query
                    .query_one([digest.as_bytes()], |row| {
                        Ok((row.get(0)?, row.get(1)?, row.get(2)?))
                    })
                    .optional()
            })
            .map_err(|error| self.told(error))?;
        let (key, media_type, length) = row.ok_or(Refusal::NoSuchAttachment(digest))?;
        Ok(StoredAttachment {
            workshop: self,
            key,
            digest,
            media_type: MediaType(Cow::Owned(media_type)),
            length,
            hasher: Sha256::new(),
            next_place: 0,
            piece: Vec::new(),
            given: 0,
        })
    }
}

impl StoredAttachment<'_> {
    /// The SHA-256 it is known by.
    #[must_use]
    pub const fn digest(&self) -> Digest {
        self.digest
    }

    /// What kind of content it has.
    #[must_use]
    pub const fn media_type(&self) -> &MediaType {
        &self.media_type
    }

    /// How many bytes it has.
    #[must_use]
    pub const fn length(&self) -> u64 {
        self.length
    }

    /// All of it, verified.
    ///
    /// # Errors
    /// [`crate::FileProblem::Corrupt`] when it is not what the digest says.
    pub fn into_bytes(mut self) -> Result<Vec<u8>, StoreError> {
        let mut content = Vec::new();
        while self.next_piece().map_err(|trouble| self.workshop.told(trouble))? {
            content.extend_from_slice(&self.piece);
        }
        Ok(content)
    }

    /// Hands it on piece by piece, without holding all of it. What was handed on is good only when
    /// this returns.
    ///
    /// # Errors
    /// [`crate::FileProblem::Corrupt`] when it is not what the digest says,
    /// [`Refusal::NotHandedOn`] when the writer fails.
    pub fn hand_on(mut self, to: &mut impl Write) -> Result<(), StoreError> {
        while self.next_piece().map_err(|trouble| self.workshop.told(trouble))? {
            to.write_all(&self.piece)
                .map_err(|cause| Refusal::NotHandedOn { digest: self.digest, cause })?;
        }
        Ok(())
    }

    /// Fetches the next piece, or verifies the whole when there is none.
    fn next_piece(&mut self) -> Result<bool, Trouble> {
        let mut query = self.workshop.connection.prepare_cached(
            "SELECT content FROM attachment_piece WHERE attachment = ?1 AND place = ?2",
        )?;
        let piece = query
            .query_one((self.key, self.next_place), |row| {
                self.piece.clear();
                self.piece.extend_from_slice(row.get_ref(0)?.as_blob()?);
                Ok(())
            })
            .optional()?;
        self.given = 0;
        if piece.is_some() {
            self.hasher.update(&self.piece);
            self.next_place += 1;
            return Ok(true);
        }
        self.piece.clear();
        let found = digest(self.hasher.clone());
        if found == self.digest {
            Ok(false)
        } else {
            Err(Trouble::corrupt(format!(
                "the content of clip or picture {} has the SHA-256 {found}",
                self.digest
            )))
        }
    }
}

impl Read for StoredAttachment<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if buffer.is_empty() {
            return Ok(0);
        }
        if self.given == self.piece.len()
            && !self.next_piece().map_err(|trouble| {
                io::Error::new(ErrorKind::InvalidData, self.workshop.told(trouble))
            })?
        {
            return Ok(0);
        }
        let count = buffer.len().min(self.piece.len() - self.given);
        buffer[..count].copy_from_slice(&self.piece[self.given..self.given + count]);
        self.given += count;
        Ok(count)
    }
}
