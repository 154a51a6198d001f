//! From a kind, its degrees and its text to a chord of the catalogue: the one
//! with these very tones, else the nearest, with a word on what was guessed.

use std::sync::LazyLock;

use theory::{Chord, Degree};

use crate::chord_degree::{changed, same_place};
use crate::chord_kind::{NEAPOLITAN, NONE, tones};
use crate::chord_text::{by_text, name, spelled_out};
use crate::pitch::WithGuess;
use crate::shown::shown;
use crate::symbol_kind::SymbolKind;

/// A chord and what was guessed for it, with the tones that it was asked to
/// have.
#[derive(Debug)]
pub(crate) struct ChordMatch {
    pub chord: Chord,
    pub tones: Vec<Degree>,
    pub guesses: Vec<String>,
}

/// The chord that is meant; `None` only if the catalogue were empty.
pub(crate) fn matched(said: SymbolKind<'_>) -> Option<ChordMatch> {
    let text = said.text.and_then(|text| Chord::parse(text).ok());
    let none = |guesses| {
        let chord = rows().map(|row| &row.chord).find(|chord| chord.is_none())?;
        Some(ChordMatch {
            chord: chord.clone(),
            tones: Vec::new(),
            guesses,
        })
    };
    if said.kind.eq_ignore_ascii_case(NONE) {
        return none(Vec::new());
    }
    if text.as_ref().is_some_and(Chord::is_none) {
        let guess = format!(
            "the text says N.C., the kind {}: no chord was taken",
            shown(said.kind)
        );
        return none(vec![guess]);
    }
    let (of_kind, guess) = tones_of_kind(said, text.as_ref())?;
    let mut guesses: Vec<String> = guess.into_iter().collect();
    let (tones, of_degrees) = changed(of_kind, said.changes);
    guesses.extend(of_degrees);
    // 11ths and 13ths are mostly meant without the tones that the catalogue
    // leaves out.
    let exact = rows()
        .find(|row| same_tones(&row.tones, &tones))
        .or_else(|| rows().find(|row| same_tones(row.chord.degrees(), &tones)));
    let chord = match exact {
        Some(row) => row.chord.clone(),
        None => nearest(said.kind, &tones)?,
    };
    if let Some(text) = text.as_ref().filter(|text| spelled_out(text, said, &tones)) {
        return Some(ChordMatch {
            chord: text.clone(),
            tones: text.degrees().to_vec(),
            guesses: Vec::new(),
        });
    }
    let (chord, of_text) = by_text(chord, text, said, &tones);
    let by_use = said.kind.eq_ignore_ascii_case(NEAPOLITAN);
    match of_text {
        Some(guess) => guesses.push(guess),
        None if exact.is_none() || by_use => guesses.push(format!(
            "{} is not in the catalogue: {} was taken",
            said.words(),
            name(&chord)
        )),
        None => {}
    }
    Some(ChordMatch {
        chord,
        tones,
        guesses,
    })
}

/// The tones of a kind; where the standard has no such kind those of the text,
/// else of a major triad, and what was guessed.
fn tones_of_kind(said: SymbolKind<'_>, text: Option<&Chord>) -> Option<WithGuess<Vec<Degree>>> {
    if let Some(tones) = tones(said.kind) {
        return Some((tones, None));
    }
    let unknown = format!("{} is no kind of the standard", shown(said.kind));
    Some(match text {
        Some(text) => {
            let typed = shown(said.text.unwrap_or_default());
            let guess = format!("{unknown}: the text {typed} was taken");
            (text.degrees().to_vec(), Some(guess))
        }
        None => {
            let guess = format!("{unknown}: a major triad was taken");
            (tones("major")?, Some(guess))
        }
    })
}

/// A row of the catalogue with the tones that its kind and degrees spell.
struct Row {
    chord: Chord,
    tones: Vec<Degree>,
}

fn rows() -> impl Iterator<Item = &'static Row> {
    static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
        let row = |chord: Chord| {
            let of_kind = tones(chord.musicxml_kind())?;
            let (tones, _) = changed(of_kind, chord.musicxml_degrees().0);
            Some(Row { chord, tones })
        };
        Chord::catalogue()
            .into_iter()
            .filter(|chord| chord.bass().is_none())
            .filter_map(row)
            .collect()
    });
    ROWS.iter()
}

/// The same places of the scale, altered alike, in whatever octave.
fn same_tones(a: &[Degree], b: &[Degree]) -> bool {
    let holds = |all: &[Degree], tone: &Degree| {
        all.iter().any(|other| {
            same_place(other.number, tone.number) && other.alteration == tone.alteration
        })
    };
    a.iter().all(|tone| holds(b, tone)) && b.iter().all(|tone| holds(a, tone))
}

