//! The figures of a lesson: a line in words, on a count, in a meter.

use std::ops::Range;

use lesson::{Figure, FigureMarks, Moves};
use rhythm::{Count, CountMistake, Meter};

use crate::language::choice::folded;
use crate::language::known_table;
use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned, Unclear};
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::tree::Table;
use crate::tables::value::page_text;
use crate::tables::walk::{Walk, tables};
use crate::typed::figures::agree::silences;
use crate::typed::figures::figure_marks::{figure_marks, kept_notes};
use crate::typed::figures::literal::{LiteralText, is_literal, literal};
use crate::typed::figures::mismatch::{CountWords, beats, compare};
use crate::typed::figures::moves::{self, moves};
use crate::typed::figures::note_words::{Numbers, note_words};
use crate::typed::figures::wording::{MoveWord, Wording};
use crate::typed::scale::unique;

/// A figure as the lesson says it; no scale is known yet.
#[derive(Debug)]
pub(crate) struct FigureText {
    /// What the rest of the file calls it.
    pub name: Saying<String>,
    /// Its line and rhythm, agreed; `None` where unclear.
    pub cell: Option<Cell>,
    /// Whether it is meant as a phrase that moves note for note.
    pub literal: bool,
    span: Range<usize>,
}

/// A figure whose line and rhythm agree.
#[derive(Debug)]
pub(crate) struct Cell {
    pub meter: Meter,
    pub count: Count,
    /// Where the count is said, or the line if it isn't.
    pub count_span: Range<usize>,
    pub wording: Wording,
    /// What a phrase says that moves note for note.
    pub literal: Option<LiteralText>,
    pub flipped: Option<Vec<Spanned<MoveWord>>>,
    /// Notes whose moves the plain flip leaves as they are.
    pub unflipped: Vec<usize>,
    /// The line as a sheet prints it.
    pub said: String,
    pub marks: FigureMarks,
}

impl Cell {
    /// The figure that goes this way; its name is the lesson's to say.
    pub(crate) fn figure(&self, moves: Moves, flipped: Option<Moves>) -> Figure {
        Figure {
            name: None,
            meter: self.meter.clone(),
            count: self.count.clone(),
            moves,
            literal: None,
            flipped,
            unflipped: self.unflipped.clone(),
            variant: None,
            variant_heading: None,
            moves_said: self.said.clone(),
            marks: self.marks.clone(),
        }
    }
}

/// Reads `[figure]` or `[[figure]]`; `None` where unclear.
pub(crate) fn figures(walk: &Walk<'_>, report: &mut Report<'_>) -> Option<Vec<FigureText>> {
    let said = match tables(walk, "figure", limit::FIGURES, report) {
        Saying::Unsaid => return Some(Vec::new()),
        said => said,
    };
    let figures: Vec<FigureText> = said
        .said()?
        .value
        .iter()
        .map(|table| read(table, report))
        .collect();
    if figures.len() > 1 {
        for figure in figures.iter().filter(|figure| figure.name.is_unsaid()) {
            let help = "write name = and what the exercises call it";
            report.missing(&figure.span, "with several figures each needs a name", help);
        }
    }
    unique(figures.iter().map(|figure| &figure.name), "figure", report);
    Some(figures)
}

fn read(table: &Table, report: &mut Report<'_>) -> FigureText {
    let walk = Walk::open(table, known_table::FIGURE, report);
    let name = walk
        .text("name", report)
        .and_then(|text| page_text("name", &text, report));
    let cell = cell(&walk, report).and_then(|cell| {
        let marks = figure_marks(&walk, cell.count.sounding(), report)?;
        Some(Cell { marks, ..cell })
    });
    let literal = walk.switch("literal", &mut Report::new(report.source));
    FigureText {
        name,
        cell,
        literal: literal.or(false) != Some(false),
        span: table.span.clone(),
    }
}

