//! Marks, bars to answer in, and what is left for the student to write.

use etude::Composer;
use rhythm::Fraction;
use score::{Direction, Element, Score};

use crate::support::{check, lesson, line_of, sheet};

const MAJOR: &str = "[scale]\nname = \"major\"\n";

fn with(exercise: &str, figure: &str) -> String {
    format!("{MAJOR}[figure]\n{figure}\n[[exercise]]\n{exercise}\n")
}

/// The notes of a score with the signs on each: `(` and `)` for a slur's ends,
/// `>` `.` `-` for accent, staccato and tenuto, `,` for a breath.
fn signs(score: &Score) -> String {
    let measures = score.part.measures.iter();
    let notes =
        measures
            .flat_map(|measure| &measure.elements)
            .filter_map(|element| match element {
                Element::Note(note) => Some(note),
                Element::Rest(_) | Element::Slash(_) => None,
            });
    let said = notes.map(|note| {
        let marks = note.marks;
        let signs = [
            (marks.slur_ends, ')'),
            (marks.slur_begins, '('),
            (marks.accent, '>'),
            (marks.staccato, '.'),
            (marks.tenuto, '-'),
            (marks.breath, ','),
        ];
        let there = signs.into_iter().filter(|(there, _)| *there);
        format!(
            "{}{}",
            note.pitch,
            there.map(|(_, sign)| sign).collect::<String>()
        )
    });
    said.collect::<Vec<_>>().join(" ")
}

fn check_signs(text: &str, expected: &str) {
    assert_eq!(signs(&sheet(text, 0).unwrap().score), expected, "\n{text}");
}

#[test]
fn marks_keep_their_place_in_the_count() {
    let figure = "moves = \"start, step up, step up, skip up\"\ncount = \"1 2 3 4\"\nslur = \"1-2 2-3\"\naccent = \"4\"\nstaccato = \"4\"\ntenuto = \"1\"";
    check_signs(
        &with(
            "kind = \"figure\"\ndirection = \"up and down\"\ncoming_down = \"reversed\"",
            figure,
        ),
        "C4(- D4)( E4) G4>. G5(- E5)( D5) C5>.",
    );
    // What a tied note begins with stands on its first piece, what it ends
    // with on its last.
    check_signs(
        &with(
            "kind = \"figure\"",
            "moves = \"start, step up, step up\"\ncount = \"1 4 | 2\"\nslur = \"1-2\"",
        ),
        "C5( D5 D5) E5",
    );
}

#[test]
fn breaths_are_one_breath_apart() {
    // Four beats a statement at 60: an intermediate player's nine seconds
    // hold two, a beginner's six hold one, an advanced player's twelve three.
    let exercise = |level: &str| {
        format!(
            "kind = \"sequence\"\ndirection = \"up\"\nending = \"none\"\nbreath = \"mark\"\ntempo = 60\nlevel = \"{level}\""
        )
    };
    let figure = "moves = \"start\"\ncount = \"1\"";
    let scale = |marks: [&str; 8]| {
        let notes = ["C4", "D4", "E4", "F4", "G4", "A4", "B4", "C5"];
        notes
            .iter()
            .zip(marks)
            .map(|(note, mark)| format!("{note}{mark}"))
            .collect::<Vec<_>>()
            .join(" ")
    };
    check_signs(
        &with(&exercise("intermediate"), figure),
        &scale(["", ",", "", ",", "", ",", "", ""]),
    );
    check_signs(
        &with(&exercise("beginner"), figure),
        &scale([",", ",", ",", ",", ",", ",", ",", ""]),
    );
    check_signs(
        &with(&exercise("advanced"), figure),
        &scale(["", "", ",", "", "", ",", "", ""]),
    );
    // Where a rest follows nobody needs a mark.
    check_signs(
        &with(
            &exercise("beginner"),
            "moves = \"start, rest\"\ncount = \"1 (4)\"",
        ),
        &scale([""; 8]),
    );
}

