//! The count: a rhythm written as it is counted aloud.

use std::ops::Range;

use crate::Fraction;

/// One note or silence of a figure, with the count it begins on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Slot {
    /// Quarters from the figure's first bar line; negative in a pickup.
    pub onset: Fraction,
    /// Quarters to the next count or the figure's end.
    pub length: Fraction,
    /// In parentheses.
    pub silent: bool,
}

/// A note or a silence in time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sound {
    /// Quarters from the first bar line; negative in a pickup.
    pub onset: Fraction,
    /// In quarters, more than 0.
    pub length: Fraction,
    /// Whether it is a silence.
    pub silent: bool,
}

/// What a count has no words for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoWords {
    /// Something begins or ends here, quarters from the first bar line, and no
    /// word says it: finer than a quarter of what is numbered, or no part of
    /// it.
    Between(Fraction),
    /// The thirds and the halves or quarters of what is numbered meet here.
    Mixed(Fraction),
    /// There is nothing to count, or it can't be a figure.
    NoFigure,
}

/// A figure's rhythm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Count {
    /// Notes and silences in order, without gaps from the first to the end.
    pub slots: Vec<Slot>,
    /// Quarters before the first bar line; 0 without a pickup.
    pub pickup: Fraction,
    /// Quarters from one statement's bar line to the next one's: whole bars,
    /// or the felt beats that `length` says.
    pub length: Fraction,
    /// Whether silence is counted where the next pickup begins: after the last
    /// statement it stays silence, and the last note doesn't fill the bar.
    pub closes_with_rest: bool,
    /// How it is counted, for labels in the words that were typed.
    pub counting: Counting,
}

/// How a rhythm is counted aloud.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Counting {
    /// Whether numbers count the beats of a compound meter (`1 la li`, `1 & a`)
    /// and not its units.
    pub beats: bool,
    /// What the thirds of what is numbered are called.
    pub thirds: Thirds,
    /// The lower number that a meter of the numbers would have, where they go
    /// by smaller values than the meter's own: 8 for eighths in 4/4.
    pub lower: Option<u16>,
}

/// What the thirds after a number are called.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Thirds {
    /// `1 trip let`
    #[default]
    TripLet,
    /// `1 la li`
    LaLi,
    /// `1 & a`, in compound meters
    AndA,
}

/// A mistake in a count: where in its text, what, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountMistake {
    /// Bytes of the text at fault.
    pub span: Range<usize>,
    /// Whether it is the `length` text that is at fault, not the count.
    pub in_length: bool,
    /// What is wrong, in a sentence.
    pub message: String,
    /// What to write instead.
    pub help: String,
}

impl Count {
    /// Slots that sound.
    pub fn sounding(&self) -> usize {
        self.slots.iter().filter(|slot| !slot.silent).count()
    }
}

impl CountMistake {
    /// One in the count's text.
    pub(crate) fn in_count(span: Range<usize>, message: String, help: &str) -> CountMistake {
        CountMistake {
            span,
            in_length: false,
            message,
            help: help.to_owned(),
        }
    }

    /// One that is the whole `length` text's.
    pub(crate) fn in_length(text: &str, message: String, help: &str) -> CountMistake {
        CountMistake {
            span: 0..text.len(),
            in_length: true,
            message,
            help: help.to_owned(),
        }
    }
}
