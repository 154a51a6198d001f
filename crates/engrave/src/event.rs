//! A note, rest or slash with its place on the staff.

use rhythm::ValueKind;
use score::{Element, Note};

use crate::mark::Mark;
use crate::place::{Ink, Sp};
use crate::stem::Stem;

/// A note, rest or slash in its bar.
#[derive(Debug)]
pub(crate) struct Event<'a> {
    pub(crate) element: &'a Element,
    /// Ticks from the bar's beginning.
    pub(crate) onset: u32,
    /// Steps over the bottom line.
    pub(crate) place: i32,
    /// As a note by itself has it; under a beam only the direction counts.
    pub(crate) stem: Option<Stem>,
    /// Whether its stem ends in a beam.
    pub(crate) beamed: bool,
    /// What stands around its place whatever the stem's length, x counted from
    /// the head's left edge.
    pub(crate) marks: Vec<Mark>,
    /// The ink of all that, and of the stem and its flags.
    pub(crate) inks: Vec<Ink>,
    /// The head's, or the rest's, width.
    pub(crate) width: Sp,
}

impl Event<'_> {
    /// The note, or what a slash has of one.
    pub(crate) fn note(&self) -> Option<&Note> {
        match self.element {
            Element::Note(note) => Some(note),
            Element::Slash(slash) => Some(&slash.note),
            Element::Rest(_) => None,
        }
    }

    pub(crate) fn length(&self) -> u32 {
        self.element.written().length
    }

    /// How far its ink reaches to the left of the head's edge, and to the
    /// right.
    pub(crate) fn reach(&self) -> (Sp, Sp) {
        self.inks.iter().fold((0, 0), |(left, right), ink| {
            (left.min(ink.left), right.max(ink.right))
        })
    }

    /// Whether it fills a silent bar.
    pub(crate) fn is_bar_rest(&self) -> bool {
        matches!(self.element, Element::Rest(rest) if rest.whole_bar)
    }

    /// Whether nothing of it is drawn.
    pub(crate) fn is_hidden(&self) -> bool {
        matches!(self.element, Element::Rest(rest) if rest.hidden)
    }
}

/// Flags, or beams, that a value has.
pub(crate) fn flags(kind: ValueKind) -> usize {
    match kind {
        ValueKind::Eighth => 1,
        ValueKind::Sixteenth => 2,
        ValueKind::ThirtySecond => 3,
        ValueKind::SixtyFourth => 4,
        ValueKind::Quarter | ValueKind::Half | ValueKind::Whole | ValueKind::Breve => 0,
    }
}
