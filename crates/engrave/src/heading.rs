//! What stands over an exercise: its letter, its words, its tempo and feel,
//! and tempos to tick.

use rhythm::{NoteValue, ValueKind};
use score::{Direction, Exercise, Measure};

use crate::mark::{Mark, Role, Shape};
use crate::place::Ink;
use crate::text::wrap_evenly;
use crate::{Line, Style, wrap};

/// What is said over one measure.
#[derive(Debug, Clone, Default)]
pub(crate) struct Heading {
    /// The exercise that begins here, as a table of contents names it.
    pub(crate) opens: Option<String>,
    /// What stands in a frame: an exercise's letter, or a section's name.
    letter: Option<String>,
    words: Vec<(Style, String)>,
    /// Tempo and feel, as a line's text.
    pace: Option<String>,
    boxes: Vec<Vec<String>>,
}

impl Heading {
    /// Everything over a measure but its dynamics, and the exercise that begins
    /// with it.
    pub(crate) fn of(measure: &Measure, exercise: Option<&Exercise>) -> Heading {
        let mut heading = Heading {
            opens: exercise.and_then(title),
            ..Heading::default()
        };
        let mut pace: Vec<String> = Vec::new();
        for direction in &measure.directions {
            match direction {
                Direction::Rehearsal(letter) => heading.letter = Some(letter.clone()),
                // A section's name is boxed like a letter, where there is none.
                Direction::Section(name) if heading.letter.is_none() => {
                    heading.letter = Some(name.clone());
                }
                Direction::Section(name) => heading.words.insert(0, (Style::Bold, name.clone())),
                Direction::Tempos(row) => {
                    heading.boxes.push(row.iter().map(u16::to_string).collect());
                }
                Direction::Heading(words) => {
                    heading.words.push((Style::Bold, words.to_string()));
                }
                Direction::Words(words) => {
                    heading.words.push((Style::Italic, words.to_string()));
                }
                Direction::Text(text) => heading.words.push((Style::Roman, text.clone())),
                Direction::Tempo(mark) => {
                    pace.push(format!("{} = {}", sign(mark.beat), mark.per_minute));
                }
                Direction::Swing => pace.push("Swing".to_owned()),
                Direction::Straight => pace.push("Straight eighths".to_owned()),
                Direction::Dynamic(_) => (),
            }
        }
        heading.pace = (!pace.is_empty()).then(|| pace.join("   "));
        heading
    }

    /// Its lines from top to bottom, within these edges.
    pub(crate) fn lines(&self, left: i32, right: i32, size: i32) -> Vec<HeadingLine> {
        let room = (right - left).max(size);
        let mut lines = Vec::new();
        let indent = self.letter.as_ref().map_or(0, |letter| {
            Line::new().bold(letter).size(size).width() + size * 130 / 100
        });
        for (style, words) in &self.words {
            // Words over a bar, and paragraphs, are smaller than a heading.
            let size = match style {
                Style::Bold => size,
                _ => size * 85 / 100,
            };
            let width = (room - indent).max(size);
            let texts = match style {
                Style::Bold => wrap_evenly(words, *style, size, width),
                _ => wrap(words, *style, size, width),
            };
            for text in texts {
                lines.push(HeadingLine::of(
                    left + indent,
                    Line::new().text(*style, &text).size(size),
                ));
            }
        }
        if let Some(letter) = &self.letter {
            if lines.is_empty() {
                lines.push(HeadingLine::of(left + indent, Line::new().size(size)));
            }
            lines[0].letter = Some((left, letter.clone()));
        }
        if let Some(pace) = &self.pace {
            let line = Line::new().roman(pace).size(size);
            let width = line.width();
            match lines.last_mut() {
                Some(last) if last.right + 2 * size + width <= right => {
                    last.pace.push((right - width, line));
                    last.right = right;
                }
                _ => lines.push(HeadingLine {
                    right: left + width,
                    pace: vec![(left, line)],
                    ..HeadingLine::default()
                }),
            }
        }
        for row in &self.boxes {
            lines.extend(boxes(row, left, right, size));
        }
        lines
    }
}

