//! What a sheet over changes says of them: sections, scales, everyone together.

use std::sync::atomic::AtomicBool;

use etude::Composer;

use crate::over::over;
use crate::support::lesson;

/// What is played over: the tonic, its scale, the bars of a chorus, and each
/// chord's scale. A chord on two scales is two chords with one symbol.
#[test]
fn a_score_says_what_it_is_played_over() {
    let text = over(
        "bars = \"| C7 | F7 | C7 | C7 |\"",
        "moves = \"start\"\ncount = \"1\"",
        "kind = \"changes\"\nchoruses = [\"line\", \"elsewhere\"]\n[[exercise]]\nkind = \"scale\"\n[choose]\n\"bar 3\" = \"lydian dominant\"",
    );
    let lesson = lesson(&text);
    let composer = Composer::new(&lesson).unwrap();
    let score = composer.compose(&composer.plans()[0]).unwrap().score;
    let exercises: Vec<String> = score
        .exercises
        .iter()
        .map(|ground| {
            let scale: Vec<String> = ground.scale.iter().map(ToString::to_string).collect();
            format!("{} {:?} {}", ground.tonic, ground.chorus, scale.join(" "))
        })
        .collect();
    assert_eq!(
        exercises,
        ["C Some(4) 1 2 3 4 5 6 7", "C None 1 2 3 4 5 6 7"]
    );
    let chords: Vec<String> = score
        .chords
        .iter()
        .map(
            |score::Chord {
                 symbol: chord,
                 scale,
             }| {
                let scale: Vec<String> = scale.iter().map(ToString::to_string).collect();
                format!("{chord}: {}", scale.join(" "))
            },
        )
        .collect();
    assert_eq!(
        chords[..3],
        [
            "C7: 1 2 3 4 5 6 b7",
            "F7: 1 2 3 4 5 6 b7",
            "C7: 1 2 3 #4 5 6 b7"
        ]
    );
}

#[test]
fn sections_are_named_with_a_double_bar_and_their_chord() {
    use score::{Barline, Direction};
    let text = "[keys]\nonly = [\"C\"]\n[changes]\nkey = \"C\"\n[[section]]\nname = \"Quay\"\nbars = \"| C6 | C6 |\"\ntimes = 2\n[[section]]\nname = \"Bridge\"\nbars = \"| C6 | Dm7 |\"\n[figure]\nmoves = \"start\"\ncount = \"1\"\n[[exercise]]\nkind = \"changes\"\n[[exercise]]\nkind = \"guide tones\"\n";
    let score = crate::support::sheet(text, 0).unwrap().score;
    let mut said = Vec::new();
    for measure in &score.part.measures {
        let number = measure.number;
        for direction in &measure.directions {
            match direction {
                Direction::Rehearsal(letter) => said.push(format!("{number} {letter}")),
                Direction::Section(name) => said.push(format!("{number} {name}")),
                _ => {}
            }
        }
        if measure.elements[0].written().chord.is_some() {
            said.push(format!("{number} chord"));
        }
        match measure.barline {
            Some(Barline::Double) => said.push(format!("{number} ||")),
            Some(Barline::Final) => said.push(format!("{number} |||")),
            None => {}
        }
    }
    // C6 goes on all through, and stands again at each section; exercises have
    // numbers, since letters would be taken for those of sections.
    let expected = [
        "1 1",
        "1 Quay",
        "1 chord",
        "2 ||",
        "3 Quay",
        "3 chord",
        "4 ||",
        "5 Bridge",
        "5 chord",
        "6 chord",
        "6 ||",
        "7 2",
        "7 Quay",
        "7 chord",
        "8 ||",
        "9 Quay",
        "9 chord",
        "10 ||",
        "11 Bridge",
        "11 chord",
        "12 chord",
        "12 |||",
    ];
    assert_eq!(said, expected);
    let starts: Vec<usize> = score
        .exercises
        .iter()
        .map(|exercise| exercise.first)
        .collect();
    assert_eq!(starts, [0, 6]);
    let headings = crate::support::sheet(text, 0).unwrap().report.exercises;
    assert!(headings[1].heading.starts_with("2 · Guide tones"));
}

#[test]
fn room_scores_of_changes_with_sections_keep_their_exercises() {
    let text = "title = \"Test\"\ninstruments = [\"flute\", \"alto saxophone\"]\n[keys]\nonly = [\"C\"]\n[changes]\nkey = \"C\"\n[[section]]\nname = \"Quay\"\nbars = \"| C6 | Dm7 |\"\ntimes = 2\n[figure]\nmoves = \"start\"\ncount = \"1\"\n[[exercise]]\nkind = \"changes\"\n[[exercise]]\nkind = \"guide tones\"\n";
    let lesson = lesson(text);
    let composer = Composer::new(&lesson).unwrap();
    let rooms = etude::rooms(
        &lesson,
        composer.plans(),
        etude::RoomPitch::Transposed,
        &AtomicBool::new(false),
    )
    .unwrap();
    for part in &rooms[0].parts {
        assert_eq!(part.part.measures.len(), 8);
        let starts: Vec<usize> = part
            .exercises
            .iter()
            .map(|exercise| exercise.first)
            .collect();
        assert_eq!(starts, [0, 4]);
    }
}
