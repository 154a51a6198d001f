//! Sheets as pages to print and to look at.

use std::collections::BTreeSet;
use std::sync::{Mutex, PoisonError};

use engrave::{DrawnSheet, Foot, PdfError, PdfFile, png};
use score::Score;

use crate::error::CopyError;
use crate::format::Format;
use crate::options::Options;
use crate::stop::Stop;

/// Draws what was asked for.
#[derive(Debug)]
pub struct Pictures {
    resolution: u16,
    formats: Vec<Format>,
    missing: Mutex<BTreeSet<char>>,
}

impl Pictures {
    /// Draws what the options ask for.
    pub fn new(options: &Options) -> Pictures {
        let formats = options.formats.iter().copied();
        Pictures {
            resolution: options.resolution,
            formats: formats.filter(|format| format.is_picture()).collect(),
            missing: Mutex::default(),
        }
    }

    /// A sheet's pages, as they are printed.
    pub fn pages(&self, score: &Score) -> Vec<engrave::Page> {
        let mut sheet = self.drawn(score);
        Foot::of(score, &score.part.name, false).of_sheet(&mut sheet.pages);
        sheet.pages
    }

    /// A sheet's files: their endings and bytes. Where a sheet has several
    /// pages, each has a picture of its own. `name` begins the ids in an SVG.
    ///
    /// # Errors
    /// A page that could not be written.
    pub fn sheet(
        &self,
        score: &Score,
        name: &str,
        stop: &Stop,
    ) -> Result<Vec<(String, Vec<u8>)>, CopyError> {
        if self.formats.is_empty() {
            return Ok(Vec::new());
        }
        let sheet = self.drawn(score);
        self.files(sheet, score, [&score.part.name, name], stop)
    }

    /// The same of a score with everyone in it; `title` stands where a sheet
    /// names its instrument.
    ///
    /// # Errors
    /// A page that could not be written.
    pub(crate) fn room(
        &self,
        parts: &[Score],
        title: &str,
        name: &str,
        stop: &Stop,
    ) -> Result<Vec<(String, Vec<u8>)>, CopyError> {
        let Some(first) = parts.first().filter(|_| !self.formats.is_empty()) else {
            return Ok(Vec::new());
        };
        let sheet = self.noted(engrave::room(parts, title, engrave::Paper::of(first)));
        self.files(sheet, first, [title, name], stop)
    }

    fn files(
        &self,
        mut sheet: DrawnSheet,
        score: &Score,
        [part, name]: [&str; 2],
        stop: &Stop,
    ) -> Result<Vec<(String, Vec<u8>)>, CopyError> {
        Foot::of(score, part, false).of_sheet(&mut sheet.pages);
        let count = sheet.pages.len();
        // As many figures for all, so that files sort in order.
        let figures = count.to_string().len().max(2);
        let mut files = Vec::new();
        for format in &self.formats {
            let ending = format.ending();
            if *format == Format::Pdf {
                let title = format!("{} · {part}", score.title);
                let about = engrave::PdfInfo {
                    title: &title,
                    language: "en",
                    ..engrave::PdfInfo::default()
                };
                let mut file = PdfFile::new(&about, count)?;
                for page in &sheet.pages {
                    stop.check()?;
                    file.page(page)?;
                }
                files.push((ending.to_owned(), file.finish()?));
                continue;
            }
            for (place, page) in sheet.pages.iter().enumerate() {
                stop.check()?;
                let number = place + 1;
                let (ending, id) = match count {
                    1 => (ending.to_owned(), name.to_owned()),
                    _ => (
                        format!("page-{number:0figures$}.{ending}"),
                        format!("{name}-page-{number:0figures$}"),
                    ),
                };
                let bytes = match format {
                    Format::Png => png(page, self.resolution).map_err(undrawn)?,
                    _ => page.svg(&id).into_bytes(),
                };
                files.push((ending, bytes));
            }
        }
        Ok(files)
    }

    /// Whether pages are printed, and so bound.
    pub(crate) fn prints(&self) -> bool {
        self.formats.contains(&Format::Pdf)
    }

    /// Characters that no font has, so that an empty box stands for them.
    pub(crate) fn missing(&self) -> BTreeSet<char> {
        let missing = self.missing.lock();
        missing.unwrap_or_else(PoisonError::into_inner).clone()
    }

    fn noted(&self, sheet: DrawnSheet) -> DrawnSheet {
        let mut missing = self.missing.lock().unwrap_or_else(PoisonError::into_inner);
        missing.extend(&sheet.missing);
        drop(missing);
        sheet
    }

    /// A sheet's pages, room left at their feet.
    pub(crate) fn drawn(&self, score: &Score) -> DrawnSheet {
        self.noted(engrave::sheet(score, engrave::Paper::of(score)))
    }
}

impl From<PdfError> for CopyError {
    fn from(error: PdfError) -> CopyError {
        undrawn(error)
    }
}

/// The error of a page that could not be drawn.
fn undrawn<E: std::error::Error>(error: E) -> CopyError {
    CopyError::Format {
        file: "a printed page".to_owned(),
        reason: error.to_string(),
    }
}
