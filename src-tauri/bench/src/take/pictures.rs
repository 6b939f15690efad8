//! Plug pictures of a case.

use std::fs;
use std::path::Path;

use borespoke_core::engine::Cylinder;
use borespoke_core::record::{Act, Look, Observation, Origin};
use borespoke_photo::{Format, Hints, PictureError, PlugPicture, read_plug, read_tray};
use borespoke_store::{MediaType, digest_of_bytes};

use super::TakeEvent;
use super::log_book::LogBook;
use crate::case::{Case, PlugFile};
use crate::error::BenchError;
use crate::wire::PlugLine;

/// Takes the pictures in; each is kept untouched, with a look for every plug in it.
pub fn take(
    case: &Case,
    book: &mut LogBook<'_>,
    on: &mut dyn FnMut(TakeEvent<'_>),
) -> Result<(), BenchError> {
    for file in &case.plugs {
        let (path, cylinders) = match file {
            PlugFile::Single(cylinder, path) => (path, vec![*cylinder]),
            PlugFile::Tray(path) => (path, book.job().engine.cylinders().collect()),
        };
        one(path, &cylinders, book, on)?;
    }
    Ok(())
}

fn one(
    path: &Path,
    cylinders: &[Cylinder],
    book: &mut LogBook<'_>,
    on: &mut dyn FnMut(TakeEvent<'_>),
) -> Result<(), BenchError> {
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let bytes = match fs::read(path) {
        Ok(bytes) => bytes,
        Err(source) => {
            on(TakeEvent::Refused(&BenchError::File { path: path.to_path_buf(), source }));
            return Ok(());
        }
    };
    let digest = digest_of_bytes(&bytes);
    if book.has(&digest) {
        on(TakeEvent::AlreadyThere(&name));
        return Ok(());
    }
    let plugs = match read(&bytes, cylinders.len()) {
        Ok(plugs) => plugs,
        Err(source) => {
            on(TakeEvent::Refused(&BenchError::Picture { name, source }));
            return Ok(());
        }
    };
    let looks = cylinders.iter().zip(&plugs).map(|(cylinder, plug)| Act::Observe {
        observation: Observation::Look(Look {
            cylinder: *cylinder,
            signs: Vec::new(),
            picture: Some(digest),
            figures: Some(plug.figures()),
        }),
    });
    let media_type = match plugs.first().map(|plug| plug.format) {
        Some(Format::Png) => MediaType::PNG,
        Some(Format::Heic) => MediaType::HEIC,
        Some(Format::Jpeg) | None => MediaType::JPEG,
    };
    let mut addition = book.begin(Origin::Pictured { picture: digest });
    for look in looks {
        book.push(&mut addition, look)?;
    }
    book.keep(addition, Some((media_type, &bytes)))?;
    for plug in &plugs {
        on(TakeEvent::Pictured(&PlugLine::new(name.clone(), plug)));
    }
    Ok(())
}

fn read(bytes: &[u8], count: usize) -> Result<Vec<PlugPicture>, PictureError> {
    if count == 1 {
        read_plug(bytes, &Hints::default()).map(|plug| vec![plug])
    } else {
        read_tray(bytes, &Hints::default(), count)
    }
}