fn cell(walk: &Walk<'_>, report: &mut Report<'_>) -> Option<Cell> {
    let is_literal = is_literal(walk, report);
    let meter = meter(walk, report);
    let line = line(walk, report);
    let flipped = walk
        .text("flipped", report)
        .and_then(|text| moves(&text, report));
    let unflipped = unflipped(walk, report);
    let count_text = walk
        .text("count", report)
        .and_then(|text| short(text, report));
    let length = walk.text("length", report);
    let meter = meter?;
    length.maybe().ok()?;
    let literal = match is_literal {
        Some(true) => Some(literal(walk, &meter, report)),
        _ => None,
    };
    let lower = numbers(walk, &meter, report).maybe().ok()?;
    let counting = CountText {
        said: &count_text,
        meter: &meter,
        lower,
        length: &length,
    };
    let counted = counted(&counting, &line, report)?;
    let FigureCount {
        count,
        span: count_span,
        words: count_words,
    } = counted;
    let flipped = flipped.maybe().ok()?;
    if let Some(flipped) = &flipped {
        let words = count_text.said().map(|text| CountWords {
            text,
            words: &count_words,
        });
        compare(&beats(flipped), &count, words, report)?;
    }
    let line = line?;
    is_literal?;
    let literal = match literal {
        Some(said) => Some(said?),
        None => None,
    };
    if let Some(literal) = &literal {
        literal.fits(&meter, &count, report)?;
    }
    let unflipped = match unflipped.ok()? {
        Some(text) => kept_notes(&text, &line.wording.tones(), report)?,
        None => Vec::new(),
    };
    Some(Cell {
        meter,
        count,
        count_span,
        wording: line.wording,
        literal,
        flipped,
        unflipped,
        said: line.said,
        marks: FigureMarks::default(),
    })
}

/// The notes that are kept from being flipped, in words; beside a flip of its own
/// wording they say nothing.
fn unflipped(walk: &Walk<'_>, report: &mut Report<'_>) -> Result<Option<Text>, Unclear> {
    let text = walk.text("unflipped", report);
    if walk.has("flipped") && walk.has("unflipped") {
        report.mistake(
            &walk.key_span("unflipped"),
            "flipped says the whole flip in words of its own",
            "keep flipped or unflipped",
        );
        return Err(Unclear);
    }
    match text {
        Saying::Unsaid => Ok(None),
        Saying::Unclear => Err(Unclear),
        Saying::Said(text) => Ok(Some(text)),
    }
}

/// A count, where it is said, or the line if it isn't, and where each of its
/// slots' words stands in it.
struct FigureCount {
    count: Count,
    span: Range<usize>,
    words: Vec<Range<usize>>,
}

/// How a figure is counted.
struct CountText<'t> {
    said: &'t Saying<String>,
    meter: &'t Meter,
    /// What its numbers are, where that is said.
    lower: Option<u16>,
    length: &'t Saying<String>,
}

/// The count, agreed with the line; even eighths where it isn't said.
fn counted(
    counting: &CountText<'_>,
    line: &Option<Line>,
    report: &mut Report<'_>,
) -> Option<FigureCount> {
    let CountText {
        said,
        meter,
        lower,
        length,
    } = *counting;
    let bars = length.maybe().ok()?;
    let text = match said {
        Saying::Unclear => return None,
        Saying::Said(text) => text,
        Saying::Unsaid => {
            let line = line.as_ref()?;
            let silences = silences(&line.wording.beats());
            let count = Count::even_eighths(&silences, meter, bars.as_deref())
                .map_err(|mistakes| told(&mistakes, None, length, &line.span, report))
                .ok()?;
            return Some(FigureCount {
                count,
                span: line.span.clone(),
                words: Vec::new(),
            });
        }
    };
    let read = Count::read_with_spans(&text.value, meter, lower, bars.as_deref())
        .map_err(|mistakes| told(&mistakes, Some(text), length, &text.span, report))
        .ok();
    if let (Some(line), Some((count, words))) = (line, &read) {
        let words = CountWords { text, words };
        compare(&line.wording.beats(), count, Some(words), report)?;
    }
    let (count, words) = read?;
    Some(FigureCount {
        count,
        span: text.span.clone(),
        words,
    })
}

/// The line of a figure.
struct Line {
    wording: Wording,
    said: String,
    span: Range<usize>,
}

