//! A text of the folder as a lesson, with the file it names.

use lesson::Lesson;
use lesson_text::Mistake;
use lesson_text::edit::values;
use reader::Selection;

use crate::folder::{Folder, FolderFault};

/// The lesson, or every mistake with its place.
pub(crate) fn read(folder: &Folder, name: &str, text: &str) -> Result<Lesson, Vec<Mistake>> {
    let stem = name.strip_suffix(".toml").unwrap_or(name);
    let changes = match lesson_text::lead_sheet(text) {
        None => None,
        Some(sheet) => {
            let fault =
                |message: String, help: &str| vec![Mistake::new(sheet.span.clone(), message, help)];
            let bytes = folder
                .beside(&sheet.file)
                .map_err(|refused| match refused {
                    FolderFault::Outside => fault(
                        format!("{} lies outside of this folder", sheet.file),
                        "the desk reads nothing outside: copy it beside the lesson",
                    ),
                    FolderFault::Missing => fault(
                        format!("there is no file {}", sheet.file),
                        "look at its name, or copy it beside the lesson",
                    ),
                    _ => fault(
                        format!("{} can't be read", sheet.file),
                        "look at whether you may read it",
                    ),
                })?;
            let selection = Selection {
                part: sheet.part.clone(),
                ..Selection::default()
            };
            let read = reader::changes(&bytes, &selection).map_err(|error| {
                fault(
                    format!("{}: {error}", sheet.file),
                    "export it again as MusicXML from the program it was written in",
                )
            })?;
            Some(read.value)
        }
    };
    lesson_text::read_with(text, stem, changes.as_ref())
}

/// What a lesson is called, whatever else is wrong with it.
pub(crate) fn title(text: &str) -> Option<String> {
    let lesson_text::edit::Value::Table(entries) = values(text) else {
        return None;
    };
    entries.into_iter().find_map(|(key, value)| match value {
        lesson_text::edit::Value::Text(title) if key == "title" => Some(title),
        _ => None,
    })
}
