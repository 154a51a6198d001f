//! What notes are called: by letter, in German or Latin usage, or as syllables
//! of the scale.

use lesson::NoteNames;
use theory::{Degree, Letter, PitchName};

/// A note's name in a usage: `B♭`, `B` or `Si♭`.
pub(crate) fn note_name(name: PitchName, names: NoteNames) -> String {
    match names {
        NoteNames::English => name.signs(),
        NoteNames::German => german(name),
        NoteNames::Latin => {
            let own = match name.letter() {
                Letter::C => "Do",
                Letter::D => "Re",
                Letter::E => "Mi",
                Letter::F => "Fa",
                Letter::G => "Sol",
                Letter::A => "La",
                Letter::B => "Si",
            };
            // The signs stand after the letter.
            let signs: String = name.signs().chars().skip(1).collect();
            format!("{own}{signs}")
        }
    }
}

/// B natural is H, B flat is B; `is` for each sharp, `es` for each flat, `s`
/// after a vowel (common practice).
fn german(name: PitchName) -> String {
    let letter = match name.letter() {
        Letter::C => "C",
        Letter::D => "D",
        Letter::E => "E",
        Letter::F => "F",
        Letter::G => "G",
        Letter::A => "A",
        Letter::B => "H",
    };
    let flats = name.alteration().min(0).unsigned_abs();
    let sharps = name.alteration().max(0).unsigned_abs();
    match (letter, flats) {
        ("H", 1) => "B".to_owned(),
        ("E" | "A", flats) if flats > 0 => {
            format!("{letter}s{}", "es".repeat(usize::from(flats) - 1))
        }
        _ => format!(
            "{letter}{}{}",
            "is".repeat(usize::from(sharps)),
            "es".repeat(usize::from(flats))
        ),
    }
}

/// A degree's syllable in movable solfège. The tonic of a scale with a minor
/// third (and no major one) is la, of any other do; past the seventeen usual
/// syllables the one that sounds the same (common practice).
pub(crate) fn solfege(degree: Degree, minor: bool) -> &'static str {
    /// From ra-flat's neighbour up in fifths: se, ra, le, me, te; fa to ti;
    /// fi, di, si, ri, li.
    const SYLLABLES: [&str; 17] = [
        "se", "ra", "le", "me", "te", "fa", "do", "sol", "re", "la", "mi", "ti", "fi", "di", "si",
        "ri", "li",
    ];
    const DO: i16 = 6;
    let la = if minor { 3 } else { 0 };
    let mut place = DO + la + degree.interval().fifths();
    while place < 0 {
        place += 12;
    }
    while place >= SYLLABLES.len() as i16 {
        place -= 12;
    }
    SYLLABLES.get(place as usize).copied().unwrap_or("do")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn german_and_latin_names() {
        let check = |name: &str, in_german: &str, in_latin: &str| {
            let name: PitchName = name.parse().unwrap();
            assert_eq!(note_name(name, NoteNames::German), in_german);
            assert_eq!(note_name(name, NoteNames::Latin), in_latin);
        };
        check("C", "C", "Do");
        check("B", "H", "Si");
        check("Bb", "B", "Si♭");
        check("B#", "His", "Si♯");
        check("F#", "Fis", "Fa♯");
        check("Eb", "Es", "Mi♭");
        check("Ab", "As", "La♭");
        check("Gb", "Ges", "Sol♭");
        check("D#", "Dis", "Re♯");
    }

    #[test]
    fn movable_solfege() {
        let check = |degrees: &str, minor, expected: &str| {
            let said: Vec<&str> = degrees
                .split(' ')
                .map(|degree| solfege(degree.parse().unwrap(), minor))
                .collect();
            assert_eq!(said.join(" "), expected);
        };
        check("1 2 3 4 5 6 7", false, "do re mi fa sol la ti");
        check("1 2 b3 4 5 b6 b7", true, "la ti do re mi fa sol");
        check("1 2 b3 4 5 6 7", true, "la ti do re mi fi si");
        check("1 2 3 #4 5 6 b7", false, "do re mi fi sol la te");
        check("b2 b3 b5 b6 #1 #2 #5 #6", false, "ra me se le di ri si li");
        // Past them: E sharp sounds as F, F flat as E.
        check("#3 b4", false, "fa mi");
    }
}
