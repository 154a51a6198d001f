//! Sheets as pages to print and to look at, bound as books.

use std::collections::BTreeSet;
use std::sync::{Mutex, PoisonError};

use engrave::{Book, Chapter, Cover, DrawnSheet, Foot, RangeChart, Section, pdf, png};
use etude::{Composer, Sheet, SheetPlan};
use lesson::Player;
use rayon::prelude::*;
use score::{About, Score};
use theory::Range;

use crate::error::CopyError;
use crate::folder_file::FolderFile;
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
        let mut sheet = self.noted(engrave::sheet(score, engrave::Paper::of(score)));
        Foot::of(score, &score.part.name, false).of_sheet(&mut sheet.pages);
        sheet.pages
    }

    /// A sheet's files: their endings and bytes. Where a sheet has several
    /// pages, each has a picture of its own. `name` begins the ids in an SVG.
    ///
    /// # Errors
    /// A page that could not be written.
    pub fn sheet(&self, score: &Score, name: &str) -> Result<Vec<(String, Vec<u8>)>, CopyError> {
        if self.formats.is_empty() {
            return Ok(Vec::new());
        }
        let sheet = self.noted(engrave::sheet(score, engrave::Paper::of(score)));
        self.files(sheet, score, &score.part.name, name)
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
    ) -> Result<Vec<(String, Vec<u8>)>, CopyError> {
        let Some(first) = parts.first().filter(|_| !self.formats.is_empty()) else {
            return Ok(Vec::new());
        };
        let sheet = self.noted(engrave::room(parts, title, engrave::Paper::of(first)));
        self.files(sheet, first, title, name)
    }

    fn files(
        &self,
        mut sheet: DrawnSheet,
        score: &Score,
        part: &str,
        name: &str,
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
                let about = engrave::About {
                    title: &title,
                    language: "en",
                    ..engrave::About::default()
                };
                let bytes = pdf(&sheet.pages, &about).map_err(undrawn)?;
                files.push((ending.to_owned(), bytes));
                continue;
            }
            for (place, page) in sheet.pages.iter().enumerate() {
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

    /// A book for each player with more sheets than one. One player's pages
    /// are held at a time on each core.
    pub(crate) fn books(
        &self,
        composer: &Composer<'_>,
        plans: &[SheetPlan],
        folders: &[String],
        answers: bool,
        stop: &Stop,
    ) -> Result<Vec<FolderFile>, CopyError> {
        if !self.formats.contains(&Format::Pdf) {
            return Ok(Vec::new());
        }
        let players = folders.par_iter().enumerate();
        let books = players.map(|(player, folder)| {
            let book = self.book(composer, player, plans, answers, stop)?;
            Ok(book.map(|bytes| FolderFile {
                file: format!("{folder}/book.pdf"),
                bytes,
            }))
        });
        let books: Vec<Option<FolderFile>> = books.collect::<Result<_, CopyError>>()?;
        Ok(books.into_iter().flatten().collect())
    }

    /// A player's book as a PDF file; none with fewer than two sheets. `player`
    /// is a place in the lesson's list.
    ///
    /// # Errors
    /// A page that could not be drawn, or that it was asked to stop.
    pub fn book(
        &self,
        composer: &Composer<'_>,
        player: usize,
        plans: &[SheetPlan],
        answers: bool,
        stop: &Stop,
    ) -> Result<Option<Vec<u8>>, CopyError> {
        let own = plans.iter().filter(|plan| plan.player == player);
        let sheets: Vec<(&SheetPlan, Sheet)> = own
            .filter_map(|plan| Some((plan, composer.compose(plan).ok()?)))
            .collect();
        if sheets.len() < 2 {
            return Ok(None);
        }
        let mut book = self.chapters(&composer.lesson().players[player], &sheets, stop)?;
        if answers {
            for (plan, _) in &sheets {
                stop.check()?;
                if let Ok(Some(sheet)) = composer.answers(plan) {
                    book.answers.push(self.chapter(&sheet.score));
                }
            }
        }
        book.bind().pdf().map(Some).map_err(undrawn)
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

    fn chapters(
        &self,
        player: &Player,
        sheets: &[(&SheetPlan, Sheet)],
        stop: &Stop,
    ) -> Result<Book, CopyError> {
        let scores = || sheets.iter().map(|(_, sheet)| &sheet.score);
        let mut book = Book {
            paper: scores().next().map(engrave::Paper::of).unwrap_or_default(),
            ..Book::default()
        };
        for score in scores() {
            stop.check()?;
            book.chapters.push(self.chapter(score));
        }
        if let Some(first) = scores().next() {
            let line = |about: About| {
                let mut lines = first.head.iter().filter(|line| line.about == about);
                lines.next().map(|line| line.text.clone())
            };
            // A player's name is the first of these lines where there is one.
            let mut who = first.head.iter().filter(|line| line.about == About::Player);
            let name = player.name.as_ref().and_then(|_| who.next());
            book.cover = Cover {
                title: first.title.clone(),
                subtitle: first.subtitle.clone().unwrap_or_default(),
                class: who.next().map(|line| line.text.clone()).unwrap_or_default(),
                instrument: first.part.name.clone(),
                player: name.map(|line| line.text.clone()).unwrap_or_default(),
                about: vec![format!("Level: {}", player.level.word())],
                range: Some(RangeChart {
                    clef: player.instrument.clef,
                    level: player.level,
                    range: player.range(player.level),
                    lesson: ambitus(scores()),
                }),
                care: line(About::Care).unwrap_or_default(),
            };
            book.foot = Foot::of(first, &first.part.name, true);
        }
        Ok(book)
    }

    fn chapter(&self, score: &Score) -> Chapter {
        let sheet = self.noted(engrave::sheet(score, engrave::Paper::of(score)));
        let sections = sheet.exercises.into_iter();
        let key = score.head.iter().find(|line| line.about == About::Key);
        Chapter {
            name: key.map_or_else(|| "Through the keys".to_owned(), |line| line.text.clone()),
            sections: sections
                .map(|(name, page)| Section { name, page })
                .collect(),
            pages: sheet.pages,
        }
    }
}

/// The error of a page that could not be drawn.
fn undrawn<E: std::error::Error>(error: E) -> CopyError {
    CopyError::Format {
        file: "a printed page".to_owned(),
        reason: error.to_string(),
    }
}

/// From the lowest to the highest note of all scores, as written.
fn ambitus<'a>(scores: impl Iterator<Item = &'a Score> + Clone) -> Option<Range> {
    let lowest = scores.clone().filter_map(Score::lowest);
    let highest = scores.filter_map(Score::highest);
    Some(Range {
        low: lowest.min_by_key(|pitch| (pitch.midi(), pitch.steps()))?,
        high: highest.max_by_key(|pitch| (pitch.midi(), pitch.steps()))?,
    })
}
