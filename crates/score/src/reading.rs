//! A score read back as what sounds: tied notes joined.

use rhythm::{Fraction, Ticks};
use theory::Pitch;

use crate::{Element, Origin, Score};

/// One sounding note.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SoundingNote {
    /// As written.
    pub written: Pitch,
    /// As it sounds.
    pub sounding: Pitch,
    /// Quarters from the beginning of the sheet.
    pub onset: Fraction,
    /// Quarters.
    pub length: Fraction,
    /// Where it came from.
    pub origin: Origin,
}

/// The notes of a score in order, ties joined.
pub fn sounding_notes(score: &Score) -> Vec<SoundingNote> {
    let to_sound = score.part.transposition.map(|t| t.interval()).unwrap_or_default();
    let quarters = |ticks: Ticks| Fraction::new(ticks, i64::from(score.divisions));
    let mut notes: Vec<SoundingNote> = Vec::new();
    let mut at: Ticks = 0;
    for element in score.part.measures.iter().flat_map(|measure| &measure.elements) {
        let length = Ticks::from(element.written().length);
        if let Element::Note(note) = element {
            match notes.last_mut() {
                Some(last) if note.tied_from => last.length += quarters(length),
                _ => notes.push(SoundingNote {
                    written: note.pitch,
                    sounding: note.pitch + to_sound,
                    onset: quarters(at),
                    length: quarters(length),
                    origin: note.origin,
                }),
            }
        }
        at += length;
    }
    notes
}
