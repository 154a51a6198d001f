//! Lesson files from disk to lessons, every mistake in every file told.

use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

use lesson::Lesson;

use crate::console::Console;

/// A lesson file holds a page of words; what is longer is something else.
const MOST_BYTES: u64 = 1_000_000;

/// A lesson and the file it came from.
pub struct LessonFile {
    pub path: PathBuf,
    pub lesson: Lesson,
}

/// Reads them all, or tells every mistake in them and gives none. A file
/// named twice is read once.
pub fn read_all(paths: &[PathBuf], console: &Console) -> Option<Vec<LessonFile>> {
    let mut seen = Vec::new();
    let mut lessons = Vec::new();
    let mut whole = true;
    for path in paths {
        let place = fs::canonicalize(path).unwrap_or_else(|_| path.clone());
        if seen.contains(&place) {
            continue;
        }
        seen.push(place);
        match read(path, console) {
            Some(lesson) => lessons.push(LessonFile {
                path: path.clone(),
                lesson,
            }),
            None => whole = false,
        }
    }
    whole.then_some(lessons)
}

fn read(path: &Path, console: &Console) -> Option<Lesson> {
    let text = match text_of(path) {
        Ok(text) => text,
        Err((message, help)) => {
            console.fault(&format!("{}: {message}", path.display()), Some(help));
            return None;
        }
    };
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    match lesson_text::read(&text, &stem) {
        Ok(reading) => Some(reading.lesson),
        Err(mistakes) => {
            for mistake in &mistakes {
                console.mistake(path, &text, mistake);
            }
            let count = match mistakes.len() {
                1 => "1 mistake".to_owned(),
                count => format!("{count} mistakes"),
            };
            console.remark(&format!("{count} in {}", path.display()));
            None
        }
    }
}

fn text_of(path: &Path) -> Result<String, (String, &'static str)> {
    let unreadable = |error: std::io::Error| match error.kind() {
        std::io::ErrorKind::NotFound => (
            "there is no such file".to_owned(),
            "look at its name and folder",
        ),
        _ => (
            format!("can't be read: {error}"),
            "look at whether you may read it",
        ),
    };
    let about = fs::metadata(path).map_err(unreadable)?;
    if about.is_dir() {
        return Err(("is a folder".to_owned(), "name the lesson files in it"));
    }
    let mut bytes = Vec::new();
    // The limit holds for pipes and growing files too, whose size says nothing.
    File::open(path)
        .and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes))
        .map_err(unreadable)?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err((
            "is larger than a lesson can be, 1 MB".to_owned(),
            "name a lesson file",
        ));
    }
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let line = 1 + error.as_bytes()[..at]
            .iter()
            .filter(|byte| **byte == b'\n')
            .count();
        (
            format!("is not UTF-8 text (line {line})"),
            "save it as plain text in UTF-8",
        )
    })
}
