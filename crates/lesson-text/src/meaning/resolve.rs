//! A figure's words on a scale: degrees become rungs.

use lesson::{Move, Moves};
use theory::{Degree, Ladder, Rung, Scale};

use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Spanned;
use crate::typed::figures::wording::{DegreeWord, MoveWord, NoteWord, Wording};

/// The moves on a scale; `None` where the scale lacks a degree.
pub(crate) fn resolve(wording: &Wording, scale: &Scale, report: &mut Report<'_>) -> Option<Moves> {
    match wording {
        Wording::Moves(moves) => resolve_moves(moves, scale, report),
        Wording::Notes(places) => resolve_notes(places, scale, report),
    }
}

/// As [`resolve`], for moves.
pub(crate) fn resolve_moves(
    words: &[Spanned<MoveWord>],
    scale: &Scale,
    report: &mut Report<'_>,
) -> Option<Moves> {
    let ladder = Ladder::new(scale);
    let before = report.count();
    let mut path = Path::default();
    let mut moves = Moves::new();
    for said in words {
        moves.push(match said.value {
            MoveWord::Start(None) => Move::Start { rungs: 0 },
            MoveWord::Start(Some(word)) => {
                let Some(rungs) = rung(word, said, scale, &ladder, report) else {
                    continue;
                };
                path.start(rungs);
                Move::Start { rungs }
            }
            MoveWord::Steps(rungs) => {
                path.by(rungs);
                Move::Rungs(rungs)
            }
            MoveWord::Octave(octaves) => {
                path.by(octaves * ladder.size());
                Move::Octaves(octaves)
            }
            MoveWord::Repeat => Move::Repeat,
            MoveWord::Rest => Move::Rest,
            MoveWord::FromBelow => Move::FromBelow,
            MoveWord::FromAbove => Move::FromAbove,
            MoveWord::Enclose => Move::Enclose,
        });
        path.check(said, report)?;
    }
    (report.count() == before).then_some(moves)
}

fn resolve_notes(
    words: &[Spanned<NoteWord>],
    scale: &Scale,
    report: &mut Report<'_>,
) -> Option<Moves> {
    let ladder = Ladder::new(scale);
    let before = report.count();
    let mut path = Path::default();
    let mut last: Option<i32> = None;
    let mut moves = Moves::new();
    for said in words {
        let rungs = match said.value {
            NoteWord::Rest => {
                moves.push(Move::Rest);
                continue;
            }
            NoteWord::Rung { rungs, octaves } => rungs + octaves * ladder.size(),
            NoteWord::Degree(word) => match rung(word, said, scale, &ladder, report) {
                Some(rungs) => rungs,
                None => continue,
            },
        };
        moves.push(match last {
            None => Move::Start { rungs },
            Some(last) if last == rungs => Move::Repeat,
            Some(last) => Move::Rungs(rungs - last),
        });
        match last {
            None => path.start(rungs),
            Some(last) => path.by(rungs - last),
        }
        last = Some(rungs);
        path.check(said, report)?;
    }
    (report.count() == before).then_some(moves)
}

/// How far a line wanders.
#[derive(Debug, Default)]
struct Path {
    first: i32,
    at: i32,
}

impl Path {
    fn start(&mut self, rungs: i32) {
        self.first = rungs;
        self.at = rungs;
    }

    fn by(&mut self, rungs: i32) {
        self.at += rungs;
    }

    /// Stops a line that leaves every instrument.
    fn check<T>(&self, said: &Spanned<T>, report: &mut Report<'_>) -> Option<()> {
        let far = |rungs: i32| rungs.abs() > limit::RUNGS;
        if far(self.first) || far(self.at - self.first) {
            let message = "the figure wanders off every instrument here";
            report.mistake(
                &said.span,
                message,
                format!("stay within {} steps of the first note", limit::RUNGS),
            );
            return None;
        }
        Some(())
    }
}

/// The rung of a degree, or a mistake that says what the scale has.
fn rung<T>(
    word: DegreeWord,
    said: &Spanned<T>,
    scale: &Scale,
    ladder: &Ladder,
    report: &mut Report<'_>,
) -> Option<i32> {
    if let Some(Rung(rungs)) = ladder.rung_of(word.degree) {
        return Some(rungs + word.octaves * ladder.size());
    }
    let number = (word.degree.number - 1) % 7 + 1;
    let has: Vec<String> = scale
        .degrees
        .iter()
        .filter(|degree| degree.number == number)
        .map(Degree::to_string)
        .collect();
    let all: Vec<String> = scale.degrees.iter().map(Degree::to_string).collect();
    let (message, help) = if has.len() > 1 && word.degree.alteration == 0 {
        (
            format!(
                "{} has {}: {} alone may be any",
                scale.name,
                has.join(" and "),
                word.degree
            ),
            "say which".to_owned(),
        )
    } else {
        (
            format!("{} has no {}", scale.name, word.degree),
            format!("its degrees are {}", all.join(" ")),
        )
    };
    report.mistake(&said.span, message, help);
    None
}
