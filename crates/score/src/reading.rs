//! A score read back as what sounds: tied notes joined.

use rhythm::{Fraction, Ticks};
use theory::Pitch;

use crate::{Element, Marks, Note, Origin, Score, Slash};

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

/// A note, or a slash, with all that is tied to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TieChain<'a, T> {
    /// Its first piece, which has its labels and most of its marks.
    pub first: &'a T,
    /// Its last piece, which has what it ends with.
    pub last: &'a T,
    /// Ticks from the beginning of the sheet.
    pub onset: Ticks,
    /// Ticks.
    pub length: Ticks,
}

impl TieChain<'_, Note> {
    /// The marks of the whole.
    pub fn marks(&self) -> Marks {
        let last = self.last.marks;
        let first = self.first.marks;
        Marks {
            slur_ends: first.slur_ends || last.slur_ends,
            breath: first.breath || last.breath,
            fall: first.fall || last.fall,
            doit: first.doit || last.doit,
            ..first
        }
    }
}

impl Score {
    /// The notes in order, ties joined.
    pub fn notes(&self) -> Vec<TieChain<'_, Note>> {
        let notes = self.elements().filter_map(|(at, element)| match element {
            Element::Note(note) => Some((at, note)),
            Element::Rest(_) | Element::Slash(_) => None,
        });
        chains(notes, |note| note)
    }

    /// The slashes in order, ties joined.
    pub fn slashes(&self) -> Vec<TieChain<'_, Slash>> {
        let slashes = self.elements().filter_map(|(at, element)| match element {
            Element::Slash(slash) => Some((at, slash)),
            Element::Rest(_) | Element::Note(_) => None,
        });
        chains(slashes, |slash| &slash.note)
    }
}

fn chains<'a, T>(
    pieces: impl Iterator<Item = (Ticks, &'a T)>,
    note: impl Fn(&T) -> &Note,
) -> Vec<TieChain<'a, T>> {
    let mut chains: Vec<TieChain<'a, T>> = Vec::new();
    for (onset, piece) in pieces {
        let length = Ticks::from(note(piece).written.length);
        match chains.last_mut().filter(|_| note(piece).tied_from) {
            Some(chain) => {
                chain.last = piece;
                chain.length += length;
            }
            None => chains.push(TieChain {
                first: piece,
                last: piece,
                onset,
                length,
            }),
        }
    }
    chains
}

/// The notes of a score in order, ties joined.
pub fn sounding_notes(score: &Score) -> Vec<SoundingNote> {
    let transposition = score.part.transposition;
    let to_sound = transposition.map(|t| t.interval()).unwrap_or_default();
    let sounding = |chain: TieChain<'_, Note>| SoundingNote {
        written: chain.first.pitch,
        sounding: chain.first.pitch + to_sound,
        onset: score.quarters(chain.onset),
        length: score.quarters(chain.length),
        origin: chain.first.origin,
    };
    score.notes().into_iter().map(sounding).collect()
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

    #[test]
    fn what_a_tied_note_ends_with_stands_on_its_last_piece() {
        let marked = |marks: Marks, from, to| {
            Element::Note(Note {
                marks,
                ..tied("E5", 2, from, to)
            })
        };
        let first = Marks {
            slur_begins: true,
            accent: true,
            ghost: true,
            ..Marks::default()
        };
        let last = Marks {
            slur_ends: true,
            breath: true,
            fall: true,
            doit: true,
            ghost: true,
            staccato: true,
            ..Marks::default()
        };
        let sheet = score(
            4,
            [vec![
                marked(first, false, true),
                marked(Marks::default(), true, true),
                marked(last, true, false),
                marked(last, false, false),
            ]],
        );
        let chains = sheet.notes();
        let times: Vec<_> = chains.iter().map(|one| (one.onset, one.length)).collect();
        assert_eq!(times, [(0, 6), (6, 2)]);
        let whole = Marks {
            slur_begins: true,
            accent: true,
            staccato: false,
            ..last
        };
        assert_eq!([chains[0].marks(), chains[1].marks()], [whole, last]);
    }

    #[test]
    fn slashes_are_joined_apart_from_notes() {
        let slash = |from, to| {
            Element::Slash(Slash {
                note: tied("B4", 3, from, to),
                rhythmic: true,
            })
        };
        let sheet = score(
            3,
            [
                vec![note("C5", 3), slash(false, true)],
                vec![slash(true, false), slash(false, false), rest(3)],
            ],
        );
        let times: Vec<_> = sheet
            .slashes()
            .iter()
            .map(|one| (one.onset, one.length))
            .collect();
        assert_eq!(times, [(3, 6), (9, 3)]);
        assert_eq!(sheet.notes().len(), 1);
    }
}