/// `moves`, `degrees` or `rungs`: one of them.
fn line(walk: &Walk<'_>, report: &mut Report<'_>) -> Option<Line> {
    const KEYS: [&str; 3] = ["moves", "degrees", "rungs"];
    let said: Vec<&str> = KEYS.into_iter().filter(|key| walk.has(key)).collect();
    let key = match said.as_slice() {
        [] => {
            if walk.lacks("moves") {
                let help =
                    "write moves = \"start, step up, step up\" under it, or degrees, or rungs";
                report.missing(&walk.span, "this figure doesn't say where it goes", help);
            }
            return None;
        }
        [key] => *key,
        [first, second, ..] => {
            let help = format!("keep {first} or {second}");
            report.mistake(
                &walk.key_span(second),
                format!("{first} and {second} both say where the figure goes"),
                help,
            );
            return None;
        }
    };
    let Saying::Said(text) = walk.text(key, report) else {
        return None;
    };
    let (wording, said) = match key {
        "moves" => {
            let moves = moves(&text, report)?;
            let said = moves::printed(&text.value, &moves);
            (Wording::Moves(moves), said)
        }
        "degrees" => notes(&text, Numbers::Degrees, report)?,
        _ => notes(&text, Numbers::Rungs, report)?,
    };
    Some(Line {
        wording,
        said,
        span: text.span,
    })
}

/// A line of degrees or rungs, and what a sheet prints of it.
fn notes(text: &Text, numbers: Numbers, report: &mut Report<'_>) -> Option<(Wording, String)> {
    let notes = note_words(text, numbers, report)?;
    let what = match numbers {
        Numbers::Degrees => "degrees",
        Numbers::Rungs => "rungs",
    };
    let said = notes.iter().fold(what.to_owned(), |said, note| {
        format!("{said} {}", note.value.printed())
    });
    Some((Wording::Notes(notes), said))
}

fn meter(walk: &Walk<'_>, report: &mut Report<'_>) -> Option<Meter> {
    let said =
        walk.text("meter", report)
            .and_then(|text| match text.value.trim().parse::<Meter>() {
                Ok(meter) => Some(meter),
                Err(error) => {
                    let help =
                        "write it as 4/4, 6/8 or 7/8, with groups where they matter: \"5/4 = 2+3\"";
                    report.mistake(&text.span, error.to_string(), help);
                    None
                }
            });
    match said {
        Saying::Unsaid => "4/4".parse().ok(),
        said => said.said().map(|said| said.value.clone()),
    }
}

/// What the numbers of the count are, by the lower number that a meter of them
/// would have: values smaller than the meter's own.
fn numbers(walk: &Walk<'_>, meter: &Meter, report: &mut Report<'_>) -> Saying<u16> {
    const VALUES: [(&str, u16); 4] = [
        ("quarters", 4),
        ("eighths", 8),
        ("sixteenths", 16),
        ("thirty-seconds", 32),
    ];
    walk.text("numbers", report).and_then(|text| {
        let finer = |lower: &u16| meter.in_units_of(*lower).is_some();
        let typed = folded(&text.value);
        let found = VALUES.iter().find(|(name, _)| folded(name) == typed);
        let value = found.map(|(_, lower)| *lower).filter(finer);
        let known = if walk.has("count") { value } else { None };
        if known.is_none() {
            let fitting = VALUES.iter().filter(|(_, lower)| finer(lower));
            let fitting: Vec<&str> = fitting.map(|(name, _)| *name).collect();
            let (message, help) = match value {
                Some(_) => (
                    "numbers says what a count's numbers are, but there is no count".to_owned(),
                    "write the count, or leave numbers out".to_owned(),
                ),
                None => (
                    format!(
                        "{} aren't smaller than what {meter} counts",
                        shown(&text.value)
                    ),
                    format!("write {}, or leave numbers out", fitting.join(" or ")),
                ),
            };
            report.mistake(&text.span, message, help);
        }
        known
    })
}

fn short(text: Text, report: &mut Report<'_>) -> Option<String> {
    if text.value.len() > limit::COUNT_LETTERS {
        let help = format!("keep it to {} letters", limit::COUNT_LETTERS);
        report.mistake(
            &text.span,
            format!("the count has {} letters", text.value.len()),
            help,
        );
        return None;
    }
    Some(text.value)
}

/// Tells the mistakes of a count at their spans in the file.
fn told(
    mistakes: &[CountMistake],
    count: Option<&Text>,
    length: &Saying<String>,
    otherwise: &Range<usize>,
    report: &mut Report<'_>,
) {
    for mistake in mistakes {
        let text = if mistake.in_length {
            length.said()
        } else {
            count
        };
        let span = text.map_or_else(
            || otherwise.clone(),
            |text| match &mistake.span {
                // An empty text has no words to point at.
                span if span.is_empty() => text.span.clone(),
                span => text.part(report, span),
            },
        );
        report.mistake(&span, mistake.message.clone(), mistake.help.clone());
    }
}
