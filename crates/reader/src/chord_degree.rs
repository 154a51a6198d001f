//! A kind's tones with degrees added, altered and taken away, as the standard
//! counts them (MusicXML 4.0, `degree-alter`): an alteration is relative to
//! the kind for alter and subtract, relative to a dominant chord for add.

use theory::{ChordDegree, Degree, DegreeChange};

/// The tones with each change made in turn, and what had to be guessed.
pub(crate) fn changed(tones: Vec<Degree>, changes: &[ChordDegree]) -> (Vec<Degree>, Vec<String>) {
    let mut tones = tones;
    let mut guesses = Vec::new();
    for change in changes {
        let own = tones
            .iter()
            .position(|tone| same_place(tone.number, change.value));
        match (change.change, own) {
            (DegreeChange::Add, own) => {
                let mut added = on_dominant(change);
                // A diminished seventh belongs on a diminished triad; elsewhere
                // whoever writes it means the minor one.
                let diminished = tones.contains(&Degree::new(5, -1));
                if added == Degree::new(7, -2) && !diminished {
                    added = Degree::new(7, -1);
                    guesses.push("an added ♭7 was taken as the minor seventh".to_owned());
                }
                // A natural tone gives way to its alteration: `13` with an
                // added ♯11, `9` with an added ♭9.
                let gives_way = change.alter != 0
                    && own.is_some_and(|at| {
                        tones[at].alteration == 0 && !matches!(change.value % 7, 0 | 1 | 3)
                    });
                match own.filter(|_| gives_way) {
                    Some(at) => {
                        if change.value == 5 {
                            guesses.push(format!("the added {added} was taken to alter the fifth"));
                        }
                        tones[at] = added;
                    }
                    None if tones.contains(&added) => {}
                    None => tones.push(added),
                }
            }
            (DegreeChange::Alter, Some(at)) => {
                let alteration = tones[at].alteration.saturating_add(change.alter);
                tones[at] = Degree::new(tones[at].number, alteration);
            }
            (DegreeChange::Alter, None) => tones.push(on_dominant(change)),
            (DegreeChange::Subtract, Some(at)) => {
                tones.remove(at);
            }
            (DegreeChange::Subtract, None) => {}
        }
    }
    (tones, guesses)
}

/// Whether two numbers name the same place of a scale: 4 and 11.
pub(crate) fn same_place(a: u8, b: u8) -> bool {
    a % 7 == b % 7
}

/// A degree against a dominant chord: major and perfect, but for the minor
/// seventh.
fn on_dominant(change: &ChordDegree) -> Degree {
    let natural = if change.value == 7 { -1 } else { 0 };
    Degree::new(change.value, change.alter.saturating_add(natural))
}
