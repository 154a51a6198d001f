//! Measures and what stands over them.

use std::borrow::Cow;
use std::fmt;

use rhythm::{Fraction, Meter, NoteValue};
use theory::KeySignature;

use crate::Element;

/// A measure.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Measure {
    /// Its number in the sheet; 0 for a pickup before bar 1. Unique.
    pub number: u32,
    /// Set for an exercise's pickup that is not the sheet's first measure:
    /// such a measure is numbered `X1`, `X2` and so on.
    pub extra: bool,
    /// The number that is printed, where it isn't `number`: in a book it begins
    /// with 1 in each exercise.
    pub shown: Option<u32>,
    /// A short bar that is not counted: a pickup.
    pub implicit: bool,
    /// Whether a new system or page begins here.
    pub begins: Option<Break>,
    /// A key signature that is printed here.
    pub key: Option<KeySignature>,
    /// A meter that is printed here.
    pub meter: Option<Meter>,
    /// What stands over the measure's beginning, in order.
    pub directions: Vec<Direction>,
    /// Words over places within it, in order.
    pub cues: Vec<Cue>,
    /// Notes and rests; they fill it exactly.
    pub elements: Vec<Element>,
    /// How it ends, if not with a plain barline.
    pub barline: Option<Barline>,
}

impl Measure {
    /// Its label, unique in the score, as the standard writes it: `12`, `X1`
    /// of a pickup that isn't the first measure.
    pub fn label(&self) -> MeasureLabel {
        MeasureLabel {
            extra: self.extra,
            number: self.number,
        }
    }

    /// The number that is printed: its own, or the one that is shown instead.
    pub fn printed_number(&self) -> u32 {
        self.shown.unwrap_or(self.number)
    }

    /// The tempo that is printed over it, if one is.
    pub fn tempo(&self) -> Option<TempoMark> {
        let directions = self.directions.iter().rev();
        let mut marks = directions.filter_map(|direction| match direction {
            Direction::Tempo(mark) => Some(*mark),
            _ => None,
        });
        marks.next()
    }

    /// Ticks.
    pub fn length(&self) -> u32 {
        let lengths = self.elements.iter().map(|element| element.written().length);
        lengths.sum()
    }
}

/// A measure's label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MeasureLabel {
    extra: bool,
    number: u32,
}

impl fmt::Display for MeasureLabel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.extra { "X" } else { "" };
        write!(f, "{sign}{}", self.number)
    }
}

/// Words of the teacher's over a place in a measure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cue {
    /// Ticks from the measure's beginning; where a note, a rest or a slash
    /// begins.
    pub at: u32,
    /// What stands there.
    pub words: String,
}

/// Where a line or page begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Break {
    /// A new system.
    System,
    /// A new page.
    Page,
}

/// A special barline.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Barline {
    /// Between exercises.
    Double,
    /// The end.
    Final,
}

/// So many beats a minute of a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct TempoMark {
    /// The beat's value.
    pub beat: NoteValue,
    /// Beats a minute.
    pub per_minute: u16,
}

impl TempoMark {
    /// Quarters a minute, exact.
    pub fn quarters_per_minute(self) -> Fraction {
        self.beat.quarters() * i64::from(self.per_minute)
    }
}

/// A row of tempos in words: a box to tick before each.
pub fn boxes_in_words(tempos: &[u16]) -> String {
    let boxes: Vec<String> = tempos.iter().map(|tempo| format!("□ {tempo}")).collect();
    boxes.join("   ")
}

/// What stands over a measure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Direction {
    /// The letter of the exercise that begins here.
    Rehearsal(String),
    /// The name of a section of the changes that begins here.
    Section(String),
    /// The heading of the exercise that begins here.
    Heading(Cow<'static, str>),
    /// A paragraph of the teacher's, under the heading.
    Text(String),
    /// Other words over the staff.
    Words(Cow<'static, str>),
    /// A row of tempos to tick, in beats a minute.
    Tempos(Vec<u16>),
    /// How fast, from here on.
    Tempo(TempoMark),
    /// How loud, in the standard's letters: `pp` to `ff`.
    Dynamic(&'static str),
    /// Swing eighths, in words and as the standard's element, from here on.
    Swing,
    /// Straight eighths again.
    Straight,
}

#[cfg(test)]
mod tests {
    use rhythm::ValueKind;

    use super::*;
    use crate::sample::{note, rest};

    fn mark(dots: u8, per_minute: u16) -> TempoMark {
        TempoMark {
            beat: NoteValue {
                kind: ValueKind::Quarter,
                dots,
                tuplet: None,
            },
            per_minute,
        }
    }

    #[test]
    fn a_measures_length_tempo_and_number() {
        let mut measure = Measure {
            number: 3,
            elements: vec![note("C5", 5), rest(2)],
            ..Measure::default()
        };
        assert_eq!((measure.length(), measure.tempo()), (7, None));
        assert_eq!(
            (measure.printed_number(), measure.label().to_string()),
            (3, "3".to_owned())
        );
        measure.shown = Some(1);
        measure.extra = true;
        assert_eq!(
            (measure.printed_number(), measure.label().to_string()),
            (1, "X3".to_owned())
        );
        // The last one that is printed is in force.
        let tempos = [mark(0, 60), mark(1, 72)].map(Direction::Tempo);
        measure.directions = tempos.into_iter().chain([Direction::Swing]).collect();
        assert_eq!(measure.tempo(), Some(mark(1, 72)));
    }

    #[test]
    fn quarters_a_minute_are_exact() {
        let check = |dots, per_minute, expected: (i64, i64)| {
            let found = mark(dots, per_minute).quarters_per_minute();
            assert_eq!(found, Fraction::new(expected.0, expected.1));
        };
        check(0, 96, (96, 1));
        check(1, 63, (189, 2));
        check(2, 1, (7, 4));
    }
}
