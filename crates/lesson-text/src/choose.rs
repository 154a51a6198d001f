//! `[choose]`: which scale a chord takes.

use lesson::LessonScale;
use theory::{Chord, Scale};

use crate::limit;
use crate::name_fault::name_fault;
use crate::report::Report;
use crate::scale::ScaleText;
use crate::text::Text;
use crate::tree::{Entry, Value};
use crate::value::{as_text, too_many, wrong_kind};
use crate::walk::Walk;
use crate::words::folded;

/// What a scale is chosen for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Chosen {
    /// A kind of chord.
    Kind(Chord),
    /// A kind of chord that goes down a fifth to minor.
    ToMinor(Chord),
    /// All chords that begin in a bar, by its number.
    Bar(String),
}

/// What a lesson says of scales for chords; `None` where unclear.
pub(crate) fn choices(
    walk: &Walk<'_>,
    scales: &[ScaleText],
    report: &mut Report<'_>,
) -> Option<Vec<(Chosen, LessonScale)>> {
    let Some(node) = walk.node("choose") else {
        return Some(Vec::new());
    };
    let Value::Table(table) = &node.value else {
        let help = "write [choose] alone on a line, and \"7\" = \"mixolydian\" below it";
        wrong_kind("choose", node, &node.value, help, report);
        return None;
    };
    if too_many(table.entries.len(), limit::SCALES * 4, &node.place, report) {
        return None;
    }
    let before = report.count();
    let choices: Vec<_> = table
        .entries
        .iter()
        .filter_map(|entry| {
            let chosen = chosen(entry, report);
            let scale = scale(entry, scales, report);
            chosen.zip(scale)
        })
        .collect();
    (report.count() == before).then_some(choices)
}

fn chosen(entry: &Entry, report: &mut Report<'_>) -> Option<Chosen> {
    if let Some(bar) = folded(&entry.key).strip_prefix("bar ") {
        return Some(Chosen::Bar(bar.to_owned()));
    }
    let key = entry.key.trim();
    let (kind, to_minor) = match key.strip_suffix(" to minor") {
        Some(kind) => (kind, true),
        None => (key, false),
    };
    match Chord::parse(kind) {
        Ok(kind) if to_minor => Some(Chosen::ToMinor(kind)),
        Ok(kind) => Some(Chosen::Kind(kind)),
        Err(error) => {
            let (message, help) = name_fault(&error, "chord", "chords");
            let help = format!("{help}; or write \"7 to minor\" or \"bar 3\"");
            report.mistake(&entry.key_place, message, help);
            None
        }
    }
}

/// A scale of the lesson, or of the catalogue.
fn scale(entry: &Entry, scales: &[ScaleText], report: &mut Report<'_>) -> Option<LessonScale> {
    let words = as_text(&entry.key, &entry.node, report)?;
    let text = Text {
        value: words,
        place: entry.node.place.clone(),
    };
    let typed = folded(&text.value);
    let own = scales.iter().find(|scale| {
        let name = scale.handle.said();
        name.is_some_and(|name| folded(&name.value) == typed)
    });
    if let Some(own) = own {
        return own.scale.clone();
    }
    match Scale::named(text.value.trim()) {
        Ok(scale) => Some(LessonScale { scale, chord: None }),
        Err(error) => {
            let (message, help) = name_fault(&error, "scale", "scales");
            report.mistake(&text.place, message, help);
            None
        }
    }
}
