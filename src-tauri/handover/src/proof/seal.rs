//! The seal: a workshop's signature under the end of the chain and every page.

use borespoke_core::engine::Cylinder;
use borespoke_core::record::Digest;
use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use thiserror::Error;

use super::canonical;
use super::code::{Code, grouped};
use super::record::Salt;
use crate::data::Paper;
use crate::press::DESIGN;

/// The name of the attached seal.
pub const SEAL_FILE: &str = "seal.json";
const FORMAT: &str = "borespoke seal";
const VERSION: u32 = 1;
const PURPOSE: &str = "borespoke seal 1";

/// A workshop's key, which seals (Ed25519, RFC 8032).
pub struct SealKey(SigningKey);

impl SealKey {
    /// From its 32 secret bytes.
    #[must_use]
    pub fn from_secret(secret: &[u8; 32]) -> Self {
        Self(SigningKey::from_bytes(secret))
    }

    /// The public half.
    #[must_use]
    pub fn public(&self) -> Digest {
        Digest::from_bytes(self.0.verifying_key().to_bytes())
    }

    /// What makes withheld lines unguessable.
    #[must_use]
    pub fn salt(&self) -> Salt {
        let derived = canonical::digest("borespoke salt key 1", &[self.0.as_bytes()]);
        Salt::new(*derived.as_bytes())
    }

    fn sign(&self, message: &[u8]) -> [u8; 64] {
        self.0.sign(message).to_bytes()
    }
}

/// The fingerprint of a public key, as people compare it: 16 characters in fours.
#[must_use]
pub fn fingerprint(key: &Digest) -> String {
    let digest = canonical::digest("borespoke key 1", &[key.as_bytes()]);
    grouped(&digest.as_bytes()[..10])
}

/// A plug picture as it is printed in the document.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Print {
    /// The cylinder.
    pub cylinder: Cylinder,
    /// SHA-256 of the JPEG in the document.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub digest: Option<Digest>,
    /// Why it is not shown, when it is not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_shown: Option<String>,
}

/// What is sealed, and the signature.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seal {
    format: String,
    version: u32,
    /// The program that set the pages.
    pub made_by: String,
    /// SHA-256 of the program's page design, so that another program of the same version number
    /// does not take its own pages for the right ones.
    pub design: Digest,
    /// The paper.
    pub paper: Paper,
    /// Seconds by which the clock of the printed times is ahead of UTC.
    pub utc_offset_seconds: i32,
    /// How many lines the record has.
    pub lines: usize,
    /// The last link of the record.
    pub head: Digest,
    /// SHA-256 of every page with all that is drawn on it.
    pub pages: Vec<Digest>,
    /// SHA-256 of the whole document but this file.
    pub document: Digest,
    /// The plug pictures in print.
    pub pictures: Vec<Print>,
    /// The public key.
    pub key: Digest,
    /// Ed25519 over the canonical JSON of all the above, in 128 hex digits.
    pub signature: String,
}

/// What is to be sealed.
pub(crate) struct Sealed {
    pub made_by: String,
    pub design: Digest,
    pub paper: Paper,
    pub utc_offset_seconds: i32,
    pub lines: usize,
    pub head: Digest,
    pub pages: Vec<Digest>,
    pub document: Digest,
    pub pictures: Vec<Print>,
}

/// Why a seal cannot be read or does not hold.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum SealError {
    /// Not JSON, or not of this shape.
    #[error("the seal cannot be read: {0}")]
    Shape(String),
    /// Another kind of file, or of a version not known here.
    #[error(
        "the seal says it is \"{format}\" version {version}, known is \"{FORMAT}\" version {VERSION}"
    )]
    Format {
        /// What it says it is.
        format: String,
        /// The version it says.
        version: u32,
    },
    /// The key is none.
    #[error("the seal's key is not an Ed25519 key")]
    Key,
    /// The signature is not of this key over this content.
    #[error("the signature is not of this key over what the seal says")]
    Signature,
}

impl Seal {
    pub(crate) fn new(sealed: Sealed, key: &SealKey) -> Self {
        let Sealed { made_by, design, paper, utc_offset_seconds, lines, head, .. } = sealed;
        let mut seal = Self {
            format: FORMAT.to_owned(),
            version: VERSION,
            made_by,
            design,
            paper,
            utc_offset_seconds,
            lines,
            head,
            pages: sealed.pages,
            document: sealed.document,
            pictures: sealed.pictures,
            key: key.public(),
            signature: String::new(),
        };
        seal.signature = hex::encode(key.sign(&seal.message()));
        seal
    }

    /// Reads a seal. Whether it holds, [`Seal::check`] says.
    ///
    /// # Errors
    /// [`SealError`] when it is not one.
    pub fn from_json(bytes: &[u8]) -> Result<Self, SealError> {
        let seal: Self =
            serde_json::from_slice(bytes).map_err(|fault| SealError::Shape(fault.to_string()))?;
        if seal.format != FORMAT || seal.version != VERSION {
            return Err(SealError::Format { format: seal.format, version: seal.version });
        }
        Ok(seal)
    }

    /// The seal as a JSON file.
    #[must_use]
    pub fn to_json(&self) -> Vec<u8> {
        let mut bytes = serde_json::to_vec_pretty(self).unwrap_or_default();
        bytes.push(b'\n');
        bytes
    }

    /// Whether the signature is the key's.
    ///
    /// # Errors
    /// [`SealError::Key`] or [`SealError::Signature`].
    pub fn check(&self) -> Result<(), SealError> {
        let key = VerifyingKey::from_bytes(self.key.as_bytes()).map_err(|_| SealError::Key)?;
        let mut signature = [0; 64];
        hex::decode_to_slice(&self.signature, &mut signature).map_err(|_| SealError::Signature)?;
        // Strict: refuses the weak keys and malleable signatures that plain verification lets by.
        key.verify_strict(&self.message(), &Signature::from_bytes(&signature))
            .map_err(|_| SealError::Signature)
    }

    /// Whether this program's pages look as those that were sealed.
    #[must_use]
    pub fn is_of_this_design(&self) -> bool {
        self.design == *DESIGN
    }

    /// The code on the buyer's page.
    #[must_use]
    pub fn code(&self) -> Code {
        Code::new(&self.key, &self.head)
    }

    fn message(&self) -> Vec<u8> {
        let mut value = serde_json::to_value(self).unwrap_or_default();
        if let Value::Object(fields) = &mut value {
            fields.remove("signature");
        }
        let mut message = format!("{PURPOSE}\n").into_bytes();
        message.extend(canonical::bytes(&value));
        message
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Outside check. Source: RFC 8032, section 7.1, test 2 (one byte, 0x72).
    #[test]
    fn the_signature_is_the_one_of_the_standard() {
        let secret = "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb";
        let public = "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c";
        let signature = "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da\
                         085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00";
        let mut bytes = [0; 32];
        hex::decode_to_slice(secret, &mut bytes).unwrap();
        let key = SealKey::from_secret(&bytes);
        assert_eq!(key.public().to_string(), public);
        assert_eq!(hex::encode(key.sign(&[0x72])), signature);
    }
}