/// Over changes too nobody breathes within a statement: at 60 a beginner's six
/// seconds hold one bar.
#[test]
fn breaths_over_changes_are_between_statements() {
    let changes = crate::over::over(
        "bars = \"| C6 | F6 | C6 |\"",
        "moves = \"start, step up\"\ncount = \"1 3\"",
        "kind = \"changes\"\nbegins = \"1\"\nbreath = \"mark\"\ntempo = 60\nlevel = \"beginner\"",
    );
    check_signs(
        &format!("{changes}[[player]]\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"G4\"\n"),
        "C4 D4, F4 G4, C4 D4",
    );
}

#[test]
fn a_rest_for_the_breath() {
    check(
        &with(
            "kind = \"sequence\"\ndirection = \"up\"\nending = \"none\"\nspan = \"one octave\"\nbreath = \"rest\"\ntempo = 60",
            "moves = \"start\"\ncount = \"1\"",
        ),
        "C4/8 | D4/4~ D4/3 r | E4/8 | F4/4~ F4/3 r | G4/8 | A4/4~ A4/3 r | B4/8 | C5/8",
    );
}

#[test]
fn bars_played_and_bars_answered() {
    let figure = "moves = \"start, step up\"\ncount = \"1 3\"";
    check(
        &with(
            "kind = \"trade\"\ndirection = \"up\"\nwritten = 4\nslashes = 1",
            figure,
        ),
        "C4/4 D4/4 | D4/4 E4/4 | E4/4 F4/4 | F4/4 G4/4 | //2 //2 //2 //2 | G4/4 A4/4 | A4/4 B4/4 | B4/4 C5/4 | C5/4 D5/4 | //2 //2 //2 //2 | C5/8",
    );
    // What isn't said: as many bars as a statement takes. A pickup takes its
    // beat from the answer.
    let pickup = with(
        "kind = \"trade\"\ndirection = \"up\"\nending = \"none\"",
        "meter = \"6/8\"\nmoves = \"start, step up, step down\"\ncount = \"6 | 1 4\"",
    );
    let line = line_of(&sheet(&pickup, 0).unwrap());
    assert!(line.starts_with("C4 | D4/3 C4/2 "), "{line}");
    assert!(line.ends_with("//3 //3"), "{line}");
    let lesson = lesson(&pickup);
    let lesson::ExerciseKind::Trade(_, trade) = lesson.exercises[0].kind else {
        unreachable!("it is a trade");
    };
    assert_eq!((trade.statements, trade.bars), (1, 1));
}

#[test]
fn what_is_given_and_what_is_blank() {
    let figure = "moves = \"start, step up\"\ncount = \"1 3\"";
    check(
        &with(
            "kind = \"write out\"\nline = \"sequence\"\ndirection = \"up\"\ngiven = 2",
            figure,
        ),
        "C4/4 D4/4 | D4/4 E4/4 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8",
    );
    // What is given sounds as long as in the whole sheet.
    let tied = "moves = \"start, step up\"\ncount = \"1 4 | -1-2 (3) (4)\"";
    check(
        &with(
            "kind = \"write out\"\nline = \"sequence\"\ndirection = \"up\"\nending = \"none\"\ngiven = 1",
            tied,
        ),
        "C4/6 D4/2~ | D4/4 h/4 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8 | h/8",
    );
    // Values of a blank bar follow its meter; a chord symbol parts it.
    check(
        &with(
            "kind = \"write out\"\nkeys = { only = [\"C\", \"F\", \"G\"] }",
            "meter = \"5/8 = 2+3\"\nmoves = \"start, step up\"\ncount = \"1 3\"",
        ),
        "C4/2 D4/3 | h/2 h/3 | h/2 h/3",
    );
    check(
        &with(
            "kind = \"write out\"\nline = \"figure\"\ndirection = \"up and down\"\ngiven = \"1 bar\"",
            figure,
        ),
        "C4/4 D4/4 | h/8",
    );
    check(
        &with("kind = \"figure\"\nhide = \"notes\"", figure),
        "x/4 x/4",
    );
}