/// The row that sounds most like these tones; of two alike one of the same
/// kind, then the one with fewer tones, then the earlier.
fn nearest(kind: &str, asked: &[Degree]) -> Option<Chord> {
    let distance = |row: &Row| -> u32 {
        let missing = asked.iter().filter(|tone| !sounds(&row.tones, tone));
        let invented = row.tones.iter().filter(|tone| !sounds(asked, tone));
        let has = |number: u8| asked.iter().any(|tone| same_place(tone.number, number));
        let missing: u32 = missing.map(|tone| weight(*tone)).sum();
        // A tone where nothing was said contradicts nothing.
        let invented: u32 = invented
            .map(|tone| match tone.number {
                1 | 3 | 5 if !has(tone.number) => 2,
                4 | 11 | 2 | 9 | 6 | 13 => 4,
                _ => weight(*tone),
            })
            .sum();
        missing + invented
    };
    rows()
        .filter(|row| !row.chord.is_none())
        .min_by_key(|row| {
            let other_kind = row.chord.musicxml_kind() != kind;
            (distance(row), other_kind, row.tones.len())
        })
        .map(|row| row.chord.clone())
}

fn sounds(tones: &[Degree], tone: &Degree) -> bool {
    let class = |degree: &Degree| degree.interval().semitones().rem_euclid(12);
    tones.iter().any(|other| class(other) == class(tone))
}

/// How much a chord changes without a tone.
fn weight(tone: Degree) -> u32 {
    match (tone.number % 7, tone.alteration) {
        (3, _) => 8,
        (0, _) => 6,
        (5, 0) => 1,
        (5, _) => 3,
        _ => 2,
    }
}

#[cfg(test)]
mod tests {
    use theory::ChordDegree;
    use theory::DegreeChange::{Add, Alter, Subtract};

    use super::*;

    fn degrees(text: &str) -> Vec<ChordDegree> {
        text.split(',')
            .filter(|degree| !degree.trim().is_empty())
            .map(|degree| {
                let mut words = degree.split_whitespace();
                let change = match words.next().unwrap() {
                    "add" => Add,
                    "alter" => Alter,
                    _ => Subtract,
                };
                let value = words.next().unwrap().parse().unwrap();
                let alter = words.next().map_or(0, |alter| alter.parse().unwrap());
                ChordDegree {
                    change,
                    value,
                    alter,
                }
            })
            .collect()
    }

    fn found(kind: &str, text: Option<&str>, changes: &str) -> (String, usize) {
        let changes = degrees(changes);
        let matched = matched(SymbolKind {
            kind,
            text,
            changes: &changes,
        })
        .unwrap();
        (matched.chord.id().to_owned(), matched.guesses.len())
    }

    /// A chord that nothing had to be guessed for.
    fn check(kind: &str, changes: &str, id: &str) {
        assert_eq!(
            found(kind, None, changes),
            (id.to_owned(), 0),
            "{kind} {changes}"
        );
    }

    /// A chord that was guessed.
    fn guessed(kind: &str, text: Option<&str>, changes: &str, id: &str) {
        assert_eq!(
            found(kind, text, changes),
            (id.to_owned(), 1),
            "{kind} {text:?} {changes}"
        );
    }

    #[test]
    fn every_row_of_the_catalogue_comes_back() {
        for chord in Chord::catalogue() {
            let (changes, _) = chord.musicxml_degrees();
            let text = Some(chord.musicxml_text());
            let said = SymbolKind {
                kind: chord.musicxml_kind(),
                text,
                changes,
            };
            let matched = matched(said).unwrap();
            let id = if chord.bass().is_some() {
                "maj"
            } else {
                chord.id()
            };
            assert_eq!((matched.chord.id(), matched.guesses.len()), (id, 0));
        }
    }

    /// Each kind alone (MusicXML 4.0, `kind-value`).
    #[test]
    fn every_kind_has_its_chord() {
        let rows = "major=maj minor=m augmented=aug diminished=dim dominant=7 \
            major-seventh=maj7 minor-seventh=m7 diminished-seventh=dim7 augmented-seventh=7#5 \
            half-diminished=m7b5 major-minor=m(maj7) major-sixth=6 minor-sixth=m6 \
            dominant-ninth=9 major-ninth=maj9 minor-ninth=m9 dominant-11th=11 minor-11th=m11 \
            dominant-13th=13 major-13th=maj13 minor-13th=m13 suspended-second=sus2 \
            suspended-fourth=sus4 power=5 none=NC";
        for row in rows.split_whitespace() {
            let (kind, id) = row.split_once('=').unwrap();
            check(kind, "", id);
        }
        guessed("major-11th", None, "", "maj9");
        guessed("Neapolitan", None, "", "maj");
        guessed("Italian", None, "", "7");
        guessed("German", None, "", "7");
        guessed("French", None, "", "7b5");
        guessed("Tristan", None, "", "m7b5");
        guessed("pedal", None, "", "5");
        guessed("other", None, "", "5");
    }

