//! Notation files from disk: a lesson's lead sheet, a phrase to lift.

use std::path::Path;

use lesson::Changes;
use lesson_text::LeadSheet;
use reader::{ReadError, Reading, Selection};

use crate::input;
use crate::refusal::Refusal;

/// A score holds less; what is longer is something else.
const MOST_BYTES: u64 = 32 * 1024 * 1024;

/// What was read of a notation file, and each thing that was guessed.
#[derive(Debug)]
pub struct MusicFile<T> {
    /// What it says.
    pub value: T,
    /// What was guessed, with the file's name.
    pub warnings: Vec<String>,
}

/// The changes of a lesson's lead sheet, which lies beside it.
pub fn changes(lesson: &Path, sheet: &LeadSheet) -> Result<MusicFile<Changes>, Refusal> {
    let path = lesson.parent().unwrap_or(Path::new("")).join(&sheet.file);
    let asked = Selection {
        part: sheet.part.clone(),
        ..Selection::default()
    };
    let mut read = music_file(&path, |bytes| reader::changes(bytes, &asked))?;
    if Path::new(&sheet.file).is_absolute() {
        read.warnings.push(format!(
            "{}: the lead sheet is named by its whole path, which no other machine has: put it \
             beside the lesson and write its name alone",
            lesson.display()
        ));
    }
    Ok(read)
}

/// Reads a notation file.
///
/// # Errors
/// That the file can't be read, or what `read` says of it.
pub fn music_file<T>(
    path: &Path,
    read: impl FnOnce(&[u8]) -> Result<Reading<T>, ReadError>,
) -> Result<MusicFile<T>, Refusal> {
    let bytes = input::bytes(
        path,
        MOST_BYTES,
        "a score can be, 32 MB",
        "name a MusicXML file",
    )?;
    let shown = path.display();
    let reading =
        read(&bytes).map_err(|error| Refusal::new(format!("{shown}: {error}"), error.help))?;
    let warnings = reading.warnings.iter();
    Ok(MusicFile {
        warnings: warnings.map(|one| format!("{shown}: {one}")).collect(),
        value: reading.value,
    })
}
