//! When the notes of exercises come.

use score::Element;

use crate::support::{check, line, sheet};

fn with(figure: &str, exercise: &str) -> String {
    format!(
        "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\n{figure}\n[[exercise]]\n{exercise}\nspan = \"one octave\"\n"
    )
}

/// Even eighths, whatever the figure after it is made of.
#[test]
fn a_scale_is_the_same_beside_any_figure() {
    for count in ["1 2", "1 e", "1 trip", "1 &"] {
        let check = |meter: &str, expected: &str| {
            let scale = with(
                &format!("meter = \"{meter}\"\nmoves = \"start, step up\"\ncount = \"{count}\""),
                "kind = \"scale\"",
            );
            let line = line(&format!("{scale}[[exercise]]\nkind = \"figure\"\n"));
            assert!(line.starts_with(expected), "{meter} {count}: {line}");
        };
        check(
            "4/4",
            "C4 D4 E4 F4 G4 A4 B4 C5~ | C5/2 B4 A4 G4 F4 E4 D4 | C4/8 | ",
        );
        // The root falls on a beat of six eighths, and on the first of three
        // quarters.
        check(
            "6/8",
            "C4 D4 E4 F4 G4 A4 | B4 C5/2 B4 A4 G4 | F4 E4 D4 C4/3 | ",
        );
        check(
            "3/4",
            "C4 D4 E4 F4 G4 A4 | B4 C5~ C5/4 | B4 A4 G4 F4 E4 D4 | C4/6 | ",
        );
    }
}

/// Between the answers each statement has its pickup, which takes its beat from
/// them; after the last one no pickup follows.
#[test]
fn answers_give_way_to_pickups() {
    let line = line(&with(
        "moves = \"start, step up, step up\"\ncount = \"4 | 1 2\"",
        "kind = \"trade\"\nwritten = 1\nslashes = 1\ndirection = \"up\"",
    ));
    assert!(
        line.starts_with(
            "C4/2 | D4/2 E4/4 //2 | //2 //2 //2 D4/2 | E4/2 F4/4 //2 | //2 //2 //2 E4/2 | "
        ),
        "{line}"
    );
    assert!(
        line.ends_with(" | //2 //2 //2 C5/2 | D5/2 E5/4 //2 | //2 //2 //2 //2 | C5/8"),
        "{line}"
    );
}

/// An ornament at a statement's end leads to the note that the next one begins
/// with, wherever in the scale that is; the last one to the closing root.
#[test]
fn an_ornament_leads_to_the_next_statements_first_note() {
    check(
        &with(
            "moves = \"start on 3, step up, from below\"\ncount = \"1 2 3\"",
            "kind = \"sequence\"\ndirection = \"up\"",
        ),
        "E4/2 F4/2 E4/4 | F4/2 G4/2 F#4/4 | G4/2 A4/2 G#4/4 | A4/2 B4/2 A#4/4 | B4/2 C5/2 B4/4 | C5/2 D5/2 C#5/4 | D5/2 E5/2 D#5/4 | E5/2 F5/2 B4/4 | C5/8",
    );
}

/// Every second pair is turned backwards, coming down as going up.
#[test]
fn broken_studies_come_down_broken() {
    check(
        &with(
            "moves = \"start\"",
            "kind = \"intervals\"\nof = \"fourths\"\npattern = \"broken\"\ndirection = \"down\"",
        ),
        "C6 G5 F5 B5 A5 E5 D5 G5 | F5 C5 B4 E5 D5 A4 G4 C5 | C5/8",
    );
}

/// In a scale there is time to breathe at its top, unless that is the end.
#[test]
fn a_scale_breathes_at_its_top() {
    let breaths = |direction: &str| {
        let text = with(
            "moves = \"start\"",
            &format!(
                "kind = \"scale\"\ndirection = \"{direction}\"\nbreath = \"mark\"\ntempo = 40\nlevel = \"beginner\""
            ),
        );
        let score = sheet(&text, 0).unwrap().score;
        let elements = score.part.measures.iter().flat_map(|one| &one.elements);
        elements
            .filter_map(|element| match element {
                Element::Note(note) if note.marks.breath => Some(note.pitch.to_string()),
                _ => None,
            })
            .collect::<Vec<_>>()
    };
    assert_eq!(breaths("up and down"), ["C5"]);
    assert_eq!(breaths("up"), [""; 0]);
}

/// A chord that comes in silence parts the rest under it, and no beam: eighths
/// are joined by the beat as everywhere (rule 8).
#[test]
fn a_chord_in_silence_leaves_beams_as_they_are() {
    let text = "[keys]\nonly = [\"C\"]\n[figure]\nliteral = true\ndegrees = \"1 2 3 5\"\ncount = \"1 & (2 3) 4 &\"\nchords = \"| C6 (2&) Dm7 |\"\n[[exercise]]\nkind = \"figure\"\n";
    let beams = |score: &score::Score| {
        let elements = score.part.measures.iter().flat_map(|one| &one.elements);
        let notes = elements.filter_map(|element| match element {
            Element::Note(note) => Some(note.beams[0]),
            Element::Rest(_) | Element::Slash(_) => None,
        });
        notes.collect::<Vec<_>>()
    };
    let sounds = sheet(text, 0).unwrap();
    assert_eq!(crate::support::line_of(&sounds), "C5 D5 r r r/2 E5 G5");
    let [begin, end] = [Some(rhythm::Beam::Begin), Some(rhythm::Beam::End)];
    assert_eq!(beams(&sounds.score), [begin, end, begin, end]);
}

/// A slash belongs to the chord that sounds when it does.
#[test]
fn slashes_know_their_chords() {
    let text = "[keys]\nonly = [\"C\"]\n[changes]\nkey = \"C\"\nbars = \"| C6 | Dm7 (3) G7 |\"\n[figure]\nmoves = \"start\"\ncount = \"1\"\n[[exercise]]\nkind = \"changes\"\nchoruses = [\"line\", \"slashes\"]\n";
    let score = sheet(text, 0).unwrap().score;
    let elements = score.part.measures.iter().flat_map(|one| &one.elements);
    let chords: Vec<String> = elements
        .filter_map(|element| match element {
            Element::Slash(slash) => slash.note.origin.chord,
            Element::Note(_) | Element::Rest(_) => None,
        })
        .map(|chord| score.chords.symbol(chord).unwrap().to_string())
        .collect();
    let expected = ["C6", "C6", "C6", "C6", "Dm7", "Dm7", "G7", "G7"];
    assert_eq!(chords, expected);
}
