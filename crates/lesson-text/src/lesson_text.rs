//! A lesson as it was typed, each value with its place.

use std::ops::Range;

use lesson::{Breath, Changes, Dynamic, Feel, Label, NoteNames, OwnWords, Paper, Tempo, Track};
use theory::{Level, SignatureStyle, SpellingStyle};

use crate::changes_text::{ChangesText, changes};
use crate::exercise::{ExerciseText, exercises, labels};
use crate::feel::feel;
use crate::figure::{FigureText, figures};
use crate::keys::{KeysText, keys};
use crate::known;
use crate::own_words::own_words;
use crate::player::{PlayerText, players};
use crate::report::Report;
use crate::said::Saying;
use crate::scale::{ScaleText, scales};
use crate::suggestion::shown;
use crate::tempo::tempo;
use crate::text::Text;
use crate::track::track;
use crate::tree::Table;
use crate::value::page_text;
use crate::walk::Walk;
use crate::words::{self, choose};

/// Everything a lesson file says. Lists are `None` where it isn't clear what
/// is in them, and empty where nothing is said.
#[derive(Debug)]
pub(crate) struct LessonText {
    pub place: Range<usize>,
    pub title: Saying<String>,
    pub subtitle: Saying<String>,
    pub class: Saying<String>,
    pub own: Option<OwnWords>,
    pub paper: Saying<Paper>,
    pub id: Saying<String>,
    pub players: Option<Vec<PlayerText>>,
    pub level: Saying<Level>,
    pub tempo: Saying<Tempo>,
    pub feel: Saying<Feel>,
    pub signature: Saying<SignatureStyle>,
    pub spelling: Saying<SpellingStyle>,
    pub labels: Saying<Vec<Label>>,
    pub keys: Saying<KeysText>,
    pub scales: Option<Vec<ScaleText>>,
    pub figures: Option<Vec<FigureText>>,
    pub exercises: Option<Vec<ExerciseText>>,
    pub together: Saying<bool>,
    pub track: Saying<Track>,
    pub note_names: Saying<NoteNames>,
    pub large_print: Saying<bool>,
    pub dynamic: Saying<Dynamic>,
    pub breath: Saying<Breath>,
    pub answers: Saying<bool>,
    pub care: Saying<bool>,
    pub chord_symbols: Saying<bool>,
    pub changes: Saying<ChangesText>,
}

impl LessonText {
    /// Reads the tables of a lesson file.
    pub(crate) fn read(
        table: &Table,
        lead: Option<&Changes>,
        report: &mut Report<'_>,
    ) -> LessonText {
        let walk = Walk::open(table, known::LESSON, report);
        let place = walk.place.start..walk.place.start;
        if !walk.has("title") {
            report.missing(
                &place,
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
            class: page(&walk, "class", report),
            own: own_words(&walk, report),
            paper: walk
                .text("paper", report)
                .and_then(|text| choose("paper", &text, words::PAPERS, report)),
            id: walk.text("id", report).and_then(|text| id(&text, report)),
            players: players(&walk, report),
            level: walk
                .text("level", report)
                .and_then(|text| choose("level", &text, words::LEVELS, report)),
            tempo: tempo(&walk, report),
            feel: walk
                .text("feel", report)
                .and_then(|text| feel(&text, report)),
            signature: walk
                .text("signature", report)
                .and_then(|text| choose("signature", &text, words::SIGNATURES, report)),
            spelling: walk
                .text("spelling", report)
                .and_then(|text| choose("spelling", &text, words::SPELLINGS, report)),
            labels: labels(&walk, report),
            keys: keys(&walk, report),
            scales,
            changes,
            figures,
            exercises: exercises(&walk, report),
            together: walk.switch("together", report),
            track: track(&walk, report),
            note_names: walk
                .text("note_names", report)
                .and_then(|text| choose("note_names", &text, words::NOTE_NAMES, report)),
            large_print: walk.switch("large_print", report),
            dynamic: walk
                .text("dynamic", report)
                .and_then(|text| choose("dynamic", &text, words::DYNAMICS, report)),
            breath: walk
                .text("breath", report)
                .and_then(|text| choose("breath", &text, words::BREATHS, report)),
            answers: walk.switch("answers", report),
            care: walk.switch("care", report),
            chord_symbols: walk.switch("chord_symbols", report),
            place,
        }
    }
}

fn page(walk: &Walk<'_>, key: &str, report: &mut Report<'_>) -> Saying<String> {
    walk.text(key, report)
        .and_then(|text| page_text(key, &text, report))
}

/// Whether no figure of a lesson needs a scale; unclear ones may.
fn all_literal(figures: &[FigureText]) -> bool {
    !figures.is_empty() && figures.iter().all(|figure| figure.literal)
}

/// A name that any file system takes as a folder's.
fn id(text: &Text, report: &mut Report<'_>) -> Option<String> {
    const MOST: usize = 100;
    let id = page_text("id", text, report)?;
    let plain = id
        .chars()
        .all(|c| c.is_alphanumeric() || " -_.".contains(c));
    if !plain || id.starts_with('.') || id.ends_with('.') || id.len() > MOST {
        let help = "write letters, digits and hyphens, a hundred at most: id = \"lantern-stairs\"";
        report.mistake(
            &text.place,
            format!("{} can't name a folder", shown(&id)),
            help,
        );
        return None;
    }
    Some(id)
}
