//! What stands under a note, row by row.

use lesson::{Hide, Label};
use score::Lyrics;
use theory::{Degree, Form, Ladder, Mode, Rung, Tone};

use crate::notate::input::{NotationInput, NotePlace};
use crate::notate::label::{LabelSubject, labels};

/// The rows under a note; one that is left out keeps its place.
pub(crate) fn lyrics(input: &NotationInput, event: usize, place: NotePlace) -> Lyrics {
    let asks = |row| input.print.rows.contains(&row);
    let mut lyrics = labels(
        input.print.rows,
        LabelSubject {
            count: input.timing.counts.get(event).copied().flatten(),
            pitch: place.pitch,
            degree: sounded_degree(place),
            tone: place.tone,
            from: asks(Label::Moves)
                .then(|| rung_before(input, event, input.timing.statements[event]))
                .flatten(),
            closing: place.closes,
            size: place.passage.ladder.size(),
            minor: match input.literal {
                Some(mode) => mode == Mode::Minor,
                None => asks(Label::Solfege) && is_minor(place.passage.ladder),
            },
            literal: input.literal.is_some(),
            names: input.names,
            instrument: input.instrument,
        },
    );
    for (row, lyric) in input.print.rows.iter().zip(&mut lyrics) {
        if tells(*row, input.hide) {
            *lyric = None;
        }
    }
    lyrics
}

/// Whether a row would tell what the student is asked for.
fn tells(row: Label, hide: Option<Hide>) -> bool {
    match hide {
        Some(Hide::Notes) => {
            matches!(row, Label::NoteNames | Label::Valves | Label::Positions)
        }
        Some(Hide::Degrees) => row == Label::Degrees,
        Some(Hide::Chords) | None => false,
    }
}

/// Whether a scale has a minor third and no major one.
fn is_minor(ladder: &Ladder) -> bool {
    let has = |alteration| {
        let third = Degree::new(3, alteration);
        (0..ladder.size()).any(|rung| ladder.degree(Rung(rung), Form::Rising) == third)
    };
    has(-1) && !has(0)
}

/// The degree a tone is, or leads to.
pub(crate) fn led_to(place: NotePlace) -> Degree {
    let NotePlace { passage, tone, .. } = place;
    let (Tone::Rung(rung) | Tone::Above(rung) | Tone::Below(rung)) = tone.tone;
    passage.ladder.degree(rung, tone.form)
}

/// The degree that is printed: the scale's for a rung, what is sounded for an
/// ornament.
fn sounded_degree(place: NotePlace) -> Degree {
    let NotePlace { tone, pitch, .. } = place;
    if matches!(tone.tone, Tone::Rung(_)) {
        return led_to(place);
    }
    let above = pitch - place.passage.placed.root;
    let number = above.steps().rem_euclid(7) as u8 + 1;
    let natural = Degree::new(number, 0).interval().fifths();
    let alteration = (above.fifths() - natural) / 7;
    Degree::new(number, alteration as i8)
}

/// The rung sounded before a note in its own statement.
fn rung_before(input: &NotationInput, event: usize, statement: u16) -> Option<i32> {
    let before = (0..event)
        .rev()
        .take_while(|at| input.timing.statements[*at] == statement);
    before
        .into_iter()
        .find_map(|at| match input.at(at).tone.tone {
            Tone::Rung(rung) => Some(rung.0),
            Tone::Above(_) | Tone::Below(_) => None,
        })
}
