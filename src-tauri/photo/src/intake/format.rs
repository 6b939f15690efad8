//! Which format a file is in, from its first bytes.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::error::PictureError;
use super::limits;

/// A format that is read here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "UPPERCASE")]
pub enum Format {
    /// ISO/IEC 10918.
    Jpeg,
    /// ISO/IEC 15948.
    Png,
    /// HEVC pictures (ISO/IEC 23008-12).
    Heic,
}

impl Format {
    /// Tells by the signature; the file's name plays no part.
    pub(crate) fn of(bytes: &[u8]) -> Result<Self, PictureError> {
        if bytes.is_empty() {
            return Err(PictureError::Empty);
        }
        if bytes.len() > limits::MOST_BYTES {
            return Err(PictureError::FileTooLarge { given: bytes.len() });
        }
        if bytes.starts_with(&[0xff, 0xd8, 0xff]) {
            Ok(Self::Jpeg)
        } else if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            Ok(Self::Png)
        } else {
            match heifer::check_file_type(bytes) {
                heifer::FileTypeResult::Supported => Ok(Self::Heic),
                // Too short to tell also answers "may be".
                heifer::FileTypeResult::MayBe if bytes.len() >= 12 => Ok(Self::Heic),
                heifer::FileTypeResult::Unsupported => Err(PictureError::NotReadHere {
                    format: Self::Heic,
                    detail: "not coded with HEVC".to_owned(),
                }),
                _ => Err(PictureError::NotAPicture),
            }
        }
    }
}

impl fmt::Display for Format {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Jpeg => "JPEG",
            Self::Png => "PNG",
            Self::Heic => "HEIC",
        })
    }
}
