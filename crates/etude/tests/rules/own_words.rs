//! The teacher's own words on sheets, and exercises for some players only.

use std::sync::atomic::AtomicBool;

use etude::{Composer, LeftOut, RoomPitch, rooms};
use score::{About, Direction, Score};

use crate::support::{lesson, line_of, sheet};

const TAIL: &str = "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up, step up\"\ncount = \"1 2 3\"\n";

/// What stands over a score, measure by measure.
fn over(score: &Score) -> Vec<String> {
    let mut said = Vec::new();
    for measure in &score.part.measures {
        for direction in &measure.directions {
            said.push(match direction {
                Direction::Rehearsal(letter) => format!("[{letter}]"),
                Direction::Heading(heading) => heading.to_string(),
                Direction::Text(text) => format!("“{text}”"),
                other => format!("{other:?}"),
            });
        }
    }
    said
}

#[test]
fn a_sheet_says_what_the_teacher_says() {
    let text = format!(
        "author = \"Ilse Marrow\"\nrights = \"For class use\"\nfooter = \"Tuesday reeds\"\ntext = \"\"\"Slowly at first.\n\nThen with the others.\"\"\"\nshow_moves = false\npaper = \"letter\"\n{TAIL}[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\nheading = \"Stairs\"\ntext = \"Breathe at the top.\"\n[[exercise]]\nkind = \"figure\"\nheading = \"\"\n[[exercise]]\nkind = \"figure\"\n"
    );
    let made = sheet(&text, 0).unwrap();
    let imprint = &made.score.imprint;
    assert_eq!(imprint.author.as_deref(), Some("Ilse Marrow"));
    assert_eq!(imprint.rights.as_deref(), Some("For class use"));
    assert_eq!(imprint.footer.as_deref(), Some("Tuesday reeds"));
    assert_eq!(imprint.text, ["Slowly at first.", "Then with the others."]);
    assert_eq!(
        (made.score.page.width, made.score.page.height),
        (2159, 2794)
    );
    let figures = made
        .score
        .head
        .iter()
        .filter(|line| line.about == About::Figure);
    assert_eq!(figures.count(), 0);
    assert_eq!(
        over(&made.score),
        [
            "[A]",
            "Stairs",
            "“Breathe at the top.”",
            "[B]",
            "[C]",
            "The figure"
        ]
    );
    let headings: Vec<&str> = made
        .report
        .exercises
        .iter()
        .map(|exercise| exercise.heading.as_str())
        .collect();
    assert_eq!(headings, ["A · Stairs", "B · The figure", "C · The figure"]);
    // Words are no music.
    let plain = format!(
        "{TAIL}[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\n[[exercise]]\nkind = \"figure\"\n[[exercise]]\nkind = \"figure\"\n"
    );
    assert_eq!(
        sheet(&plain, 0).unwrap().report.edition,
        made.report.edition
    );
}

/// Cues as `measure number@quarter words`.
fn cues(score: &Score) -> Vec<String> {
    let measures = score.part.measures.iter();
    measures
        .flat_map(|measure| {
            let said = measure.cues.iter();
            said.map(|cue| {
                format!(
                    "{}@{} {}",
                    measure.number,
                    cue.at / score.divisions,
                    cue.words
                )
            })
        })
        .collect()
}

#[test]
fn words_stand_over_bars_and_statements() {
    // With a pickup: statement 2 begins on beat 4 of bar 1.
    let text = format!(
        "{}[[exercise]]\nkind = \"sequence\"\ndirection = \"up\"\nwords = {{ \"bar 1\" = \"listen\", \"bar 3\" = \"louder\", \"statement 2\" = \"breathe\", \"statement 1\" = \"begin\", \"statement 9\" = \"never\" }}\n",
        TAIL.replace("count = \"1 2 3\"", "count = \"4 | 1 2\"")
    );
    let made = sheet(&text, 0).unwrap();
    assert!(
        line_of(&made).starts_with("C4/2 | D4/2 E4/4 D4/2 | E4/2"),
        "{}",
        line_of(&made)
    );
    assert_eq!(
        cues(&made.score),
        ["0@0 begin", "1@0 listen", "1@3 breathe", "3@0 louder"]
    );
    let remarks = &made.report.exercises[0].remarks;
    let said: Vec<String> = remarks
        .iter()
        .map(etude::CountedRemark::to_string)
        .collect();
    assert_eq!(said, ["it has no statement 9, where “never” would stand"]);
    assert_eq!(made.report.turns, 0);
}