/// A sheet and its answers have the same bars, meters and chord symbols, and
/// the answers say what the exercise itself would.
#[test]
fn answers_are_what_was_asked() {
    let rows = [
        ("kind = \"write out\"", "kind = \"keys\""),
        (
            "kind = \"write out\"\nsay = \"sequence\"",
            "kind = \"keys\"\nsay = \"sequence\"",
        ),
        ("kind = \"write out\"\nline = \"scale\"", "kind = \"scale\""),
        (
            "kind = \"sequence\"\nhide = \"notes\"",
            "kind = \"sequence\"",
        ),
    ];
    let figures = [
        "moves = \"start, step up, skip up\"\ncount = \"1 2 4\"",
        "meter = \"6/8\"\nmoves = \"start, step up, skip up\"\ncount = \"5 | 1 4\"",
        "meter = \"5/4\"\nmoves = \"start, step up, skip up, step down\"\ncount = \"1 trip let 2\"\nlength = \"2 beats\"",
    ];
    for (asked, plain) in rows {
        for figure in figures {
            let text = with(asked, figure).replace("\"major\"", "\"dorian\"");
            let lesson = lesson(&text);
            let composer = Composer::new(&lesson).unwrap();
            let plan = &composer.plans()[0];
            let worksheet = composer.compose(plan).unwrap();
            let answers = composer.answers(plan).unwrap().unwrap();
            let frame = |score: &Score| {
                let mut at = 0;
                let mut chords = Vec::new();
                for element in score.part.measures.iter().flat_map(|bar| &bar.elements) {
                    if let Some(chord) = element.written().chord {
                        chords.push((at, score.chords.symbol(chord).unwrap().clone()));
                    }
                    at += element.written().length;
                }
                let bars = score.part.measures.iter().map(|bar| {
                    let length: u32 = bar.elements.iter().map(|one| one.written().length).sum();
                    (length, bar.meter.clone(), bar.begins)
                });
                (bars.collect::<Vec<_>>(), chords)
            };
            assert_eq!(frame(&worksheet.score), frame(&answers.score), "{text}");
            assert_ne!(line_of(&worksheet), line_of(&answers), "{text}");
            let itself = sheet(&text.replace(asked, plain), 0).unwrap();
            assert_eq!(line_of(&answers), line_of(&itself), "{text}");
        }
    }
    let plain = lesson(&with("kind = \"figure\"", figures[0]));
    let composer = Composer::new(&plain).unwrap();
    assert_eq!(composer.answers(&composer.plans()[0]), Ok(None));
}

#[test]
fn a_ladder_is_a_row_of_boxes() {
    let text = format!(
        "care = true\ntempo = {{ from = 60, to = 72, by = 6 }}\n{}",
        with(
            "kind = \"figure\"\ndynamic = \"mf\"",
            "meter = \"6/8\"\nmoves = \"start\""
        )
    );
    let score = sheet(&text, 0).unwrap().score;
    let over = &score.part.measures[0].directions;
    assert!(
        over.contains(&Direction::Tempos(vec![60, 66, 72])),
        "{over:?}"
    );
    let dotted = |one: &Direction| matches!(one, Direction::Tempo(mark) if mark.per_minute == 60 && mark.beat.dots == 1);
    assert!(over.iter().any(dotted), "{over:?}");
    assert!(over.contains(&Direction::Dynamic("mf")));
    assert!(
        score
            .head
            .iter()
            .any(|line| line.text.contains("teacher or a clinician"))
    );
}

/// Twelve to a row, three rows at most; a longer ladder is told in words.
#[test]
fn a_long_ladder_takes_rows_and_then_words() {
    let rows = |tempos: u16| -> Vec<usize> {
        let text = format!(
            "tempo = {{ from = 60, to = {}, by = 2 }}\n{}",
            58 + 2 * tempos,
            with("kind = \"figure\"", "moves = \"start\"")
        );
        let score = sheet(&text, 0).unwrap().score;
        let over = &score.part.measures[0].directions;
        over.iter()
            .filter_map(|direction| match direction {
                Direction::Tempos(row) => Some(row.len()),
                Direction::Words(words) => {
                    assert_eq!(words.as_ref(), "From 60 to 132 beats a minute, by 2");
                    Some(0)
                }
                _ => None,
            })
            .collect()
    };
    assert_eq!(rows(12), [12]);
    assert_eq!(rows(13), [12, 1]);
    assert_eq!(rows(36), [12, 12, 12]);
    assert_eq!(rows(37), [0]);
}