    #[test]
    fn degrees_as_the_standard_counts_them() {
        // Add 7 is the minor seventh (MusicXML 4.0, degree-alter).
        check("suspended-fourth", "add 7", "7sus4");
        check("dominant", "add 4, subtract 3", "7sus4");
        check("dominant-ninth", "add 4, subtract 3", "9sus4");
        check("dominant-13th", "add 4, subtract 3", "13sus4");
        check("suspended-fourth", "add 7, add 9 -1", "7b9sus4");
        check("major", "add 7", "7");
        check("major", "add 7 1", "maj7");
        check("diminished", "add 7 -1", "dim7");
        check("major-minor", "alter 5 -1", "dim(maj7)");
        check("diminished-seventh", "alter 7 1", "m7b5");
        check("dominant", "alter 5 1", "7#5");
        check("minor-seventh", "alter 5 -1", "m7b5");
        check("major", "add 6", "6");
        check("major", "add 2", "add9");
        check("major", "add 4", "add11");
        check("dominant", "add 9, add 13", "13");
        check("dominant", "add 9 -1, add 9 1", "7b9#9");
        // A natural tension gives way to its alteration, added or altered.
        check("dominant-13th", "add 11 1", "13#11");
        check("dominant-13th", "alter 11 1", "13#11");
        check("dominant-13th", "add 9 -1", "13b9");
        check("dominant-ninth", "alter 9 -1", "7b9");
        check("dominant-11th", "alter 11 1", "9#11");
        check("dominant-11th", "subtract 3", "9sus4");
        check("major", "subtract 3", "5");
        check("other", "add 3 -1, add 5, add 7", "m7");
        guessed("dominant", None, "add 5 1", "7#5");
    }

    #[test]
    fn the_nearest_for_the_rest() {
        guessed("dominant", None, "subtract 5", "7");
        guessed("dominant", None, "subtract 3", "7");
        guessed("minor", None, "add 9 -1", "m");
        guessed("minor-seventh", None, "add 9 -1", "m7");
        guessed("major-13th", None, "subtract 7", "6/9");
        // Add 7 −1 would be the diminished seventh, which no such chord has.
        guessed("other", None, "add 3 -1, add 5, add 7 -1", "m7");
        guessed("suspended-fourth", None, "add 7 -1", "7sus4");
        check("diminished", "add 7 -1", "dim7");
        guessed("dominant", None, "add 10 -1", "7#9");
    }

    #[test]
    fn what_the_text_says() {
        let clear = |kind, text, changes, id: &str| {
            assert_eq!(found(kind, Some(text), changes), (id.to_owned(), 0));
        };
        clear("dominant", "7alt", "alter 5 -1, add 9 -1", "7alt");
        clear("dominant", "7(b9)", "add 9 -1", "7b9");
        clear("half-diminished", "m7b5", "", "m7b5");
        clear("minor-seventh", "-7", "", "m7");
        clear("diminished-seventh", "°7", "", "dim7");
        clear("major-sixth", "6/9", "add 9", "6/9");
        clear("dominant", "7", "add 9 -1", "7b9");
        clear("major-seventh", "no text we know", "", "maj7");
        clear("none", "x", "", "NC");
        clear("suspended-fourth", "7sus4", "add 7 -1", "7sus4");
        clear("suspended-fourth", "7sus4", "add 7", "7sus4");
        clear("dominant", "7b5b9", "alter 5 -1, add 9 -1", "7b5b9");
        clear("dominant", "7b5b9", "add 5 -1, add 9 -1", "7b5b9");
        clear("dominant", "7b9b13", "add 9 -1, add 13 -1", "7b9b13");
        guessed("dominant", Some("7sus4"), "", "7sus4");
        guessed("suspended-fourth", Some("7sus4"), "", "7sus4");
        guessed("minor", Some("7"), "", "m");
        guessed("major", Some("N.C."), "", "NC");
        guessed("min7", Some("m7"), "", "m7");
        guessed("min7", None, "", "maj");
    }
}
