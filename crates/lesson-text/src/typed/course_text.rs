//! A course as it was typed: what it says of all its lessons, who plays, and
//! which lesson files it names, in one list or by weeks.

use std::ops::Range;

use theory::PitchName;

use crate::language::known_table;
use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned};
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::tree::{Node, Table, Value};
use crate::tables::value::{as_texts, page_text, wrong_kind};
use crate::tables::walk::{Walk, tables};
use crate::typed::head::{Head, HeadText, page};
use crate::typed::keys::exactly;
use crate::typed::lesson_text::id;
use crate::typed::own_words::paragraphs;
use crate::typed::player::{PlayerText, players};

/// Everything a course file says.
#[derive(Debug)]
pub(crate) struct CourseText {
    pub title: Saying<String>,
    pub subtitle: Saying<String>,
    pub id: Saying<String>,
    pub head: HeadText,
    /// Its foreword.
    pub text: Option<Vec<String>>,
    /// `None` where unclear, empty where it names none.
    pub players: Option<Vec<PlayerText>>,
    /// The lesson files, each once, in the order first named.
    pub files: Vec<NamedFile>,
    /// `None` where unclear, empty where it only lists lessons.
    pub weeks: Option<Vec<WeekText>>,
}

/// A lesson file that a course names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct NamedFile {
    /// As it is first typed.
    pub file: String,
    /// The same without detours, by which it is known again.
    plain: String,
    /// Where it is first named.
    pub span: Range<usize>,
}

/// A week as it was typed.
#[derive(Debug)]
pub(crate) struct WeekText {
    pub title: Saying<String>,
    pub text: Option<Vec<String>>,
    /// Places among the course's files.
    pub lessons: Saying<Vec<usize>>,
    pub keys: Saying<Vec<Spanned<PitchName>>>,
    /// The week, from 0, whose lessons come back.
    pub again: Saying<usize>,
}

impl CourseText {
    /// Reads the tables of a course file.
    pub(crate) fn read(table: &Table, rest: &Head, report: &mut Report<'_>) -> CourseText {
        let walk = Walk::open(table, known_table::COURSE, report);
        if walk.lacks("course") {
            let start = walk.span.start..walk.span.start;
            let help = "begin the file with course = and its title in quotation marks";
            report.missing(&start, "the course has no title", help);
        }
        let mut files = Vec::new();
        let listed = walk.has("lessons");
        let lessons = lessons(&walk, &mut files, report);
        let weeks = weeks(&walk, &mut files, report);
        match (listed, walk.has("week")) {
            (true, true) => {
                let message = "lessons and [[week]] both say what is played";
                let help = "name the lessons in their weeks, or leave the weeks out";
                report.mistake(&walk.key_span("lessons"), message, help);
            }
            (false, false) if walk.lacks("lessons") && walk.lacks("week") => {
                let help = "write lessons = [\"first.toml\", \"second.toml\"], or a [[week]] for each week";
                report.missing(&walk.span, "the course names no lesson", help);
            }
            _ => {}
        }
        CourseText {
            title: page(&walk, "course", report),
            subtitle: page(&walk, "subtitle", report),
            id: id(&walk, report),
            head: HeadText::read(&walk, rest, report),
            // Read, and told of, with the head.
            text: paragraphs(&walk, &mut Report::new(report.source)),
            players: players(&walk, report),
            weeks: weeks.filter(|_| !matches!(lessons, Saying::Unclear)),
            files,
        }
    }
}

/// Whether a file's tables are those of a course.
pub(crate) fn is_course(table: &Table) -> bool {
    let says = |key: &str| table.entries.iter().any(|entry| entry.key == key);
    // A course that forgot its title still lists lessons or weeks.
    says("course") || (!says("title") && (says("lessons") || says("week")))
}

/// `lessons`: files, as numbers among all that the course names.
fn lessons(
    walk: &Walk<'_>,
    files: &mut Vec<NamedFile>,
    report: &mut Report<'_>,
) -> Saying<Vec<usize>> {
    walk.read("lessons", |node| named(node, files, report))
}

fn named(node: &Node, files: &mut Vec<NamedFile>, report: &mut Report<'_>) -> Option<Vec<usize>> {
    let texts = as_texts("lessons", node, limit::LESSONS, report)?;
    if texts.is_empty() {
        let help = "write the lessons' files in the brackets: lessons = [\"first.toml\"]";
        report.mistake(&node.span, "no lesson is named", help);
        return None;
    }
    let before = report.count();
    let mut here: Vec<usize> = Vec::new();
    for text in &texts {
        let Some(at) = file(text, files, report) else {
            continue;
        };
        if here.contains(&at) {
            let message = format!("{} is there already", shown(&text.value));
            report.mistake(&text.span, message, "name each lesson once");
        } else {
            here.push(at);
        }
    }
    (report.count() == before).then_some(here)
}

