//! What figures mean.

use super::*;

/// The moves of each exercise's figure in short, one line each.
fn check_moves(text: &str, expected: &[&str]) {
    let lesson = lesson(&format!("title = \"A\"\n{text}"));
    let moves: Vec<String> = lesson
        .exercises
        .iter()
        .filter(|exercise| exercise.kind.name() != KindName::Scale)
        .filter_map(|exercise| exercise.kind.figure())
        .map(|figure| {
            lesson.figures[figure]
                .moves
                .iter()
                .map(short)
                .collect::<Vec<_>>()
                .join(" ")
        })
        .collect();
    assert_eq!(moves, expected, "{text}");
}

fn short(said: &Move) -> String {
    match said {
        Move::Start { rungs } => format!("s{rungs}"),
        Move::Rungs(rungs) => format!("{rungs:+}"),
        Move::Repeat => "=".to_owned(),
        Move::Octaves(octaves) => format!("o{octaves:+}"),
        Move::Rest => "-".to_owned(),
        Move::FromBelow => "b".to_owned(),
        Move::FromAbove => "a".to_owned(),
        Move::Enclose => "ab".to_owned(),
    }
}

/// A figure on the scale named `scale`.
fn check_figure(scale: &str, figure: &str, expected: &str) {
    check_moves(
        &format!("[scale]\nname = \"{scale}\"\n[figure]\n{figure}\n{SEQUENCE}"),
        &[expected],
    );
}

#[test]
fn moves_become_rungs() {
    check_figure(
        "major",
        "moves = \"start, step up, skip down, up 3 steps, repeat\"",
        "s0 +1 -2 +3 =",
    );
    check_figure(
        "major",
        "moves = \"start on 5, octave up, down two steps\"",
        "s4 o+1 -2",
    );
    check_figure(
        "major pentatonic",
        "moves = \"start on 5, step up\"",
        "s3 +1",
    );
    check_figure("major", "moves = \"start on low 5, step up\"", "s-3 +1");
    check_figure(
        "major",
        "moves = \"enclose, start, from below, step up, from above\"",
        "ab s0 b +1 a",
    );
    check_figure(
        "major",
        "moves = \"start, rest, repeat\"\ncount = \"1 (2) 3\"",
        "s0 - =",
    );
    check_figure(
        "major",
        "moves = \"start, step up\"\ncount = \"1 (2) 3\"",
        "s0 +1",
    );
}

#[test]
fn degrees_become_rungs() {
    check_figure("major", "degrees = \"1 2 3 5\"", "s0 +1 +1 +2");
    check_figure("major", "degrees = \"1 8 high 1 low 7\"", "s0 +7 = -8");
    check_figure("dorian", "degrees = \"1 3 b3 rest b7\"", "s0 +2 = - +4");
    check_figure("blues", "degrees = \"1 b5 5\"", "s0 +3 +1");
    check_figure("major pentatonic", "degrees = \"1 5 9\"", "s0 +3 +3");
    check_figure(
        "major pentatonic",
        "rungs = \"1 5 6 7 low 5\"",
        "s0 +4 +1 +1 -7",
    );
    check_figure("major", "rungs = \"3 3 1 rest 8\"", "s2 = -2 - +7");
}

/// One figure in degrees goes other ways on other scales.
#[test]
fn degrees_follow_the_scale() {
    let figure = "[[scale]]\nname = \"major\"\n[[scale]]\nname = \"Major pentatonic\"\n[figure]\nname = \"f\"\ndegrees = \"1 2 3 5\"\n";
    let exercises =
        format!("{SEQUENCE}{SEQUENCE}scale = \"major-pentatonic\"\n{SEQUENCE}scale = \"Major\"\n");
    check_moves(
        &format!("{figure}{exercises}"),
        &["s0 +1 +1 +2", "s0 +1 +1 +1", "s0 +1 +1 +2"],
    );
    let read = lesson(&format!("title = \"A\"\n{figure}{exercises}"));
    assert_eq!(read.figures.len(), 2);
}

/// A scale exercise asks nothing of the figure but its meter.
#[test]
fn a_scale_may_lack_the_figures_degrees() {
    let text = format!(
        "title = \"A\"\n[[scale]]\nname = \"major pentatonic\"\n[[scale]]\nname = \"major\"\n\
         [figure]\ndegrees = \"1 4\"\n[[exercise]]\nkind = \"scale\"\n{SEQUENCE}scale = \"major\"\n"
    );
    let read = lesson(&text);
    assert_eq!(read.figures.len(), 1);
    assert_eq!(read.exercises[0].kind.figure(), Some(0));
}

#[test]
fn unflipped_goes_with_its_note() {
    let lesson = lesson(
        r#"
title = "A"
[scale]
name = "minor pentatonic"
[figure]
moves = "start, step up, skip up, step down, rest, repeat, step down"
count = "1 & 2 & (3) & 4"
unflipped = "last"
slur = "1-2 6-next"
ghost = "2"
fall = "6"
[[exercise]]
kind = "sequence"
variants = ["as it is", "reversed", "begun on note 3", "flipped", "flipped and reversed"]
"#,
    );
    let figures: Vec<_> = lesson
        .exercises
        .iter()
        .filter_map(|exercise| exercise.kind.figure())
        .map(|at| {
            let figure = &lesson.figures[at];
            let moves: Vec<String> = figure.moves.iter().map(short).collect();
            format!("{} unflipped {:?}", moves.join(" "), figure.unflipped)
        })
        .collect();
    assert_eq!(
        figures,
        [
            "s0 +1 +2 -1 - = -1 unflipped [5]",
            "s1 +1 = +1 -2 -1 unflipped [0]",
            "s3 -1 = -1 -1 +1 unflipped [3]",
            "s0 -1 -2 +1 = -1 unflipped [5]",
            "s-3 +1 = -1 +2 +1 unflipped [0]",
        ]
    );
    let marks = &lesson.figures[0].marks;
    assert_eq!(
        (&marks.slurs[..], marks.slur_to_next),
        (&[(1, 2)][..], Some(6))
    );
    assert_eq!((&marks.ghosts[..], &marks.falls[..]), (&[2][..], &[6][..]));
}
