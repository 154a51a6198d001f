//! Reading a lesson file.

use lesson::{Changes, Lesson};
use toml::de::DeTable;

use crate::Mistake;
use crate::changes_text::{self, LeadSheet};
use crate::lesson_text::LessonText;
use crate::limit;
use crate::meaning::meaning;
use crate::mend::Mended;
use crate::report::Report;
use crate::tree::tree;

/// A lesson read, and the files it wants.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// The lesson.
    pub lesson: Lesson,
    /// Files the lesson names, relative to its own folder.
    pub wants: Vec<String>,
}

/// Reads a lesson file. `stem` is the file's name without its ending, the
/// lesson's id if it says none.
///
/// # Errors
/// Every mistake in the file, in the order they stand there; never empty.
pub fn read(text: &str, stem: &str) -> Result<Reading, Vec<Mistake>> {
    read_with(text, stem, None)
}

/// The lead sheet that a lesson file names, if it does: whoever opens files
/// reads it and gives its changes to [`read_with`].
pub fn lead_sheet(text: &str) -> Option<LeadSheet> {
    if text.len() > limit::LESSON_BYTES {
        return None;
    }
    let mended = Mended::new(text, &mut Report::new(text));
    let (parsed, _) = DeTable::parse_recoverable(&mended.text);
    changes_text::lead_sheet(&tree(&parsed, &mended))
}

/// As [`read`], with what the lesson's lead sheet says.
///
/// # Errors
/// Every mistake in the file, in the order they stand there; never empty.
pub fn read_with(text: &str, stem: &str, lead: Option<&Changes>) -> Result<Reading, Vec<Mistake>> {
    let mut report = Report::new(text);
    if text.len() > limit::LESSON_BYTES {
        let message = format!("the file holds {} bytes", text.len());
        report.mistake(
            &(0..0),
            message,
            format!("a lesson has at most {}", limit::LESSON_BYTES),
        );
        return Err(report.into_mistakes());
    }
    let mended = Mended::new(text, &mut report);
    let (parsed, _) = DeTable::parse_recoverable(&mended.text);
    let table = tree(&parsed, &mended);
    let mut lesson_text = LessonText::read(&table, lead, &mut report);
    let lesson = meaning(&mut lesson_text, stem, &mut report);
    match lesson {
        Some(lesson) if report.count() == 0 => Ok(Reading {
            lesson,
            wants: changes_text::lead_sheet(&table)
                .map(|sheet| sheet.file)
                .into_iter()
                .collect(),
        }),
        _ => Err(report.into_mistakes()),
    }
}
