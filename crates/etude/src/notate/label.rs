//! Rows of labels under the notes.

use std::borrow::Cow;
use std::cmp::Ordering;

use lesson::{Label, NoteNames};
use rhythm::CountWord;
use score::{Lyric, Lyrics};
use theory::{Degree, Instrument, Lengthening, LineTone, Pitch, Tone};

use crate::spell::note_name::{note_name, solfege};

/// What a note's labels are made from.
#[derive(Debug, Clone, Copy)]
pub(crate) struct LabelSubject<'a> {
    pub count: Option<CountWord>,
    pub pitch: Pitch,
    pub degree: Degree,
    pub tone: LineTone,
    /// The rung sounded before it in the same statement, if any.
    pub from: Option<i32>,
    /// Whether it is the root that closes an exercise.
    pub closing: bool,
    /// Rungs to the octave.
    pub size: i32,
    /// Whether the scale's third is minor.
    pub minor: bool,
    /// Whether it was named by its degree, no move leading to it.
    pub literal: bool,
    pub names: NoteNames,
    /// Who plays it.
    pub instrument: &'a Instrument,
}

/// The rows that an instrument can have, and those it can't: valves only stand
/// under notes for valves, positions only under those for slides.
pub(crate) fn rows_for(rows: &[Label], instrument: &Instrument) -> (Vec<Label>, Vec<Label>) {
    let lengthening = instrument.tube.map(|tube| tube.lengthening);
    rows.iter().partition(|row| match row {
        Label::Valves => lengthening == Some(Lengthening::Valves),
        Label::Positions => lengthening == Some(Lengthening::Slide),
        Label::Degrees | Label::Counts | Label::Moves | Label::NoteNames | Label::Solfege => true,
    })
}

/// The labels of one note, row by row.
pub(crate) fn labels(rows: &[Label], note: LabelSubject) -> Lyrics {
    let mut lyrics: Lyrics = [const { None }; 4];
    for (lyric, row) in lyrics.iter_mut().zip(rows) {
        *lyric = match row {
            // An ornament is no degree.
            Label::Degrees => matches!(note.tone.tone, Tone::Rung(_)).then(|| degree(note.degree)),
            Label::Counts => note.count.map(count),
            Label::Moves if note.literal => None,
            Label::Moves if note.closing => Some(Cow::Borrowed("root")),
            Label::Moves => Some(made_move(note.tone, note.from, note.size)),
            Label::NoteNames => Some(Cow::Owned(note_name(note.pitch.name(), note.names))),
            Label::Solfege => Some(Cow::Borrowed(solfege(note.degree, note.minor))),
            Label::Valves | Label::Positions => {
                let fingering = note.instrument.fingering(note.pitch);
                fingering.map(|fingering| Cow::Owned(fingering.to_string()))
            }
        };
    }
    lyrics
}

fn degree(degree: Degree) -> Lyric {
    // One flat, none, one sharp.
    const NAMES: [[&str; 7]; 3] = [
        ["♭1", "♭2", "♭3", "♭4", "♭5", "♭6", "♭7"],
        ["1", "2", "3", "4", "5", "6", "7"],
        ["♯1", "♯2", "♯3", "♯4", "♯5", "♯6", "♯7"],
    ];
    let names = usize::try_from(degree.alteration + 1).ok();
    let names = names.and_then(|place| NAMES.get(place));
    names
        .and_then(|names| names.get(usize::from(degree.number).wrapping_sub(1)))
        .map_or_else(|| Cow::Owned(degree.signs()), |name| Cow::Borrowed(*name))
}

fn count(word: CountWord) -> Lyric {
    const NUMBERS: [&str; 12] = [
        "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12",
    ];
    match word {
        CountWord::Number(number) => match NUMBERS.get(usize::from(number).wrapping_sub(1)) {
            Some(name) => Cow::Borrowed(*name),
            None => Cow::Owned(number.to_string()),
        },
        CountWord::And => Cow::Borrowed("&"),
        CountWord::E => Cow::Borrowed("e"),
        CountWord::A => Cow::Borrowed("a"),
        CountWord::Trip => Cow::Borrowed("trip"),
        CountWord::Let => Cow::Borrowed("let"),
        CountWord::La => Cow::Borrowed("la"),
        CountWord::Li => Cow::Borrowed("li"),
    }
}

/// How the line came to a note: `start`, `+1`, `−2`, `=`, or the ornament.
fn made_move(tone: LineTone, from: Option<i32>, size: i32) -> Lyric {
    // By steps; the octave last.
    const DOWN: [&str; 8] = ["−1", "−2", "−3", "−4", "−5", "−6", "−7", "−8"];
    const UP: [&str; 8] = ["+1", "+2", "+3", "+4", "+5", "+6", "+7", "+8"];
    let rung = match tone.tone {
        Tone::Above(_) => return Cow::Borrowed("above"),
        Tone::Below(_) => return Cow::Borrowed("below"),
        Tone::Rung(rung) => rung.0,
    };
    let Some(from) = from else {
        return Cow::Borrowed("start");
    };
    let (sign, names) = match rung.cmp(&from) {
        Ordering::Equal => return Cow::Borrowed("="),
        Ordering::Less => ("−", DOWN),
        Ordering::Greater => ("+", UP),
    };
    let [.., octave] = names;
    match rung.abs_diff(from) {
        steps if steps == size.unsigned_abs() => Cow::Borrowed(octave),
        steps => match names.get(steps as usize - 1) {
            Some(name) => Cow::Borrowed(*name),
            None => Cow::Owned(format!("{sign}{steps}")),
        },
    }
}