/// The number of a file among those named, which it joins if it is new.
fn file(text: &Text, files: &mut Vec<NamedFile>, report: &mut Report<'_>) -> Option<usize> {
    if text.value.trim().is_empty() {
        report.mistake(
            &text.span,
            "no file is named here",
            "write the lesson's file: \"first.toml\"",
        );
        return None;
    }
    let file = page_text("this", text, report)?;
    let plain = without_detours(&file);
    let found = files.iter().position(|named| named.plain == plain);
    if found.is_none() && files.len() == limit::LESSONS {
        let message = format!("a course has at most {} lessons", limit::LESSONS);
        report.mistake(&text.span, message, "make two courses of it");
        return None;
    }
    Some(found.unwrap_or_else(|| {
        files.push(NamedFile {
            file,
            plain,
            span: text.span.clone(),
        });
        files.len() - 1
    }))
}

/// A path without `.` and without going up from where it went down.
fn without_detours(file: &str) -> String {
    let mut parts: Vec<&str> = Vec::new();
    for (at, part) in file.split('/').enumerate() {
        match (part, parts.last()) {
            (".", _) => {}
            ("", _) if at > 0 => {}
            ("..", Some(last)) if !matches!(*last, ".." | "") => {
                parts.pop();
            }
            _ => parts.push(part),
        }
    }
    parts.join("/")
}

/// Reads every `[[week]]`.
fn weeks(
    walk: &Walk<'_>,
    files: &mut Vec<NamedFile>,
    report: &mut Report<'_>,
) -> Option<Vec<WeekText>> {
    let said = match tables(walk, "week", limit::WEEKS, report) {
        Saying::Unsaid => return Some(Vec::new()),
        said => said,
    };
    let tables = &said.said()?.value;
    let weeks = tables.iter().enumerate();
    Some(
        weeks
            .map(|(number, table)| week(table, number, files, report))
            .collect(),
    )
}

fn week(
    table: &Table,
    number: usize,
    files: &mut Vec<NamedFile>,
    report: &mut Report<'_>,
) -> WeekText {
    let walk = Walk::open(table, known_table::WEEK, report);
    if walk.lacks("lessons") && walk.lacks("again") {
        let message = format!("week {} has no lessons", number + 1);
        let help = match number {
            0 => "write lessons = [\"first.toml\"] below it",
            _ => {
                "write lessons = [\"first.toml\"] below it, or again = 1 for those of the week before"
            }
        };
        report.missing(&table.span, message, help);
    }
    WeekText {
        title: page(&walk, "title", report),
        text: paragraphs(&walk, report),
        lessons: lessons(&walk, files, report),
        keys: walk.read("keys", |node| keys(node, report)),
        again: again(&walk, number, report),
    }
}

/// `keys = ["C", "F"]`: some of the lessons' keys.
fn keys(node: &Node, report: &mut Report<'_>) -> Option<Vec<Spanned<PitchName>>> {
    match &node.value {
        Value::List(_) => exactly(node, report),
        other => {
            let help = "write the week's keys in brackets, keys = [\"C\", \"F\"]: their order is the lessons' own";
            wrong_kind("keys", node, other, help, report);
            None
        }
    }
}

/// `again = 2`: the week that comes back, from 0.
fn again(walk: &Walk<'_>, number: usize, report: &mut Report<'_>) -> Saying<usize> {
    walk.number("again", report).and_then(|back| {
        let weeks = usize::try_from(back.value).ok()?;
        let week = number.checked_sub(weeks);
        if week.is_none() {
            let week = number + 1;
            let (message, help) = match number {
                0 => (
                    "before the first week there is nothing that could come back".to_owned(),
                    "leave again out".to_owned(),
                ),
                1 => (
                    "before week 2 there is only one week".to_owned(),
                    "write again = 1, or leave it out".to_owned(),
                ),
                before => (
                    format!("before week {week} there are only {before} weeks"),
                    format!("write again = {before} or less, or leave it out"),
                ),
            };
            report.mistake(&back.span, message, help);
        }
        week
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_known_again_by_any_path() {
        let rows = [
            ("a.toml", "a.toml"),
            ("./a.toml", "a.toml"),
            ("b/../a.toml", "a.toml"),
            ("b//a.toml", "b/a.toml"),
            ("../a.toml", "../a.toml"),
            ("../../a.toml", "../../a.toml"),
            ("/x/../a.toml", "/a.toml"),
        ];
        for (typed, plain) in rows {
            assert_eq!(without_detours(typed), plain, "{typed}");
        }
    }
}
