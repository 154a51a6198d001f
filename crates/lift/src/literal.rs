//! A phrase that moves through the keys note for note, with the chords over
//! it, as a lick over several chords does: which phrases are such, and their
//! notes and chords in C.

use std::collections::BTreeMap;

use lesson::Phrase;
use theory::{Degree, Interval, Mode, Pitch, PitchName, Scale};

use crate::fit::OnScale;
use crate::over;

/// The most notes that a scale borrows before the phrase is no scale's any
/// more: with three, ten of the twelve would be in it.
const MOST_BORROWED: usize = 2;

/// A phrase against the major scale of its key.
#[derive(Debug)]
pub(crate) struct Literal {
    /// The key's tonic.
    pub tonic: PitchName,
    pub mode: Mode,
    /// `3 5 low 7 1`.
    pub degrees: String,
    /// `| Dm7 | G7 | Cmaj7 |`, in C.
    pub chords: Option<String>,
}

/// Whether a teacher would move it note for note rather than begin it on every
/// degree of a scale: its chords stand on several roots, or no scale of its
/// key holds it.
pub(crate) fn is_one(phrase: &Phrase, found: &[OnScale]) -> bool {
    let many_borrowed = |on: &OnScale| {
        let home = on.home.as_ref();
        home.is_some_and(|(_, borrowed)| borrowed.len() > MOST_BORROWED)
    };
    over::has_several_roots(phrase) || found.first().is_none_or(many_borrowed)
}

impl Literal {
    /// The phrase so; none without notes or where nothing says its key.
    pub fn of(phrase: &Phrase, found: &[OnScale]) -> Option<Literal> {
        let (tonic, mode) = key(phrase, found)?;
        Some(Literal {
            tonic,
            mode,
            degrees: degrees(phrase, tonic)?,
            chords: over::bars(phrase, Interval::from_coordinates(-tonic.fifths(), 0)),
        })
    }

    /// The id of its key's scale.
    pub fn scale(&self) -> &'static str {
        match self.mode {
            Mode::Major => "major",
            Mode::Minor => "natural-minor",
        }
    }
}

/// The key: as it is stated; as its last chord closes, if that is a tonic of
/// its signature, or of any where none is there; as its best scale has it.
fn key(phrase: &Phrase, found: &[OnScale]) -> Option<(PitchName, Mode)> {
    if let Some(home) = &phrase.home {
        return Some((home.tonic, mode(&home.scale)));
    }
    let closes = || {
        let (tonic, mode) = over::closing(phrase)?;
        let of_signature = phrase.key.is_none_or(|key| {
            let fifths = i16::from(key.signature.fifths());
            let above = match mode {
                Mode::Major => 0,
                Mode::Minor => 3,
            };
            tonic.fifths() == fifths + above
        });
        of_signature.then_some((tonic, mode))
    };
    let best = || {
        let on = found.first()?;
        let scale = on.home.as_ref().map_or(&on.scale, |(home, _)| home);
        Some((on.root, mode(scale)))
    };
    closes().or_else(best)
}

fn mode(scale: &Scale) -> Mode {
    let has = |alteration| scale.degrees.contains(&Degree::new(3, alteration));
    if has(-1) && !has(0) {
        Mode::Minor
    } else {
        Mode::Major
    }
}

/// The notes as degrees, from the tonic of the octave that most of them lie
/// in, each with the letter that the phrase gives it.
fn degrees(phrase: &Phrase, tonic: PitchName) -> Option<String> {
    let pitches = || phrase.notes.iter().filter_map(|note| note.pitch);
    let octave = |pitch: &Pitch| (pitch.steps() - tonic.at(0).steps()).div_euclid(7);
    let mut counts = BTreeMap::<i16, usize>::new();
    for pitch in pitches() {
        *counts.entry(octave(&pitch)).or_default() += 1;
    }
    // of equals the lower one
    let (usual, _) = counts.iter().rev().max_by_key(|(_, count)| **count)?;
    let words = pitches().map(|pitch| {
        let away = octave(&pitch) - usual;
        let shift = if away < 0 { "low " } else { "high " };
        let above = pitch - tonic.at(usual + away);
        let number = above.steps().rem_euclid(7) as u8 + 1;
        let natural = Degree::new(number, 0).interval().semitones();
        let alteration = i8::try_from(above.semitones() - natural).unwrap_or(0);
        let shift = shift.repeat(usize::from(away.unsigned_abs()));
        format!("{shift}{}", Degree::new(number, alteration))
    });
    Some(words.collect::<Vec<_>>().join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::over::tests::made;

    fn check(tonic: &str, pitches: &str, expected: &str) {
        let phrase = made(pitches, "");
        let found = degrees(&phrase, tonic.parse().unwrap());
        assert_eq!(found.as_deref(), Some(expected));
    }

    #[test]
    fn notes_against_the_major_scale_of_the_key() {
        check("C", "C5 Eb5 F#5 B4", "1 b3 #4 low 7");
        check("F", "A4 C5 E5 F5 D6", "3 5 7 high 1 high 6");
        check("Eb", "Eb3 D4 Gb5 Bb5", "1 7 high high b3 high high 5");
        // the letter counts, not the height
        check("C", "B#4 C5 Cb5", "low #7 1 b1");
        check("A", "G#4 A4 C5", "low 7 1 b3");
    }
}
