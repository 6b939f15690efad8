//! Sealing a document as it is printed, and printing it again from what is attached to it.

use borespoke_core::record::Digest;
use sha2::{Digest as _, Sha256};

use super::code::Code;
use super::pdf::{self, Opened};
use super::record::{RECORD_FILE, Record};
use super::seal::{Print, SEAL_FILE, Seal, SealKey, Sealed};
use crate::data::{Attachment, HandoverData, Paper, PictureFile, PlugPicture, Relationship};
use crate::error::HandoverError;
use crate::press::{DESIGN, MADE_BY, printed, typeset_with_code};

/// The handover with its record and a seal attached, and the seal's code on the buyer's page. The
/// same data and key give the same bytes.
///
/// The pages are set, read back to learn their digests, and written again with the seal.
///
/// # Errors
/// As [`crate::typeset`].
pub fn typeset_sealed(
    data: &HandoverData,
    paper: Paper,
    record: &Record,
    key: &SealKey,
) -> Result<(Vec<u8>, Seal), HandoverError> {
    let code = Code::new(&key.public(), &record.head());
    let pictures = printed(data);
    let prints = pictures.iter().map(print_of).collect();
    let data = HandoverData { pictures, ..data.clone() };
    let json = record.to_json();
    // The seal of the first setting has nothing to say yet; its place is the same.
    let first = set(&data, paper, &code, json.clone(), b"{}\n".to_vec())?;
    let opened = pdf::read(&first).map_err(|fault| HandoverError::Typesetter(fault.to_string()))?;
    let seal = Seal::new(
        Sealed {
            made_by: MADE_BY.to_owned(),
            design: *DESIGN,
            paper,
            utc_offset_seconds: data.utc_offset.seconds(),
            lines: record.lines.len(),
            head: record.head(),
            pages: opened.pages.iter().map(|page| page.digest).collect(),
            document: opened.document,
            pictures: prints,
        },
        key,
    );
    let pdf = set(&data, paper, &code, json, seal.to_json())?;
    Ok((pdf, seal))
}

/// The document of this data with these attached files, as [`typeset_sealed`] would write it:
/// byte for byte the same when nothing was changed.
///
/// # Errors
/// As [`crate::typeset`].
pub fn reprint(
    data: &HandoverData,
    seal: &Seal,
    opened: &Opened,
) -> Result<Vec<u8>, HandoverError> {
    let file = |bytes: Option<&[u8]>| bytes.unwrap_or_default().to_vec();
    set(data, seal.paper, &seal.code(), file(opened.record()), file(opened.seal()))
}

/// The plug pictures of a document, as its seal names them and its pages show them. One that is
/// not in it any more is left out.
#[must_use]
pub fn printed_pictures(seal: &Seal, opened: &Opened) -> Vec<PlugPicture> {
    let picture = |print: &Print| {
        let file = match (&print.digest, &print.not_shown) {
            (Some(digest), _) => PictureFile::Printed(opened.pictures.get(digest)?.clone()),
            (None, Some(why)) => PictureFile::NotShown(why.clone()),
            (None, None) => return None,
        };
        let cylinder = print.cylinder;
        Some(PlugPicture { cylinder, name: format!("plug {cylinder}"), file })
    };
    seal.pictures.iter().filter_map(picture).collect()
}

fn print_of(picture: &PlugPicture) -> Print {
    let (digest, not_shown) = match &picture.file {
        PictureFile::Printed(bytes) | PictureFile::AsTaken(bytes) => {
            (Some(Digest::from_bytes(Sha256::digest(bytes).into())), None)
        }
        PictureFile::NotShown(why) => (None, Some(why.clone())),
    };
    Print { cylinder: picture.cylinder, digest, not_shown }
}

fn set(
    data: &HandoverData,
    paper: Paper,
    code: &Code,
    record: Vec<u8>,
    seal: Vec<u8>,
) -> Result<Vec<u8>, HandoverError> {
    let attachment = |name: &str, description: &str, relationship, bytes| Attachment {
        name: name.to_owned(),
        mime: "application/json".to_owned(),
        description: description.to_owned(),
        relationship,
        bytes,
    };
    let mut data = data.clone();
    data.attachments = vec![
        attachment(RECORD_FILE, "Every entry of the job", Relationship::Data, record),
        attachment(SEAL_FILE, "The workshop's signature", Relationship::Supplement, seal),
    ];
    typeset_with_code(&data, paper, Some(code))
}
