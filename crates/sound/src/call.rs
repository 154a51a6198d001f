//! Calls: the stretches of a sheet that a student answers.

use crate::sheet::{Sheet, Tone};

/// Where the calls of a sheet begin and end, in its ticks; they fill it.
///
/// A call is the fewest whole statements that fill whole bars; what is left
/// at an exercise's end is one too, and a single note there after
/// longer statements (the closing root) goes with the statements before it. A statement begins at the last
/// bar line before its first note, unless the one before it sounds on past
/// that; then with its first note.
pub(crate) fn calls(sheet: &Sheet<'_>) -> Vec<(u64, u64)> {
    let mut calls = Vec::new();
    let mut from = 0;
    for begin in begins(sheet) {
        let whole = sheet
            .bar_at(from)
            .and_then(|bar| bar.meter)
            .is_some_and(|meter| {
                let length = sheet.quarters(begin.at.saturating_sub(from));
                (length / meter.bar()).is_integer()
            });
        if begin.at > from && (whole || begin.exercise) {
            calls.push((from, begin.at));
            from = begin.at;
        }
    }
    if sheet.end > from {
        calls.push((from, sheet.end));
    }
    calls
}

/// Where a statement begins, and whether an exercise does.
struct Begin {
    at: u64,
    exercise: bool,
}

/// Every statement but the first, without closing roots.
fn begins<'a>(sheet: &'a Sheet<'_>) -> impl Iterator<Item = Begin> + 'a {
    let place = |tone: &Tone<'_>| (tone.origin.exercise, tone.origin.statement);
    let statements: Vec<&[Tone<'_>]> = sheet.tones.chunk_by(|a, b| place(a) == place(b)).collect();
    let exercise_of = |statement: &[Tone<'_>]| statement.first().map(|tone| tone.origin.exercise);
    (1..statements.len()).filter_map(move |number| {
        let (before, this) = (statements[number - 1], statements[number]);
        let after = statements
            .get(number + 1)
            .and_then(|next| exercise_of(next));
        let exercise = exercise_of(before) != exercise_of(this);
        let last = after != exercise_of(this);
        if !exercise && last && this.len() == 1 && before.len() > 1 {
            return None;
        }
        let (end, start) = (before.last()?.end, this.first()?.start);
        let bar_line = sheet.bar_at(start)?.start;
        Some(Begin {
            at: if bar_line >= end { bar_line } else { start },
            exercise,
        })
    })
}
