//! How the notes of a figure are played: `slur = "2-3 4-5"`, `accent = "1 4"`.
//! Notes are numbered as they sound in the count, from 1.

use std::ops::Range;

use lesson::FigureMarks;

use crate::report::Report;
use crate::suggestion::shown;
use crate::text::Text;
use crate::walk::Walk;

/// Reads the marks of a figure of so many notes; `None` where unclear.
pub(crate) fn figure_marks(
    walk: &Walk<'_>,
    notes: usize,
    report: &mut Report<'_>,
) -> Option<FigureMarks> {
    let slurs = walk
        .text("slur", report)
        .and_then(|text| slurs(&text, notes, report));
    let mut numbers = |key| {
        walk.text(key, report)
            .and_then(|text| numbers(key, &text, notes, report))
    };
    let (accents, staccato, tenuto) = (numbers("accent"), numbers("staccato"), numbers("tenuto"));
    Some(FigureMarks {
        slurs: slurs.or(Vec::new())?,
        accents: accents.or(Vec::new())?,
        staccato: staccato.or(Vec::new())?,
        tenuto: tenuto.or(Vec::new())?,
    })
}

fn numbers(key: &str, text: &Text, notes: usize, report: &mut Report<'_>) -> Option<Vec<u16>> {
    let before = report.count();
    let mut numbers = Vec::new();
    for part in parts(&text.value) {
        let Some(number) = note(&text.value[part.clone()]) else {
            let help = format!("write {key} = \"1 4\": the notes of the figure, counted from 1");
            report.mistake(
                &text.part(report, &part),
                format!("{} is no number of a note", shown(&text.value[part])),
                help,
            );
            continue;
        };
        if beyond(text, &part, number, notes, report) {
            continue;
        }
        if numbers.contains(&number) {
            let message = format!("{number} is there already");
            report.mistake(
                &text.part(report, &part),
                message,
                "name each note once, in any order",
            );
            continue;
        }
        numbers.push(number);
    }
    said_something(key, text, numbers.is_empty(), before, report);
    (report.count() == before).then_some(numbers)
}

fn slurs(text: &Text, notes: usize, report: &mut Report<'_>) -> Option<Vec<(u16, u16)>> {
    let before = report.count();
    let mut slurs: Vec<(u16, u16)> = Vec::new();
    for part in parts(&text.value) {
        let typed = &text.value[part.clone()];
        let ends = typed
            .split_once(['-', '–'])
            .and_then(|(from, to)| Some((note(from)?, note(to)?)));
        let Some((from, to)) = ends else {
            report.mistake(
                &text.part(report, &part),
                format!("{} is no slur", shown(typed)),
                "write its first and last note with a hyphen: slur = \"2-3 4-5\"",
            );
            continue;
        };
        if beyond(text, &part, from.max(to), notes, report) {
            continue;
        }
        let last = slurs.last().map_or(0, |(_, to)| *to);
        let (message, help) = if from >= to {
            (
                format!("a slur can't go from note {from} to note {to}"),
                "write the earlier note first",
            )
        } else if from < last {
            (
                format!("this slur begins inside the one to note {last}"),
                "let slurs follow one another; one may begin on the note another ends on",
            )
        } else {
            slurs.push((from, to));
            continue;
        };
        report.mistake(&text.part(report, &part), message, help);
    }
    said_something("slur", text, slurs.is_empty(), before, report);
    (report.count() == before).then_some(slurs)
}

fn note(typed: &str) -> Option<u16> {
    let plain = !typed.is_empty() && typed.chars().all(|c| c.is_ascii_digit());
    let number = typed.parse().ok()?;
    (plain && number > 0).then_some(number)
}

/// Notes a number that the figure has no note for.
fn beyond(
    text: &Text,
    part: &Range<usize>,
    number: u16,
    notes: usize,
    report: &mut Report<'_>,
) -> bool {
    let off = usize::from(number) > notes;
    if off {
        let has = match notes {
            1 => "the figure has only one note".to_owned(),
            notes => format!("the figure has {notes} notes"),
        };
        report.mistake(
            &text.part(report, part),
            format!("there is no note {number}: {has}"),
            "count the notes that sound, not the silent counts",
        );
    }
    off
}

fn said_something(key: &str, text: &Text, empty: bool, before: usize, report: &mut Report<'_>) {
    if empty && report.count() == before {
        report.mistake(
            &text.place,
            format!("{key} names no note"),
            "write the numbers of its notes, or leave the line out",
        );
    }
}

/// Where the words of a text stand; commas part them too.
fn parts(text: &str) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let mut from = None;
    for (at, letter) in text.char_indices().chain([(text.len(), ' ')]) {
        let gap = letter.is_whitespace() || letter == ',';
        match from {
            None if !gap => from = Some(at),
            Some(start) if gap => {
                parts.push(start..at);
                from = None;
            }
            _ => {}
        }
    }
    parts
}
