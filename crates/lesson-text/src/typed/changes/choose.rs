//! `[choose]`: which scale a chord takes.

use lesson::LessonScale;
use theory::{Chord, ChordSymbol, Scale};

use crate::language::choice::folded;
use crate::limit;
use crate::mistakes::name_fault::name_fault;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Spanned;
use crate::mistakes::text::Text;
use crate::tables::tree::{Entry, Value};
use crate::tables::value::{as_text, too_many, wrong_kind};
use crate::tables::walk::Walk;
use crate::typed::scale::ScaleText;

/// What a scale is chosen for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Occasion {
    /// All chords that begin in a bar, by its number.
    Bar(String),
    /// A chord by its name.
    Name(ChordSymbol),
    /// A kind of chord that goes down a fifth to minor.
    ToMinor(Chord),
    /// A kind of chord that goes down a half step.
    DownHalfStep(Chord),
    /// A kind of chord.
    Kind(Chord),
}

/// What is chosen of a kind of chord.
type OfKind = fn(Chord) -> Occasion;

/// Words after a kind that say where its chord goes.
const MOTIONS: [(&str, OfKind); 2] = [
    (" to minor", Occasion::ToMinor),
    (" down a half step", Occasion::DownHalfStep),
];

/// What a lesson says of scales for chords; `None` where unclear.
pub(crate) fn choices(
    walk: &Walk<'_>,
    scales: &[ScaleText],
    report: &mut Report<'_>,
) -> Option<Vec<(Spanned<Occasion>, LessonScale)>> {
    let Some(node) = walk.node("choose") else {
        return Some(Vec::new());
    };
    let Value::Table(table) = &node.value else {
        let help = "write [choose] alone on a line, and \"7\" = \"mixolydian\" below it";
        wrong_kind("choose", node, &node.value, help, report);
        return None;
    };
    if too_many(table.entries.len(), limit::SCALES * 4, &node.span, report) {
        return None;
    }
    let before = report.count();
    let choices: Vec<_> = table
        .entries
        .iter()
        // A key set aside has its mistake already.
        .filter(|entry| !entry.aside)
        .filter_map(|entry| {
            let chosen = chosen(entry, report).map(|value| Spanned {
                value,
                span: entry.key_span.clone(),
            });
            let scale = scale(entry, scales, report);
            chosen.zip(scale)
        })
        .collect();
    (report.count() == before).then_some(choices)
}

fn chosen(entry: &Entry, report: &mut Report<'_>) -> Option<Occasion> {
    if let Some(bar) = folded(&entry.key).strip_prefix("bar ") {
        return Some(Occasion::Bar(bar.to_owned()));
    }
    let key = entry.key.trim();
    let moving = MOTIONS
        .iter()
        .find_map(|(words, chosen)| Some((key.strip_suffix(words)?, *chosen)));
    let (kind, of_kind) = moving.unwrap_or((key, Occasion::Kind));
    match Chord::parse(kind) {
        Ok(kind) => Some(of_kind(kind)),
        Err(_) if moving.is_none() && key.parse::<ChordSymbol>().is_ok() => {
            key.parse().ok().map(Occasion::Name)
        }
        Err(error) => {
            let mut mistake = name_fault(&entry.key_span, &error, "chord", "chords");
            mistake.help +=
                "; or write \"Db7\", \"7 to minor\", \"7 down a half step\" or \"bar 3\"";
            report.note(mistake);
            None
        }
    }
}

/// A scale of the lesson, or of the catalogue.
fn scale(entry: &Entry, scales: &[ScaleText], report: &mut Report<'_>) -> Option<LessonScale> {
    let words = as_text(&entry.key, &entry.node, report)?;
    let text = Text {
        value: words,
        span: entry.node.span.clone(),
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
            report.note(name_fault(&text.span, &error, "scale", "scales"));
            None
        }
    }
}
