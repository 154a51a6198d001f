//! The compressed container: which of its files is the score. The container's
//! own list first, then the first that looks like a score; names are only
//! looked up inside the archive, so that nothing outside it is ever read.

use std::io::{Cursor, Read};

use zip::ZipArchive;
use zip::result::ZipError;

use crate::element::Element;
use crate::reading::NOT_MUSICXML;
use crate::shown::shown;
use crate::walker::{Token, Walker};
use crate::{Place, ReadError, Warning, encoding, limit};

const CONTAINER: &str = "META-INF/container.xml";

/// Whether bytes are an archive.
pub(crate) fn is_archive(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06")
}

/// The score's bytes, and what had to be guessed for them.
pub(crate) fn score(bytes: &[u8]) -> Result<(Vec<u8>, Vec<Warning>), ReadError> {
    let entries = bytes
        .windows(4)
        .filter(|four| *four == b"PK\x01\x02")
        .take(limit::ARCHIVE_FILES + 1)
        .count();
    if entries > limit::ARCHIVE_FILES {
        return Err(ReadError::whole(format!(
            "the archive holds more than {} files",
            limit::ARCHIVE_FILES
        )));
    }
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|error| damaged(&error))?;
    let mut warnings = Vec::new();
    if let Some(at) = archive.index_for_name(CONTAINER) {
        let container = unpacked(&mut archive, at, limit::CONTAINER_BYTES)?;
        match listed(&container) {
            Some(name) => match archive.index_for_name(&name) {
                Some(at) => {
                    return Ok((unpacked(&mut archive, at, limit::DOCUMENT_BYTES)?, warnings));
                }
                None => warnings.push(guess(format!(
                    "the archive's list names {}, which isn't in it",
                    shown(&name)
                ))),
            },
            None => warnings.push(guess(format!("{CONTAINER} names no score"))),
        }
    } else {
        warnings.push(guess(format!("the archive has no {CONTAINER}")));
    }
    let names: Vec<String> = (0..archive.len())
        .filter_map(|at| archive.name_for_index(at).map(str::to_owned))
        .collect();
    let found = [".musicxml", ".xml"].iter().find_map(|ending| {
        names
            .iter()
            .find(|name| is_plausible(name) && name.to_ascii_lowercase().ends_with(ending))
    });
    let Some(name) = found else {
        let error = ReadError::whole("the archive holds no MusicXML file");
        return Err(error.with(NOT_MUSICXML));
    };
    warnings.push(guess(format!("{} was taken for the score", shown(name))));
    let at = archive.index_for_name(name);
    let at = at.ok_or_else(|| ReadError::whole("the archive is damaged"))?;
    Ok((unpacked(&mut archive, at, limit::DOCUMENT_BYTES)?, warnings))
}

/// No folder of the container's, no system's leavings, no hidden file.
fn is_plausible(name: &str) -> bool {
    !name.split(['/', '\\']).any(|part| {
        part.starts_with('.')
            || part.eq_ignore_ascii_case("__MACOSX")
            || part.eq_ignore_ascii_case("META-INF")
    })
}

fn unpacked(
    archive: &mut ZipArchive<Cursor<&[u8]>>,
    at: usize,
    most: u64,
) -> Result<Vec<u8>, ReadError> {
    let file = archive.by_index(at).map_err(|error| damaged(&error))?;
    let name = shown(file.name());
    // What the archive says of its sizes isn't trusted: reading stops at the
    // limit.
    let mut bytes = Vec::new();
    file.take(most + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| ReadError::whole(format!("the archive is damaged at {name}: {error}")))?;
    if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > most {
        return Err(ReadError::whole(format!(
            "{name} unpacks to more than {most} bytes"
        )));
    }
    Ok(bytes)
}

/// The first root file of the list that is no picture or page.
fn listed(container: &[u8]) -> Option<String> {
    let (text, _) = encoding::text(container).ok()?;
    let mut walker = Walker::new(&text);
    let Token::Start(root) = walker.first().ok()? else {
        return None;
    };
    let root = Element::read(&mut walker, root).ok()?;
    let files = root.child("rootfiles").unwrap_or(&root);
    let score = |file: &&Element| {
        file.attribute("media-type")
            .is_none_or(|kind| kind.contains("musicxml") || kind.contains("xml"))
    };
    let path = files
        .children("rootfile")
        .filter(score)
        .find_map(|file| file.attribute("full-path"))?;
    Some(path.trim_start_matches("./").replace('\\', "/"))
}

fn damaged(error: &ZipError) -> ReadError {
    ReadError::whole(format!("the archive is damaged: {error}"))
}

fn guess(message: String) -> Warning {
    Warning {
        place: Place::default(),
        message,
    }
}
