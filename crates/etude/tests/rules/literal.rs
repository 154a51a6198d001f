//! Literal phrases: note for note in every key, with their chords.

use etude::{Composer, LeftOut, Sheet};
use lesson::{Given, Lesson, Literal, LiteralNote, PlacedChord};
use rhythm::Fraction;
use score::Element;
use theory::Mode;

use crate::support::{lesson, line_of, missing};

/// A lesson whose figure is said note for note: degrees with the octaves they
/// lie above the tonic, chords with the quarter they come on.
fn literal(text: &str, notes: &str, chords: &[(i64, &str)], mode: Mode) -> Lesson {
    let mut lesson = lesson(text);
    let note = |word: &str| {
        let (degree, octaves) = word.split_once('@').unwrap_or((word, "0"));
        LiteralNote {
            degree: degree.parse().unwrap(),
            octaves: octaves.parse().unwrap(),
        }
    };
    let chord = |(at, symbol): &(i64, &str)| PlacedChord {
        at: Fraction::from(*at),
        symbol: symbol.parse().unwrap(),
    };
    let figure = &mut lesson.figures[0];
    figure.moves.clear();
    figure.literal = Some(Literal {
        notes: notes.split_whitespace().map(note).collect(),
        chords: chords.iter().map(chord).collect(),
        mode,
    });
    lesson
}

/// In C `D E F A | B D F F# | G`: a half step from below leads into the last
/// bar's note.
const LICK: &str = "2 3 4 6 7@-1 2 4 #4 5";
const OVER: [(i64, &str); 3] = [(0, "Dm7"), (4, "G7"), (8, "Cmaj7")];

fn lick(head: &str, kind: &str) -> Lesson {
    let text = format!(
        "title = \"Lick\"\n{head}\n[scale]\nname = \"major\"\n\
         [figure]\nmoves = \"start, step up, step up, step up, step up, step up, step up, step up, step up\"\n\
         count = \"1 2 3 4 | 1 2 3 4 | 1\"\n\
         [[exercise]]\nkind = \"{kind}\"\ndirection = \"up\"\n"
    );
    literal(&text, LICK, &OVER, Mode::Major)
}

fn sheets(lesson: &Lesson) -> Vec<Result<Sheet, LeftOut>> {
    let composer = Composer::new(lesson).unwrap();
    let plans = composer.plans().iter();
    plans.map(|plan| composer.compose(plan)).collect()
}

/// The chord symbols of a sheet in order.
fn symbols(sheet: &Sheet) -> String {
    let measures = sheet.score.part.measures.iter();
    let printed = measures
        .flat_map(|measure| &measure.elements)
        .filter_map(|element| element.written().chord);
    let names = printed.map(|place| sheet.score.chords.symbol(place).unwrap().to_string());
    names.collect::<Vec<_>>().join(" ")
}

/// The lick in the twelve keys for one instrument, each with its symbols and
/// its signature.
fn check(instrument: &str, expected: &[(&str, &str, i8)]) {
    let lesson = lick(&format!("instruments = [\"{instrument}\"]"), "figure");
    let found: Vec<(String, String, i8)> = sheets(&lesson)
        .into_iter()
        .map(|sheet| {
            let sheet = sheet.unwrap();
            let key = sheet.score.part.measures[0].key.unwrap();
            (line_of(&sheet), symbols(&sheet), key.signature.fifths())
        })
        .collect();
    let rows =
        |found: &(String, String, i8)| format!("(\"{}\", \"{}\", {}),", found.0, found.1, found.2);
    let shown: Vec<String> = found.iter().map(rows).collect();
    let expected: Vec<String> = expected
        .iter()
        .map(|(line, symbols, fifths)| rows(&((*line).to_owned(), (*symbols).to_owned(), *fifths)))
        .collect();
    assert_eq!(shown.join("\n"), expected.join("\n"));
}

