//! Sets the document and writes it as PDF.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use borespoke_core::record::{CylinderRow, Digest};
use jiff::Timestamp;
use rayon::prelude::*;
use serde_json::Value as Json;
use sha2::{Digest as _, Sha256};
use typst::diag::SourceDiagnostic;
use typst::foundations::{Bytes, Datetime, Dict, IntoValue, Smart, Str, Value};
use typst::text::Font;
use typst_as_lib::{TypstAsLibError, TypstEngine};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::data::{Attachment, HandoverData, Paper, PictureFile, PlugPicture, Relationship};
use crate::error::HandoverError;
use crate::picture;
use crate::proof::Code;
use crate::text;
use crate::view::{Shown, View};

/// The program, as it names itself in its documents.
pub(crate) const MADE_BY: &str = concat!("Borespoke ", env!("CARGO_PKG_VERSION"));

/// The template's files; the first is the document.
const TEMPLATE: [(&str, &str); 6] = [
    ("handover.typ", include_str!("../template/handover.typ")),
    ("look.typ", include_str!("../template/look.typ")),
    ("buyer.typ", include_str!("../template/buyer.typ")),
    ("chart.typ", include_str!("../template/chart.typ")),
    ("measured.typ", include_str!("../template/measured.typ")),
    ("reasons.typ", include_str!("../template/reasons.typ")),
];

/// The fonts; `fonts/README.md` says where they are from. The first that has a character is used.
const FONTS: [&[u8]; 5] = [
    include_bytes!("../fonts/Inter-Regular.otf"),
    include_bytes!("../fonts/Inter-Italic.otf"),
    include_bytes!("../fonts/Inter-SemiBold.otf"),
    include_bytes!("../fonts/Inter-Bold.otf"),
    include_bytes!("../fonts/DejaVuSans.ttf"),
];

/// Template and fonts, read once and used by every call.
struct Press {
    engine: TypstEngine,
    fonts: Vec<Font>,
}

static PRESS: LazyLock<Press> = LazyLock::new(|| {
    let fonts: Vec<Font> =
        FONTS.into_iter().flat_map(|file| Font::iter(Bytes::new(file))).collect();
    let engine = TypstEngine::builder()
        .fonts(fonts.iter().cloned())
        .with_static_source_file_resolver(TEMPLATE)
        // A few calls' worth: a second handover of one job is then set from memory.
        .comemo_evict_max_age(Some(4))
        .build();
    Press { engine, fonts }
});

/// The handover as a PDF file, tagged for readers who listen (PDF/UA-1) and fit for the archive
/// (PDF/A-3a), with its attachments inside. The same data gives the same bytes.
///
/// A picture that cannot be read is replaced by a note with the reason; it never costs the
/// document.
///
/// # Errors
/// [`HandoverError`] when table and engine disagree, when attachments cannot be told apart by
/// name, or when the typesetter refuses.
pub fn typeset(data: &HandoverData, paper: Paper) -> Result<Vec<u8>, HandoverError> {
    typeset_with_code(data, paper, None)
}

/// The handover, with the code of its sealed entries on the buyer's page.
pub(crate) fn typeset_with_code(
    data: &HandoverData,
    paper: Paper,
    code: Option<&Code>,
) -> Result<Vec<u8>, HandoverError> {
    check(data)?;
    let (json, pictures) = viewed(data, paper, code)?;

    let mut inputs = Dict::new();
    inputs.insert("view".into(), bytes(json.to_string().into_bytes()));
    inputs.insert("pictures".into(), Value::Array(pictures.into_iter().map(bytes).collect()));
    if let Some(drawing) = code.and_then(Code::drawing) {
        inputs.insert("drawing".into(), bytes(drawing.into_bytes()));
    }
    inputs.insert(
        "attachments".into(),
        Value::Array(data.attachments.iter().map(attached).collect()),
    );

    let document: PagedDocument =
        PRESS.engine.compile_with_input("handover.typ", inputs).output.map_err(
            |error| match error {
                TypstAsLibError::TypstSource(faults) => in_words(&faults),
                other => refused(&other),
            },
        )?;
    pdf(&document, data)
}

/// The document as strings that can be shown, and its pictures in print, for another page than the
/// typesetter's.
pub(crate) fn view_and_pictures(
    data: &HandoverData,
    paper: Paper,
) -> Result<(Json, Vec<Vec<u8>>), HandoverError> {
    check(data)?;
    viewed(data, paper, None)
}

fn viewed(
    data: &HandoverData,
    paper: Paper,
    code: Option<&Code>,
) -> Result<(Json, Vec<Vec<u8>>), HandoverError> {
    let (shown, pictures) = pictures(data);
    let view = View::new(data, paper, &shown, code);
    let mut json = serde_json::to_value(&view).map_err(|fault| refused(&fault))?;
    make_printable(&mut json);
    Ok((json, pictures))
}

fn check(data: &HandoverData) -> Result<(), HandoverError> {
    let (rows, cylinders) = (data.table.rows.len(), data.job.engine.cylinder_count());
    if rows != cylinders {
        return Err(HandoverError::TableMismatch { rows, cylinders });
    }
    let mut names = BTreeSet::new();
    for Attachment { name, .. } in &data.attachments {
        let plain = !name.is_empty()
            && !name.starts_with('.')
            && !name.contains(|c: char| c.is_control() || matches!(c, '/' | '\\' | ':'));
        if !plain || !names.insert(name) {
            return Err(HandoverError::AttachmentName(name.clone()));
        }
    }
    Ok(())
}

