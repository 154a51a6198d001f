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
    let to_sound = score
        .part
        .transposition
        .map(|t| t.interval())
        .unwrap_or_default();
    let quarters = |ticks: Ticks| Fraction::new(ticks, i64::from(score.divisions.max(1)));
    let mut notes: Vec<SoundingNote> = Vec::new();
    let mut at: Ticks = 0;
    for element in score
        .part
        .measures
        .iter()
        .flat_map(|measure| &measure.elements)
    {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Transposition;
    use crate::sample::{note, rest, score, tied};

    #[test]
    fn tied_notes_sound_as_one() {
        let check = |divisions, bars: [Vec<Element>; 2], expected: &str| {
            let read: Vec<_> = sounding_notes(&score(divisions, bars))
                .into_iter()
                .map(|note| format!("{} {} {}", note.sounding, note.onset, note.length))
                .collect();
            assert_eq!(read.join(", "), expected);
        };
        let piece = |pitch, length, from, to| Element::Note(tied(pitch, length, from, to));
        check(
            4,
            [vec![note("C5", 4), rest(4), note("D5", 2)], vec![]],
            "C5 0 1, D5 2 1/2",
        );
        check(
            2,
            [
                vec![piece("E5", 3, false, true), piece("E5", 2, true, true)],
                vec![piece("E5", 2, true, false)],
            ],
            "E5 0 7/2",
        );
        check(
            3,
            [vec![note("E5", 2), note("E5", 1)], vec![rest(3)]],
            "E5 0 2/3, E5 2/3 1/3",
        );
        check(1, [vec![rest(4)], vec![]], "");
        check(0, [vec![note("C5", 4)], vec![]], "C5 0 4");
    }

    #[test]
    fn a_transposed_part_sounds_elsewhere() {
        let mut sheet = score(1, [vec![note("C5", 1)]]);
        // Written C5 on the tenor saxophone sounds B flat 3 (MusicXML 4.0
        // `transpose`: what to add to the written pitch).
        sheet.part.transposition = Some(Transposition {
            diatonic: -1,
            chromatic: -2,
            octave_change: -1,
        });
        let notes = sounding_notes(&sheet);
        assert_eq!(
            (notes[0].written.to_string(), notes[0].sounding.to_string()),
            ("C5".into(), "Bb3".into())
        );
    }
}