// Worked out by hand: the plain transposition, a degree's own letter, but for
// E sharp and B sharp outside the signature (#4 in B and in F sharp).
#[test]
fn a_lick_in_twelve_keys_on_the_trombone() {
    check(
        "trombone",
        &[
            (
                "D3/2 E3/2 F3/2 A3/2 | B2/2 D3/2 F3/2 F#3/2 | G3/8",
                "Dm7 G7 Cmaj7",
                0,
            ),
            (
                "G3/2 A3/2 Bb3/2 D4/2 | E3/2 G3/2 Bb3/2 B3/2 | C4/8",
                "Gm7 C7 Fmaj7",
                -1,
            ),
            (
                "C3/2 D3/2 Eb3/2 G3/2 | A2/2 C3/2 Eb3/2 E3/2 | F3/8",
                "Cm7 F7 Bbmaj7",
                -2,
            ),
            (
                "F3/2 G3/2 Ab3/2 C4/2 | D3/2 F3/2 Ab3/2 A3/2 | Bb3/8",
                "Fm7 Bb7 Ebmaj7",
                -3,
            ),
            (
                "Bb3/2 C4/2 Db4/2 F4/2 | G3/2 Bb3/2 Db4/2 D4/2 | Eb4/8",
                "Bbm7 Eb7 Abmaj7",
                -4,
            ),
            (
                "Eb3/2 F3/2 Gb3/2 Bb3/2 | C3/2 Eb3/2 Gb3/2 G3/2 | Ab3/8",
                "Ebm7 Ab7 Dbmaj7",
                -5,
            ),
            (
                "Ab3/2 Bb3/2 Cb4/2 Eb4/2 | F3/2 Ab3/2 Cb4/2 C4/2 | Db4/8",
                "Abm7 Db7 Gbmaj7",
                -6,
            ),
            (
                "C#3/2 D#3/2 E3/2 G#3/2 | A#2/2 C#3/2 E3/2 F3/2 | F#3/8",
                "C#m7 F#7 Bmaj7",
                5,
            ),
            (
                "F#3/2 G#3/2 A3/2 C#4/2 | D#3/2 F#3/2 A3/2 A#3/2 | B3/8",
                "F#m7 B7 Emaj7",
                4,
            ),
            (
                "B2/2 C#3/2 D3/2 F#3/2 | G#2/2 B2/2 D3/2 D#3/2 | E3/8",
                "Bm7 E7 Amaj7",
                3,
            ),
            (
                "E3/2 F#3/2 G3/2 B3/2 | C#3/2 E3/2 G3/2 G#3/2 | A3/8",
                "Em7 A7 Dmaj7",
                2,
            ),
            (
                "A3/2 B3/2 C4/2 E4/2 | F#3/2 A3/2 C4/2 C#4/2 | D4/8",
                "Am7 D7 Gmaj7",
                1,
            ),
        ],
    );
}