#[test]
fn an_own_horn_reads_and_sounds_as_it_says() {
    let text = format!(
        "instruments = [\"Keyed Bugle\"]\nlarge_print = true\n[keys]\nonly = [\"C\"]\n[[instrument]]\nname = \"Keyed Bugle\"\nsounds = \"A3\"\nrange = \"C4 to C6\"\n{}",
        with("kind = \"figure\"", "moves = \"start\"")
    );
    let score = sheet(&text, 0).unwrap().score;
    let note = &score::sounding_notes(&score)[0];
    let said = (note.written.to_string(), note.sounding.to_string());
    assert_eq!(said, ("Eb5".to_owned(), "C5".to_owned()));
    assert_eq!(note.onset, Fraction::ZERO);
    assert_eq!(score.page.staff_height, 110);
    assert_eq!(score.part.name, "Keyed Bugle");
}

#[test]
fn a_slur_over_the_join_and_the_other_signs() {
    // The last note leads into the next statement, and to the closing root;
    // nothing follows that.
    check_signs(
        &with(
            "kind = \"sequence\"\ndirection = \"up\"\nspan = \"one octave\"",
            "moves = \"start, step up\"\ncount = \"1 3\"\nslur = \"2-next\"\naccent = \"1\"",
        ),
        "C4> D4( D4)> E4( E4)> F4( F4)> G4( G4)> A4( A4)> B4( B4)> C5( C5)> D5( C5)",
    );
    // Where a rest stands between, nothing is joined.
    check_signs(
        &with(
            "kind = \"sequence\"\ndirection = \"up\"\nending = \"none\"",
            "moves = \"start, step up, rest\"\ncount = \"1 2 (3)\"\nslur = \"2-next\"",
        ),
        "C4 D4 D4 E4 E4 F4 F4 G4 G4 A4 A4 B4 B4 C5 C5 D5",
    );
    let text = with(
        "kind = \"figure\"",
        "moves = \"start, step up, step up\"\ncount = \"1 4 | 2\"\nghost = \"2\"\nscoop = \"2\"\nfall = \"2\"\ndoit = \"3\"",
    );
    let score = sheet(&text, 0).unwrap().score;
    let elements = score
        .part
        .measures
        .iter()
        .flat_map(|measure| &measure.elements);
    let signs: Vec<String> = elements
        .filter_map(|element| match element {
            Element::Note(note) => Some(note),
            _ => None,
        })
        .map(|note| {
            let marks = note.marks;
            let signs = [
                (marks.ghost, "ghost"),
                (marks.scoop, "scoop"),
                (marks.fall, "fall"),
                (marks.doit, "doit"),
            ];
            let there = signs.into_iter().filter(|(there, _)| *there);
            there.map(|(_, sign)| sign).collect::<Vec<_>>().join(" ")
        })
        .collect();
    // D is tied over the bar line: it is scooped into where it begins and
    // falls where it ends, in parentheses all the while.
    assert_eq!(signs, ["", "ghost scoop", "ghost fall", "doit"]);
}

#[test]
fn nobody_breathes_within_a_slur() {
    check_signs(
        &with(
            "kind = \"sequence\"\ndirection = \"up\"\nending = \"none\"\nbreath = \"mark\"\ntempo = 30",
            "moves = \"start, step up\"\ncount = \"1 3\"\nslur = \"2-next\"",
        ),
        "C4 D4( D4) E4( E4) F4( F4) G4( G4) A4( A4) B4( B4) C5( C5) D5",
    );
}
