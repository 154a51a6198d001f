//! How the notes of a statement are played.

use lesson::FigureMarks;
use score::Marks;

/// Where a note stands in its line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct NotePosition {
    /// Its number in the statement, from 1; 0 for one that is none of the
    /// figure's.
    pub number: u16,
    /// Whether it is the first, and the last, of the pieces it is tied of.
    pub first: bool,
    pub last: bool,
    /// The number of the note before it, where that belongs to the statement
    /// before and lasts until it.
    pub after: Option<u16>,
    /// Whether another statement's note, or the closing root, follows at once.
    pub leads_on: bool,
}

/// The marks of a note; of tied pieces what a note begins with stands on the
/// first, what it ends with on the last.
pub(crate) fn marks(figure: &FigureMarks, note: NotePosition) -> Marks {
    let NotePosition {
        number,
        first,
        last,
        after,
        leads_on,
    } = note;
    let has = |numbers: &[u16]| numbers.contains(&number);
    let slurs = &figure.slurs;
    let to_next = figure.slur_to_next;
    Marks {
        slur_ends: last
            && (slurs.iter().any(|(_, to)| *to == number)
                || (to_next.is_some() && after == to_next)),
        slur_begins: first
            && (slurs.iter().any(|(from, _)| *from == number)
                || (leads_on && to_next == Some(number))),
        accent: first && has(&figure.accents),
        staccato: first && has(&figure.staccato),
        tenuto: first && has(&figure.tenuto),
        breath: false,
        ghost: has(&figure.ghosts),
        fall: last && has(&figure.falls),
        scoop: first && has(&figure.scoops),
        doit: last && has(&figure.doits),
    }
}