/// An exercise's letter and heading; none where it has neither.
fn title(exercise: &Exercise) -> Option<String> {
    let heading = Some(exercise.heading.as_str()).filter(|heading| !heading.is_empty());
    match (&exercise.letter, heading) {
        (Some(letter), Some(heading)) => Some(format!("{letter}  {heading}")),
        (Some(letter), None) => Some(letter.clone()),
        (None, heading) => heading.map(str::to_owned),
    }
}

/// One line of a heading, its parts at their places.
#[derive(Debug, Clone, Default)]
pub(crate) struct HeadingLine {
    letter: Option<(i32, String)>,
    words: Vec<(i32, Line)>,
    pace: Vec<(i32, Line)>,
    /// Left edges of boxes to tick.
    boxes: Vec<i32>,
    /// How far it reaches.
    pub(crate) right: i32,
}

impl HeadingLine {
    fn of(left: i32, line: Line) -> HeadingLine {
        HeadingLine {
            right: left + line.width(),
            words: vec![(left, line)],
            ..HeadingLine::default()
        }
    }

    /// Its words with their letter, and its tempo and feel, on a baseline.
    pub(crate) fn marks(&self, baseline: i32, size: i32) -> (Vec<Mark>, Vec<Mark>) {
        let mut words = Vec::new();
        let mut pace = Vec::new();
        if let Some((left, letter)) = &self.letter {
            let line = Line::new().bold(letter).size(size);
            let (margin, width) = (size * 30 / 100, line.width());
            let top = baseline - size * 88 / 100;
            let right = left + width + 2 * margin;
            let ink = Ink::new(*left, top, right, top + size * 112 / 100);
            words.push(frame(Role::Letter, ink, size));
            words.push(Mark::text(Role::Letter, line.at(left + margin, baseline)));
        }
        for (left, line) in &self.words {
            words.push(Mark::text(Role::Text, line.clone().at(*left, baseline)));
        }
        for (left, line) in &self.pace {
            pace.push(Mark::text(Role::Tempo, line.clone().at(*left, baseline)));
        }
        let side = size * 70 / 100;
        for &left in &self.boxes {
            let ink = Ink::new(left, baseline - side, left + side, baseline);
            pace.push(frame(Role::Tempo, ink, size));
        }
        (words, pace)
    }
}

fn frame(role: Role, ink: Ink, size: i32) -> Mark {
    Mark::new(
        role,
        Shape::Frame {
            ink,
            thick: size / 20,
        },
    )
}

/// Tempos with a box before each; what doesn't fit goes into lines of its own.
fn boxes(row: &[String], left: i32, right: i32, size: i32) -> Vec<HeadingLine> {
    let mut lines: Vec<HeadingLine> = Vec::new();
    let gap = size * 90 / 100;
    for tempo in row {
        let line = Line::new().roman(tempo).size(size);
        let width = size + line.width();
        let begins = match lines.last() {
            Some(last) if last.right + gap + width <= right => last.right + gap,
            _ => {
                lines.push(HeadingLine::default());
                left
            }
        };
        if let Some(last) = lines.last_mut() {
            last.boxes.push(begins);
            last.pace.push((begins + size, line));
            last.right = begins + width;
        }
    }
    lines
}

/// A tempo mark's note (SMuFL 1.4, metronome marks).
fn sign(value: NoteValue) -> String {
    let note = match value.kind {
        ValueKind::Breve => '\u{eca0}',
        ValueKind::Whole => '\u{eca2}',
        ValueKind::Half => '\u{eca3}',
        ValueKind::Quarter => '\u{eca5}',
        ValueKind::Eighth => '\u{eca7}',
        ValueKind::Sixteenth => '\u{eca9}',
        ValueKind::ThirtySecond => '\u{ecab}',
        ValueKind::SixtyFourth => '\u{ecad}',
    };
    let dots = std::iter::repeat_n('\u{ecb7}', usize::from(value.dots));
    std::iter::once(note).chain(dots).collect()
}
