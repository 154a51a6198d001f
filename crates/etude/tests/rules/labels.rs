//! Rows of labels under the notes.

use score::Element;

use crate::support::sheet;

/// A lesson in C of one exercise on the piano, with rows of labels.
fn with(rows: &str, scale: &str, figure: &str, exercise: &str) -> String {
    format!(
        "labels = {rows}\n[keys]\nonly = [\"C\"]\n[scale]\n{scale}\n[figure]\n{figure}\n[[exercise]]\n{exercise}\n[[player]]\ninstrument = \"piano right hand\"\nlow = \"C4\"\nhigh = \"C7\"\n"
    )
}

/// The first rows under the notes of a sheet; `-` where a note has no label.
fn rows<const ROWS: usize>(text: &str) -> [String; ROWS] {
    let sheet = sheet(text, 0).unwrap();
    let measures = sheet.score.part.measures.iter();
    let notes: Vec<_> = measures
        .flat_map(|measure| &measure.elements)
        .filter_map(|element| match element {
            Element::Note(note) => Some(note),
            Element::Rest(_) | Element::Slash(_) => None,
        })
        .collect();
    std::array::from_fn(|place| {
        let label = |note: &&score::Note| note.lyrics[place].as_deref().unwrap_or("-").to_owned();
        notes.iter().map(label).collect::<Vec<_>>().join(" ")
    })
}

#[test]
fn no_degree_stands_under_an_ornament() {
    let text = "labels = [\"degrees\", \"note names\"]\n[keys]\nonly = [\"A\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"from below, start, enclose, step up\"\ncount = \"1 2 3 & 4\"\n[[exercise]]\nkind = \"figure\"\n";
    // Above B it is C natural, below it A sharp.
    assert_eq!(rows(text), ["- 1 - - 2", "G♯ A C A♯ B"]);
}

/// Steps are counted, an octave is called by its number whatever the scale
/// has in it, and the first note and a repeated one by words of their own.
#[test]
fn moves_as_they_are_made() {
    let check = |scale: &str, moves: &str, expected: &str| {
        let count = match moves.split(", ").count() {
            7 => "1 & 2 & 3 & 4",
            _ => "1 & 2 & 3 & 4 &",
        };
        let text = with(
            "[\"moves\"]",
            &format!("name = \"{scale}\""),
            &format!("moves = \"{moves}\"\ncount = \"{count}\""),
            "kind = \"figure\"",
        );
        assert_eq!(rows(&text), [expected], "{scale}: {moves}");
    };
    check(
        "major",
        "start, step up, skip up, step down, skip down, up 3 steps, down 4 steps, repeat",
        "start +1 +2 −1 −2 +3 −4 =",
    );
    check(
        "major",
        "start, octave up, octave down, up 6 steps, down 5 steps, up 9 steps, octave down",
        "start +8 −8 +6 −5 +9 −8",
    );
    // Five steps are the octave here.
    check(
        "major pentatonic",
        "start, up 4 steps, step up, octave down, octave up, down 5 steps, up 7 steps, down 6 steps",
        "start +4 +1 −8 +8 −8 +7 −6",
    );
}

/// Degrees against the major scale, with the signs of their alterations.
#[test]
fn degrees_of_a_scale() {
    let check = |scale: &str| {
        let text = with(
            "[\"degrees\"]",
            &format!("degrees = \"{scale}\""),
            "moves = \"start\"",
            "kind = \"scale\"\nspan = \"one octave\"\ndirection = \"up\"",
        );
        let printed = scale.replace('b', "♭").replace('#', "♯");
        assert_eq!(rows(&text), [format!("{printed} 1")]);
    };
    check("1 2 3 4 5 6 7");
    check("1 b2 b3 b4 b5 b6 b7");
    check("1 #2 3 #4 #5 #6 7");
    check("1 b2 b3 4 b5 b6 bb7");
}

/// As it is typed it is counted: a pickup at the end of a bar, thirds in the
/// words of the teacher.
#[test]
fn counts_as_they_are_spoken() {
    let check = |meter: &str, count: &str, expected: &str| {
        let notes = count.replace("| ", "").split(' ').count();
        let moves = vec!["step up"; notes - 1].join(", ");
        let text = with(
            "[\"counts\"]",
            "name = \"major\"",
            &format!("meter = \"{meter}\"\nmoves = \"start, {moves}\"\ncount = \"{count}\""),
            "kind = \"sequence\"\ndirection = \"up\"",
        );
        let [row] = rows(&text);
        assert!(row.starts_with(&format!("{expected} {expected} ")), "{row}");
        // The root that closes stands on a bar line.
        assert!(row.ends_with(&format!(" {expected} 1")), "{row}");
    };
    check("4/4", "1 e & a 2 3 &", "1 e & a 2 3 &");
    check("4/4", "1 trip let 2 4", "1 trip let 2 4");
    check("4/4", "1 la li 2 4", "1 la li 2 4");
    check("6/8", "1 2 3 4 6", "1 2 3 4 6");
    check("6/8", "1 la li 2 li", "1 la li 2 li");
    check("6/8", "1 & a 2 a", "1 & a 2 a");
    check("4/4", "4 & | 1 2 & 3", "4 & 1 2 & 3");
    check("3/4", "3 | 1 2", "3 1 2");
    check("6/8", "5 6 | 1 4", "5 6 1 4");
}

/// Movable do, the tonic of minor being la (common practice).
#[test]
fn do_is_the_tonic_of_major_and_la_of_minor() {
    let check = |scale: &str, expected: &str| {
        let text = with(
            "[\"solfege\"]",
            &format!("name = \"{scale}\""),
            "moves = \"start\"",
            "kind = \"scale\"\nspan = \"one octave\"\ndirection = \"up\"",
        );
        assert_eq!(rows(&text), [expected], "{scale}");
    };
    check("major", "do re mi fa sol la ti do");
    check("mixolydian", "do re mi fa sol la te do");
    check("natural minor", "la ti do re mi fa sol la");
    check("harmonic minor", "la ti do re mi fa si la");
    check("dorian", "la ti do re mi fi sol la");
    check("minor pentatonic", "la do re mi sol la");
    // Both thirds: it is none of minor.
    check("major blues", "do re me mi sol la do");
}
