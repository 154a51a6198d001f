//! A lesson as it was typed, each value with its span.

use std::ops::Range;

use lesson::Changes;

use crate::language::known_table;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::tree::Table;
use crate::tables::value::page_text;
use crate::tables::walk::Walk;
use crate::typed::changes::changes_text::{ChangesText, changes};
use crate::typed::exercise::{ExerciseText, exercises};
use crate::typed::figures::figure::{FigureText, figures};
use crate::typed::head::{Head, HeadText, page};
use crate::typed::player::{PlayerText, players};
use crate::typed::scale::{ScaleText, scales};

/// Everything a lesson file says. Lists are `None` where it isn't clear what
/// is in them, and empty where nothing is said.
#[derive(Debug)]
pub(crate) struct LessonText {
    pub span: Range<usize>,
    pub title: Saying<String>,
    pub subtitle: Saying<String>,
    pub id: Saying<String>,
    pub head: HeadText,
    pub players: Option<Vec<PlayerText>>,
    pub scales: Option<Vec<ScaleText>>,
    pub figures: Option<Vec<FigureText>>,
    pub exercises: Option<Vec<ExerciseText>>,
    pub changes: Saying<ChangesText>,
}

impl LessonText {
    /// Reads the tables of a lesson file; `rest` is what holds where its head
    /// says nothing.
    pub(crate) fn read(
        table: &Table,
        lead: Option<&Changes>,
        rest: &Head,
        report: &mut Report<'_>,
    ) -> LessonText {
        let walk = Walk::open(table, known_table::LESSON, report);
        let span = walk.span.start..walk.span.start;
        if !walk.has("title") {
            report.missing(
                &span,
                "the lesson has no title",
                "begin the file with title = \"…\"",
            );
        }
        let figures = figures(&walk, report);
        let needed = !walk.has("changes") && !figures.as_deref().is_some_and(all_literal);
        let scales = scales(&walk, needed, report);
        let changes = changes(&walk, scales.as_deref(), lead, report);
        LessonText {
            title: page(&walk, "title", report),
            subtitle: page(&walk, "subtitle", report),
            id: id(&walk, report),
            head: HeadText::read(&walk, rest, report),
            players: players(&walk, report),
            scales,
            changes,
            figures,
            exercises: exercises(&walk, report),
            span,
        }
    }
}

/// Whether no figure of a lesson needs a scale; unclear ones may.
fn all_literal(figures: &[FigureText]) -> bool {
    !figures.is_empty() && figures.iter().all(|figure| figure.literal)
}

/// `id`: a name that any file system takes as a folder's.
pub(crate) fn id(walk: &Walk<'_>, report: &mut Report<'_>) -> Saying<String> {
    walk.text("id", report)
        .and_then(|text| folder(&text, report))
}

fn folder(text: &Text, report: &mut Report<'_>) -> Option<String> {
    const MOST: usize = 100;
    let id = page_text("id", text, report)?;
    let plain = id
        .chars()
        .all(|c| c.is_alphanumeric() || " -_.".contains(c));
    if !plain || id.starts_with('.') || id.ends_with('.') || id.len() > MOST {
        let help = "write letters, digits and hyphens, a hundred at most: id = \"lantern-stairs\"";
        report.mistake(
            &text.span,
            format!("{} can't name a folder", shown(&id)),
            help,
        );
        return None;
    }
    Some(id)
}
