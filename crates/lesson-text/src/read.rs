//! Reading a lesson file.

use lesson::{Changes, Lesson};
use toml::de::DeTable;

use crate::limit;
use crate::lines::mend::MendedText;
use crate::meaning::whole::{Cast, meaning};
use crate::mistakes::mistake::Mistake;
use crate::mistakes::report::Report;
use crate::tables::steering;
use crate::tables::tree::{Table, tree};
use crate::typed::changes::changes_text::{self, LeadSheet};
use crate::typed::head::Head;
use crate::typed::lesson_text::LessonText;

/// Reads a lesson file. `stem` is the file's name without its ending, the
/// lesson's id if it says none.
///
/// # Errors
/// Every mistake in the file, in the order they stand there; never empty.
pub fn read(text: &str, stem: &str) -> Result<Lesson, Vec<Mistake>> {
    read_with(text, stem, None)
}

/// The lead sheet that a lesson file names, if it does: whoever opens files
/// reads it and gives its changes to [`read_with`].
pub fn lead_sheet(text: &str) -> Option<LeadSheet> {
    changes_text::lead_sheet(&parsed(text, &mut Report::new(text))?)
}

/// As [`read`], with what the lesson's lead sheet says.
///
/// # Errors
/// Every mistake in the file, in the order they stand there; never empty.
pub fn read_with(text: &str, stem: &str, lead: Option<&Changes>) -> Result<Lesson, Vec<Mistake>> {
    let (lesson, mistakes) = read_among(text, stem, lead, &Head::default(), Cast::Own);
    lesson.ok_or(mistakes)
}

/// A lesson among others: what its head doesn't say is as in `rest`. `None`
/// where it has mistakes, or where `cast` isn't clear.
pub(crate) fn read_among(
    text: &str,
    stem: &str,
    lead: Option<&Changes>,
    rest: &Head,
    cast: Cast<'_, '_>,
) -> (Option<Lesson>, Vec<Mistake>) {
    let mut report = Report::new(text);
    let Some(table) = parsed(text, &mut report) else {
        return (None, report.into_mistakes());
    };
    let mut lesson_text = LessonText::read(&table, lead, rest, &mut report);
    let lesson = meaning(&mut lesson_text, stem, rest, cast, &mut report);
    let whole = lesson.filter(|_| report.count() == 0);
    (whole, report.into_mistakes())
}

/// A file's tables, its broken lines told and set aside; `None` where it is
/// longer than any lesson.
pub(crate) fn parsed(text: &str, report: &mut Report<'_>) -> Option<Table> {
    if text.len() > limit::LESSON_BYTES {
        let message = format!("the file holds {} bytes", text.len());
        let help = format!("a lesson has at most {}", limit::LESSON_BYTES);
        report.mistake(&(0..0), message, help);
        return None;
    }
    let mended = MendedText::new(text, report);
    let (parsed, _) = DeTable::parse_recoverable(&mended.text);
    let mut table = tree(&parsed, &mended);
    steering::refuse(&mut table, report);
    Some(table)
}
