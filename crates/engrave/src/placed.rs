//! What stands on a staff while it is drawn, at its place.

use crate::event::Event;
use crate::mark::{Mark, NotePlace};
use crate::place::{Ink, Sp};
use crate::rows::{PlacedChord, PlacedLabel};
use crate::stem::{MIDDLE_PLACE, Stem};

/// A staff, y counted from its top line.
#[derive(Debug, Default)]
pub(crate) struct Staff<'a> {
    pub(crate) marks: Vec<Mark>,
    pub(crate) notes: Vec<NotePlace>,
    pub(crate) inks: Vec<Ink>,
    pub(crate) chords: Vec<PlacedChord<'a>>,
    pub(crate) labels: Vec<PlacedLabel<'a>>,
    /// Words over a place, and where they begin.
    pub(crate) cues: Vec<(Sp, &'a str)>,
}

/// A note, rest or slash at its place.
#[derive(Debug)]
pub(crate) struct PlacedNote<'a> {
    pub(crate) event: &'a Event<'a>,
    /// The head's left edge.
    pub(crate) x: Sp,
    /// Its stem, under a beam as long as that makes it.
    pub(crate) stem: Option<Stem>,
    /// Its place among the staff's notes; none for what isn't drawn.
    pub(crate) note: Option<usize>,
    /// All its ink.
    pub(crate) inks: Vec<Ink>,
}

impl PlacedNote<'_> {
    /// The middle of its head or rest.
    pub(crate) fn middle(&self) -> Sp {
        self.x + self.event.width / 2
    }

    /// From its highest ink to its lowest.
    pub(crate) fn reach(&self) -> (Sp, Sp) {
        let top = self.inks.iter().map(|ink| ink.top).min();
        let bottom = self.inks.iter().map(|ink| ink.bottom).max();
        (top.unwrap_or(2000), bottom.unwrap_or(2000))
    }

    /// Whether its head's side, away from the stem, is above.
    pub(crate) fn heads_above(&self) -> bool {
        match self.stem {
            Some(stem) => !stem.up,
            None => self.event.place >= MIDDLE_PLACE,
        }
    }
}
