//! How the notes of a statement are played.

use lesson::FigureMarks;
use score::Marks;

/// The marks of a note by its number in the statement, from 1; of tied pieces
/// what a note begins with stands on the first, what it ends with on the last.
pub(crate) fn marks(figure: &FigureMarks, number: u16, first: bool, last: bool) -> Marks {
    let has = |numbers: &[u16]| first && numbers.contains(&number);
    let slurs = &figure.slurs;
    Marks {
        slur_ends: last && slurs.iter().any(|(_, to)| *to == number),
        slur_begins: first && slurs.iter().any(|(from, _)| *from == number),
        accent: has(&figure.accents),
        staccato: has(&figure.staccato),
        tenuto: has(&figure.tenuto),
        ..Marks::default()
    }
}
