//! The scales of a lesson, by name or by degrees.

use std::borrow::Cow;
use std::ops::Range;

use lesson::LessonScale;
use theory::{Chord, Degree, Scale};

use crate::language::choice::folded;
use crate::language::known_table;
use crate::limit;
use crate::mistakes::mistake::Mistake;
use crate::mistakes::name_fault::name_fault;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned};
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::tree::Table;
use crate::tables::value::page_text;
use crate::tables::walk::{Walk, tables};

/// A scale as the lesson says it.
#[derive(Debug)]
pub(crate) struct ScaleText {
    /// What the rest of the file calls it.
    pub handle: Saying<String>,
    /// The scale and its chord; `None` where unclear.
    pub scale: Option<LessonScale>,
    span: Range<usize>,
}

impl ScaleText {
    /// A scale that the changes bring.
    pub(crate) fn added(scale: LessonScale, span: Range<usize>) -> ScaleText {
        ScaleText {
            handle: Saying::Unsaid,
            scale: Some(scale),
            span,
        }
    }
}

/// Reads `[scale]` or `[[scale]]`; `None` where unclear or missing. Changes,
/// and phrases that move note for note, bring their own.
pub(crate) fn scales(
    walk: &Walk<'_>,
    needed: bool,
    report: &mut Report<'_>,
) -> Option<Vec<ScaleText>> {
    if !walk.has("scale") {
        if !needed {
            return Some(Vec::new());
        }
        let help = "write [scale] alone on a line and name = \"dorian\" below it";
        report.missing(
            &(walk.span.start..walk.span.start),
            "the lesson has no scale",
            help,
        );
    }
    let said = tables(walk, "scale", limit::SCALES, report);
    let scales: Vec<ScaleText> = said
        .said()?
        .value
        .iter()
        .map(|table| read(table, report))
        .collect();
    if scales.len() > 1 {
        for scale in scales.iter().filter(|scale| scale.handle.is_unsaid()) {
            let help = "write name = and what the exercises call it";
            report.missing(&scale.span, "with several scales each needs a name", help);
        }
    }
    unique(scales.iter().map(|scale| &scale.handle), "scale", report);
    Some(scales)
}

/// No two have one name.
pub(crate) fn unique<'a>(
    names: impl Iterator<Item = &'a Saying<String>>,
    what: &str,
    report: &mut Report<'_>,
) {
    let mut taken: Vec<String> = Vec::new();
    for name in names.filter_map(Saying::said) {
        let key = folded(&name.value);
        if taken.contains(&key) {
            let message = format!("a {what} is called {} already", shown(&name.value));
            report.mistake(&name.span, message, "give each a name of its own");
        } else {
            taken.push(key);
        }
    }
}

/// A chord kind, without its root.
pub(crate) fn chord(walk: &Walk<'_>, report: &mut Report<'_>) -> Saying<Chord> {
    walk.text("chord", report).and_then(|text| {
        if matches!(folded(&text.value).as_str(), "" | "none" | "no") {
            let help = "write chord_symbols = false for no chord symbols, or chord = \"maj\" for a major triad";
            report.mistake(&text.span, "chord names no chord", help);
            return None;
        }
        match Chord::parse(text.value.trim()) {
            Ok(chord) => Some(chord),
            Err(error) => {
                report.note(match text.value.trim().parse::<theory::ChordSymbol>() {
                    Ok(symbol) => Mistake::new(
                        text.span,
                        format!("{} names a root too", shown(&text.value)),
                        format!(
                            "write only what follows the root: \"{}\"",
                            symbol.chord.suffix()
                        ),
                    ),
                    Err(_) => name_fault(&text.span, &error, "chord", "chords"),
                });
                None
            }
        }
    })
}

fn read(table: &Table, report: &mut Report<'_>) -> ScaleText {
    let walk = Walk::open(table, known_table::SCALE, report);
    let handle = walk
        .text("name", report)
        .and_then(|text| page_text("name", &text, report));
    let degrees = walk
        .text("degrees", report)
        .and_then(|text| degrees(&text, report));
    let chord = chord(&walk, report);
    if walk.lacks("name") && walk.lacks("degrees") {
        let help = "write name = \"dorian\", or degrees = \"1 2 b3 4 5 6 b7\"";
        report.missing(
            &table.span,
            "this scale says neither its name nor its degrees",
            help,
        );
    }
    let scale = if walk.has("degrees") {
        degrees
            .said()
            .and_then(|degrees| own(&handle, degrees, report))
    } else {
        handle.said().and_then(|name| catalogued(name, report))
    };
    let scale = scale.and_then(|mut scale| {
        // Names, roots and signatures follow the chord that the lesson gives.
        scale.chord = chord.maybe().ok()?.or(scale.chord);
        let chord = scale.chord.clone();
        Some(LessonScale { scale, chord })
    });
    ScaleText {
        handle,
        scale,
        span: table.span.clone(),
    }
}

fn catalogued(name: &Spanned<String>, report: &mut Report<'_>) -> Option<Scale> {
    match Scale::named(&name.value) {
        Ok(scale) => Some(scale),
        Err(error) => {
            report.note(name_fault(&name.span, &error, "scale", "scales"));
            None
        }
    }
}

/// A scale by its degrees; its name is the lesson's own.
fn own(
    handle: &Saying<String>,
    degrees: &Spanned<Vec<Degree>>,
    report: &mut Report<'_>,
) -> Option<Scale> {
    let mut scale = match Scale::from_degrees(&degrees.value) {
        Ok(scale) => scale,
        Err(message) => {
            let help = "write the degrees from 1 upward, each once: \"1 2 b3 4 5 6 b7\"";
            report.mistake(&degrees.span, message, help);
            return None;
        }
    };
    match handle {
        Saying::Unsaid => {}
        Saying::Unclear => return None,
        Saying::Said(name) => {
            if let Ok(known) = Scale::named(&name.value) {
                if known.degrees != degrees.value {
                    let formula: Vec<String> =
                        known.degrees.iter().map(Degree::to_string).collect();
                    let help = format!(
                        "{} is {}: leave one of the two out, or give it another name",
                        known.name,
                        formula.join(" ")
                    );
                    report.mistake(
                        &degrees.span,
                        "name and degrees say two different scales",
                        help,
                    );
                    return None;
                }
                return Some(known);
            }
            scale.name = Cow::Owned(name.value.clone());
        }
    }
    Some(scale)
}

pub(crate) fn degrees(text: &Text, report: &mut Report<'_>) -> Option<Vec<Degree>> {
    let before = report.count();
    let mut degrees = Vec::new();
    for (part, word) in split(&text.value, |c| c.is_whitespace() || c == ',') {
        match word.parse::<Degree>() {
            Ok(degree) => degrees.push(degree),
            Err(_) => {
                let help =
                    "write a number from 1 to 7, with b or # before it where it is altered: b3, #4";
                report.mistake(
                    &text.part(report, &part),
                    format!("{} is no degree of a scale", shown(word)),
                    help,
                );
            }
        }
    }
    (report.count() == before).then_some(degrees)
}

/// The words between separators, with the bytes they stand at.
pub(crate) fn split(text: &str, separates: impl Fn(char) -> bool) -> Vec<(Range<usize>, &str)> {
    let mut words = Vec::new();
    let mut start = 0;
    let ends = text
        .char_indices()
        .filter(|(_, c)| separates(*c))
        .map(|(at, c)| (at, c.len_utf8()));
    for (end, length) in ends.chain([(text.len(), 0)]) {
        if end > start {
            words.push((start..end, &text[start..end]));
        }
        start = end + length;
    }
    words
}
