//! Reading a lesson file.

use lesson::Lesson;
use toml::de::DeTable;

use crate::Mistake;
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
    /// Files the lesson names (none yet in this version's kinds).
    pub wants: Vec<String>,
}

/// Reads a lesson file. `stem` is the file's name without its ending, the
/// lesson's id if it says none.
///
/// # Errors
/// Every mistake in the file, in the order they stand there; never empty.
pub fn read(text: &str, stem: &str) -> Result<Reading, Vec<Mistake>> {
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
    let lesson_text = LessonText::read(&table, &mut report);
    let lesson = meaning(&lesson_text, stem, &mut report);
    match lesson {
        Some(lesson) if report.count() == 0 => Ok(Reading {
            lesson,
            wants: Vec::new(),
        }),
        _ => Err(report.into_mistakes()),
    }
}
