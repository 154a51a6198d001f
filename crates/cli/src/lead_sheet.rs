//! Notation files from disk: a lesson's lead sheet, a phrase to lift.

use std::fs::{self, File};
use std::io::Read;
use std::path::Path;

use lesson::Changes;
use lesson_text::LeadSheet;
use reader::{Asked, ReadError, Reading};

use crate::console::Console;

/// A score holds less; what is longer is something else.
const MOST_BYTES: u64 = 32 * 1024 * 1024;

/// The changes of a lesson's lead sheet, which lies beside it; a fault is told
/// here.
pub fn changes(lesson: &Path, sheet: &LeadSheet, console: &Console) -> Option<Changes> {
    if Path::new(&sheet.file).is_absolute() {
        console.remark(&format!(
            "{}: the lead sheet is named by its whole path: on another machine it won't be found; put \
             it beside the lesson",
            lesson.display()
        ));
    }
    let path = lesson.parent().unwrap_or(Path::new("")).join(&sheet.file);
    let bytes = bytes(&path, console)?;
    let asked = Asked {
        part: sheet.part.clone(),
        ..Asked::default()
    };
    told(&path, reader::changes(&bytes, &asked), console)
}

/// What was read, each thing guessed told; or the one thing that can't be
/// read.
pub fn told<T>(path: &Path, read: Result<Reading<T>, ReadError>, console: &Console) -> Option<T> {
    match read {
        Ok(reading) => {
            for warning in &reading.warnings {
                console.remark(&format!("{}: {warning}", path.display()));
            }
            Some(reading.value)
        }
        Err(error) => {
            console.fault(&format!("{}: {error}", path.display()), Some(error.help));
            None
        }
    }
}

/// A file's bytes; a fault is told here.
pub fn bytes(path: &Path, console: &Console) -> Option<Vec<u8>> {
    // A pipe or a device might never end, or never begin.
    if fs::metadata(path).is_ok_and(|found| !found.is_file()) {
        console.fault(
            &format!("{}: is no file", path.display()),
            Some("name a MusicXML file"),
        );
        return None;
    }
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes));
    if let Err(error) = read {
        let message = match error.kind() {
            std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
            _ => format!("can't be read: {error}"),
        };
        console.fault(
            &format!("{}: {message}", path.display()),
            Some("look at its name and folder"),
        );
        return None;
    }
    if bytes.len() as u64 > MOST_BYTES {
        console.fault(
            &format!("{}: is larger than a score can be, 32 MB", path.display()),
            Some("name a MusicXML file"),
        );
        return None;
    }
    Some(bytes)
}
