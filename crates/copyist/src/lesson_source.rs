//! Lesson files from disk to lessons, every mistake in a file told.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use lesson::Lesson;
use lesson_text::Mistake;

use crate::input;
use crate::lead_sheet;
use crate::refusal::Refusal;

/// A lesson file holds a page of words; what is longer is something else.
const MOST_BYTES: u64 = 1_000_000;

/// A lesson and the file it came from.
#[derive(Debug, Clone)]
pub struct LessonSource {
    /// The file.
    pub path: PathBuf,
    /// What it says.
    pub lesson: Lesson,
    /// What was guessed of its lead sheet.
    pub warnings: Vec<String>,
}

/// Why a file gives no lesson.
#[derive(Debug, Clone)]
pub enum LessonFault {
    /// It can't be read.
    Unreadable(Refusal),
    /// What is written in it is wrong.
    Mistakes {
        /// The file's text.
        text: String,
        /// Each with its place there.
        mistakes: Vec<Mistake>,
    },
}

/// The lesson files that these paths name, each once: a folder stands for the
/// lesson files in it, by name, not for those in folders below.
///
/// # Errors
/// Every folder that has none or can't be read.
pub fn gathered(paths: &[PathBuf]) -> Result<Vec<PathBuf>, Vec<Refusal>> {
    let mut files = Vec::new();
    let mut refusals = Vec::new();
    for path in paths {
        if !path.is_dir() {
            files.push(path.clone());
            continue;
        }
        let shown = path.display();
        match in_folder(path) {
            Ok(found) if !found.is_empty() => files.extend(found),
            Ok(_) => refusals.push(Refusal::new(
                format!("{shown}: there is no lesson file in it"),
                "name a folder with .toml files in it",
            )),
            Err(error) => refusals.push(Refusal::new(
                format!("{shown}: can't be read: {error}"),
                "look at whether you may read it",
            )),
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let mut seen = BTreeSet::new();
    files.retain(|path| seen.insert(fs::canonicalize(path).unwrap_or_else(|_| path.clone())));
    Ok(files)
}

fn in_folder(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|ending| ending == "toml") && path.is_file() {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

/// Reads a lesson file, and the lead sheet it names.
///
/// # Errors
/// Every mistake in it, or that it can't be read.
pub fn read_lesson(path: &Path) -> Result<LessonSource, LessonFault> {
    let text = text_of(path).map_err(LessonFault::Unreadable)?;
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let changes = match lesson_text::lead_sheet(&text) {
        Some(sheet) => match lead_sheet::changes(path, &sheet) {
            Ok(changes) => Some(changes),
            // Where the lesson names it is where it can be mended.
            Err(refusal) => {
                let mistake = Mistake {
                    place: sheet.place,
                    message: refusal.message,
                    help: refusal.help.unwrap_or_default(),
                };
                return Err(LessonFault::Mistakes {
                    text,
                    mistakes: vec![mistake],
                });
            }
        },
        None => None,
    };
    let read = lesson_text::read_with(&text, &stem, changes.as_ref().map(|read| &read.value));
    match read {
        Ok(reading) => Ok(LessonSource {
            path: path.to_owned(),
            lesson: reading.lesson,
            warnings: changes.map(|read| read.warnings).unwrap_or_default(),
        }),
        Err(mistakes) => Err(LessonFault::Mistakes { text, mistakes }),
    }
}

fn text_of(path: &Path) -> Result<String, Refusal> {
    let bytes = input::bytes(
        path,
        MOST_BYTES,
        "a lesson can be, 1 MB",
        "name a lesson file",
    )?;
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let line = 1 + error.as_bytes()[..at]
            .iter()
            .filter(|byte| **byte == b'\n')
            .count();
        Refusal::new(
            format!("{}: is not UTF-8 text (line {line})", path.display()),
            "save it as plain text in UTF-8",
        )
    })
}