const ROOM: &str = "title = \"Test\"\n[keys]\nonly = [\"C\", \"G\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n[[exercise]]\nkind = \"figure\"\nfor = [\"beginner\"]\n[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\n[[exercise]]\nkind = \"sequence\"\nfor = [\"Window stand\"]\n[[player]]\nname = \"Window stand\"\ninstrument = \"flute\"\n[[player]]\nname = \"Door stand\"\ninstrument = \"alto saxophone\"\nlevel = \"beginner\"\n";

#[test]
fn exercises_for_some_keep_their_letters() {
    let lesson = lesson(ROOM);
    let composer = Composer::new(&lesson).unwrap();
    let letters: Vec<Vec<String>> = composer
        .plans()
        .iter()
        .map(|plan| over(&composer.compose(plan).unwrap().score))
        .map(|said| {
            said.into_iter()
                .filter(|one| one.starts_with('['))
                .collect()
        })
        .collect();
    assert_eq!(
        letters,
        [
            ["[B]", "[C]"],
            ["[B]", "[C]"],
            ["[A]", "[B]"],
            ["[A]", "[B]"]
        ]
    );
}

#[test]
fn a_player_whom_nothing_is_for_is_told_once() {
    let text = ROOM.replace(
        "kind = \"scale\"",
        "kind = \"scale\"\nfor = [\"Window stand\"]",
    );
    let text = text.replace("for = [\"beginner\"]", "for = [\"flute\"]");
    let lesson = lesson(&text);
    let composer = Composer::new(&lesson).unwrap();
    let left_out: Vec<LeftOut> = composer
        .plans()
        .iter()
        .filter_map(|plan| composer.compose(plan).err())
        .collect();
    assert_eq!(left_out, [LeftOut::NothingToPlay]);
    assert_eq!(composer.plans().len(), 3);
    assert_eq!(
        left_out[0].to_string(),
        "no exercise of this lesson is for this player"
    );
}

#[test]
fn in_a_room_those_it_is_not_for_rest() {
    let lesson = lesson(ROOM);
    let composer = Composer::new(&lesson).unwrap();
    let rooms = rooms(
        &lesson,
        composer.plans(),
        RoomPitch::Transposed,
        &AtomicBool::new(false),
    )
    .unwrap();
    assert_eq!(rooms.len(), 2);
    let [window, door] = &rooms[0].parts[..] else {
        panic!("two parts");
    };
    assert_eq!(window.part.measures.len(), door.part.measures.len());
    // The flute rests in A, the alto in C; every bar of both is full, and each
    // has its key from the first bar.
    let rests = |score: &Score, exercise: usize| {
        let begins = score.exercises[exercise].first;
        let ends = score.exercises.get(exercise + 1);
        let ends = ends.map_or(score.part.measures.len(), |next| next.first);
        let measures = &score.part.measures[begins..ends];
        let silent = |measure: &score::Measure| matches!(measure.elements[..], [score::Element::Rest(rest)] if rest.whole_bar);
        (measures.iter().all(silent), ends - begins)
    };
    assert_eq!(
        [0, 1, 2].map(|at| rests(window, at)),
        [(true, 1), (false, 3), (false, 17)]
    );
    assert_eq!(
        [0, 1, 2].map(|at| rests(door, at)),
        [(false, 1), (false, 3), (true, 17)]
    );
    for (part, fifths) in [(window, 0), (door, 3)] {
        let key = part.part.measures[0].key.unwrap();
        assert_eq!(key.signature.fifths(), fifths);
        assert_eq!(
            part.part
                .measures
                .iter()
                .filter(|one| one.key.is_some())
                .count(),
            1
        );
        for measure in &part.part.measures {
            let length: u32 = measure
                .elements
                .iter()
                .map(|one| one.written().length)
                .sum();
            assert_eq!(length, 4 * part.divisions);
        }
    }
    // All is said over the first part, whoever plays it.
    assert_eq!(over(door), [""; 0]);
    let letters: Vec<String> = over(window)
        .into_iter()
        .filter(|one| one.starts_with('['))
        .collect();
    assert_eq!(letters, ["[A]", "[B]", "[C]"]);
}