#[test]
fn a_lick_in_twelve_keys_on_the_alto() {
    check(
        "alto saxophone",
        &[
            (
                "B4/2 C#5/2 D5/2 F#5/2 | G#4/2 B4/2 D5/2 D#5/2 | E5/8",
                "Bm7 E7 Amaj7",
                3,
            ),
            (
                "E5/2 F#5/2 G5/2 B5/2 | C#5/2 E5/2 G5/2 G#5/2 | A5/8",
                "Em7 A7 Dmaj7",
                2,
            ),
            (
                "A4/2 B4/2 C5/2 E5/2 | F#4/2 A4/2 C5/2 C#5/2 | D5/8",
                "Am7 D7 Gmaj7",
                1,
            ),
            (
                "D5/2 E5/2 F5/2 A5/2 | B4/2 D5/2 F5/2 F#5/2 | G5/8",
                "Dm7 G7 Cmaj7",
                0,
            ),
            (
                "G4/2 A4/2 Bb4/2 D5/2 | E4/2 G4/2 Bb4/2 B4/2 | C5/8",
                "Gm7 C7 Fmaj7",
                -1,
            ),
            (
                "C5/2 D5/2 Eb5/2 G5/2 | A4/2 C5/2 Eb5/2 E5/2 | F5/8",
                "Cm7 F7 Bbmaj7",
                -2,
            ),
            (
                "F5/2 G5/2 Ab5/2 C6/2 | D5/2 F5/2 Ab5/2 A5/2 | Bb5/8",
                "Fm7 Bb7 Ebmaj7",
                -3,
            ),
            (
                "Bb4/2 C5/2 Db5/2 F5/2 | G4/2 Bb4/2 Db5/2 D5/2 | Eb5/8",
                "Bbm7 Eb7 Abmaj7",
                -4,
            ),
            (
                "Eb5/2 F5/2 Gb5/2 Bb5/2 | C5/2 Eb5/2 Gb5/2 G5/2 | Ab5/8",
                "Ebm7 Ab7 Dbmaj7",
                -5,
            ),
            (
                "G#4/2 A#4/2 B4/2 D#5/2 | E#4/2 G#4/2 B4/2 C5/2 | C#5/8",
                "G#m7 C#7 F#maj7",
                6,
            ),
            (
                "C#5/2 D#5/2 E5/2 G#5/2 | A#4/2 C#5/2 E5/2 F5/2 | F#5/8",
                "C#m7 F#7 Bmaj7",
                5,
            ),
            (
                "F#4/2 G#4/2 A4/2 C#5/2 | D#4/2 F#4/2 A4/2 A#4/2 | B4/8",
                "F#m7 B7 Emaj7",
                4,
            ),
        ],
    );
}

/// A phrase in one key on a concert instrument: its line, its symbols, its
/// labels of degrees.
fn check_phrase(
    (key, mode): (&str, Mode),
    (notes, count): (&str, &str),
    chords: &[(i64, &str)],
    expected: [&str; 3],
) {
    let moves = vec!["start"; notes.split_whitespace().count()].join(", repeat");
    let moves = moves.replace("repeatstart", "repeat");
    let scale = if mode == Mode::Minor {
        "natural minor"
    } else {
        "major"
    };
    let text = format!(
        "title = \"Phrase\"\ninstruments = [\"flute\"]\nlabels = [\"degrees\"]\n\
         [keys]\nonly = [\"{key}\"]\n[scale]\nname = \"{scale}\"\n\
         [figure]\nmoves = \"{moves}\"\ncount = \"{count}\"\n\
         [[exercise]]\nkind = \"figure\"\ndirection = \"up\"\n"
    );
    let lesson = literal(&text, notes, chords, mode);
    let sheet = sheets(&lesson).remove(0).unwrap();
    let elements = sheet.score.part.measures.iter();
    let labels: Vec<&str> = elements
        .flat_map(|measure| &measure.elements)
        .filter_map(|element| match element {
            Element::Note(note) => note.lyrics[0].as_deref(),
            Element::Rest(_) | Element::Slash(_) => None,
        })
        .collect();
    let found = [line_of(&sheet), symbols(&sheet), labels.join(" ")];
    assert_eq!(found, expected.map(str::to_owned), "{notes} in {key}");
}

#[test]
fn chords_stand_where_they_come_over_held_notes_and_rests() {
    check_phrase(
        ("C", Mode::Major),
        ("1 2", "1 | 1 (2 3 4)"),
        &[(0, "C"), (2, "A7"), (4, "Dm7"), (6, "G7")],
        ["C5/4~ C5/4 | D5/2 r/2 r/2 r/2", "C A7 Dm7 G7", "1 2"],
    );
}