/// The pictures made ready for print, one a cylinder that has one, by cylinder. Of several pictures
/// of one plug the last is shown.
pub(crate) fn printed(data: &HandoverData) -> Vec<PlugPicture> {
    let taken = |row: &CylinderRow| {
        let mut of_row = data.pictures.iter().rev();
        of_row.find(|taken| taken.cylinder == row.cylinder)
    };
    // A phone's picture takes longer to decode than the rest of the document to set.
    data.table
        .rows
        .par_iter()
        .filter_map(|row| {
            let taken = taken(row)?;
            let file = match &taken.file {
                PictureFile::AsTaken(bytes) => match picture::for_print(bytes) {
                    Ok(print) => PictureFile::Printed(print),
                    Err(fault) => PictureFile::NotShown(format!(
                        "{} cannot be shown: {fault}",
                        text::shortened(&taken.name, 40)
                    )),
                },
                ready => ready.clone(),
            };
            Some(PlugPicture { file, ..taken.clone() })
        })
        .collect()
}

/// The pictures as they are printed, and for each row of the table where its picture stands.
fn pictures(data: &HandoverData) -> (Shown, Vec<Vec<u8>>) {
    let mut prints = Vec::new();
    let mut places = BTreeMap::new();
    for picture in printed(data) {
        let place = match picture.file {
            PictureFile::NotShown(why) => Err(why),
            PictureFile::Printed(print) | PictureFile::AsTaken(print) => {
                prints.push(print);
                Ok(prints.len() - 1)
            }
        };
        places.insert(picture.cylinder, place);
    }
    let of = |row: &CylinderRow| places.remove(&row.cylinder).unwrap_or(Err("no picture".into()));
    (data.table.rows.iter().map(of).collect(), prints)
}

/// What the pages look like, whatever is on them: SHA-256 over the template and the fonts. With
/// another design the same data gives other pages.
pub(crate) static DESIGN: LazyLock<Digest> = LazyLock::new(|| {
    let mut hasher = Sha256::new();
    for (name, source) in TEMPLATE {
        hasher.update(name);
        hasher.update(source);
    }
    for font in FONTS {
        hasher.update(font);
    }
    Digest::from_bytes(hasher.finalize().into())
});

/// Every string that reaches the template passes here.
fn make_printable(json: &mut Json) {
    match json {
        Json::String(said) => *said = text::printable(said, has_glyph),
        Json::Array(items) => items.iter_mut().for_each(make_printable),
        Json::Object(fields) => fields.values_mut().for_each(make_printable),
        Json::Null | Json::Bool(_) | Json::Number(_) => {}
    }
}

fn has_glyph(c: char) -> bool {
    c == ' ' || PRESS.fonts.iter().any(|font| font.info().coverage.contains(u32::from(c)))
}

fn bytes(bytes: Vec<u8>) -> Value {
    Bytes::new(bytes).into_value()
}

fn attached(file: &Attachment) -> Value {
    let relationship = match file.relationship {
        Relationship::Source => "source",
        Relationship::Data => "data",
        Relationship::Supplement => "supplement",
    };
    let mut dict = Dict::new();
    let fields = [
        ("name", file.name.as_str()),
        ("mime", &file.mime),
        ("description", &file.description),
        ("relationship", relationship),
    ];
    for (field, text) in fields {
        dict.insert(field.into(), Str::from(text).into_value());
    }
    dict.insert("bytes".into(), bytes(file.bytes.clone()));
    dict.into_value()
}

fn pdf(document: &PagedDocument, data: &HandoverData) -> Result<Vec<u8>, HandoverError> {
    let standards = PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1])
        .map_err(|fault| HandoverError::Typesetter(fault.message().to_string()))?;
    let options = PdfOptions {
        ident: Smart::Custom(data.job_id.clone()),
        creator: Smart::Custom(Some(MADE_BY.to_owned())),
        timestamp: stamp(data.job.begun),
        standards,
        ..PdfOptions::default()
    };
    typst_pdf::pdf(document, &options).map_err(|faults| in_words(&faults))
}

/// The job's time; the document has no other.
fn stamp(begun: Timestamp) -> Option<typst_pdf::Timestamp> {
    let utc = jiff::tz::Offset::UTC.to_datetime(begun);
    let part = |value: i8| u8::try_from(value).ok();
    Datetime::from_ymd_hms(
        i32::from(utc.year()),
        part(utc.month())?,
        part(utc.day())?,
        part(utc.hour())?,
        part(utc.minute())?,
        part(utc.second())?,
    )
    .map(typst_pdf::Timestamp::new_utc)
}

fn refused(fault: &dyn std::error::Error) -> HandoverError {
    HandoverError::Typesetter(fault.to_string())
}

fn in_words(faults: &[SourceDiagnostic]) -> HandoverError {
    let words: Vec<&str> = faults.iter().map(|fault| fault.message.as_str()).collect();
    HandoverError::Typesetter(words.join("; "))
}