#[test]
fn a_degree_gives_its_letter() {
    // A leading note among letters that all differ stays; beside 7 flat it
    // takes its simple twin, as any double does.
    let minor =
        |notes, expected| check_phrase(("G#", Mode::Minor), (notes, "1 2 3"), &[], expected);
    minor("b3 7@-1 1", ["B5/2 F##5/2 G#5/4", "", "♭3 7 1"]);
    minor("b7@-1 7@-1 1", ["F#5/2 G5/2 G#5/4", "", "♭7 7 1"]);
    // Without its root a phrase has a leading note all the same; and a degree
    // whose twin would have its neighbour's letter keeps its own, unless a
    // letter stands twice anyway.
    check_phrase(
        ("C#", Mode::Minor),
        ("b3 5 7", "1 2 3"),
        &[],
        ["E5/2 G#5/2 B#5/4", "", "♭3 5 7"],
    );
    // It counts whether letters differ before doubles take their twins.
    check_phrase(
        ("C#", Mode::Minor),
        ("#4@-1 5@-1 7@-1 1", "1 2 3 4"),
        &[],
        ["G5/2 G#5/2 B#5/2 C#6/2", "", "♯4 5 7 1"],
    );
    check_phrase(
        ("F", Mode::Minor),
        ("b3 4 b5 b7", "1 2 3 4"),
        &[],
        ["Ab5/2 Bb5/2 Cb6/2 Eb6/2", "", "♭3 4 ♭5 ♭7"],
    );
    check_phrase(
        ("F", Mode::Minor),
        ("4 b5 5 b7", "1 2 3 4"),
        &[],
        ["Bb4/2 B4/2 C5/2 Eb5/2", "", "4 ♭5 5 ♭7"],
    );
    // #4 and b5 of one phrase are two degrees.
    let major = |key, expected| {
        check_phrase(
            (key, Mode::Major),
            ("#4 5 b5 4", "1 2 3 4"),
            &[(0, "C7(#11)")],
            expected,
        );
    };
    major("C", ["F#5/2 G5/2 Gb5/2 F5/2", "C7(#11)", "♯4 5 ♭5 4"]);
    major("F#", ["C5/2 C#5/2 C5/2 B4/2", "F#7(#11)", "♯4 5 ♭5 4"]);
    // Past the octave: 9 is a 2 an octave up.
    check_phrase(
        ("D", Mode::Major),
        ("1 9 8 b9", "1 2 3 4"),
        &[],
        ["D5/2 E6/2 D6/2 Eb6/2", "", "1 2 1 ♭2"],
    );
}

#[test]
fn through_the_keys_its_chords_move_along() {
    let lesson = lick(
        "instruments = [\"b-flat trumpet\"]\n[keys]\nonly = [\"C\", \"Eb\"]",
        "keys",
    );
    let sheet = sheets(&lesson).remove(0).unwrap();
    assert_eq!(symbols(&sheet), "Em7 A7 Dmaj7 Gm7 C7 Fmaj7");
    assert!(sheet.report.exercises[0].heading.starts_with("The phrase"));
}

#[test]
fn what_leaves_the_horn_is_told() {
    let lesson = lick(
        "[[player]]\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"G4\"\n[keys]\nonly = [\"C\"]",
        "figure",
    );
    let left_out = sheets(&lesson).remove(0).unwrap_err();
    let (note, range) = missing(&left_out);
    assert_eq!(
        (note.to_string(), range.high.to_string()),
        ("A4".to_owned(), "G4".to_owned())
    );
}

/// Blank bars keep their chord symbols, each at its time: in all keys after the
/// first, as a student needs who is to write the phrase out.
#[test]
fn a_phrase_that_is_written_out_keeps_all_its_chords() {
    let mut lesson = lick(
        "instruments = [\"trombone\"]\n[keys]\nonly = [\"C\", \"F\"]",
        "keys",
    );
    let whole = symbols(sheets(&lesson)[0].as_ref().unwrap());
    assert_eq!(whole, "Dm7 G7 Cmaj7 Gm7 C7 Fmaj7");
    lesson.exercises[0].given = Some(Given::First);
    let blank = &sheets(&lesson)[0];
    let blank = blank.as_ref().unwrap();
    assert_eq!(symbols(blank), whole);
    assert_eq!(
        line_of(blank),
        "D3/2 E3/2 F3/2 A3/2 | B2/2 D3/2 F3/2 F#3/2 | G3/8 | h/8 | h/8 | h/8"
    );
}
