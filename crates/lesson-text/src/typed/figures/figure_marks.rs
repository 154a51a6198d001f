//! How the notes of a figure are played: `slur = "2-3 4-5"`, `accent = "1 4"`.
//! Notes are numbered as they sound in the count, from 1.

use std::ops::Range;

use lesson::FigureMarks;

use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::walk::Walk;

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
    let (ghosts, falls) = (numbers("ghost"), numbers("fall"));
    let (scoops, doits) = (numbers("scoop"), numbers("doit"));
    if let (Saying::Said(falls), Saying::Said(doits)) = (&falls, &doits)
        && let Some(both) = falls.value.iter().find(|note| doits.value.contains(note))
    {
        let message = format!("note {both} can't both fall away and slide up");
        report.mistake(&doits.span, message, "keep one of the two");
        return None;
    }
    let (slurs, slur_to_next) = slurs.or((Vec::new(), None))?;
    Some(FigureMarks {
        slurs,
        slur_to_next,
        accents: accents.or(Vec::new())?,
        staccato: staccato.or(Vec::new())?,
        tenuto: tenuto.or(Vec::new())?,
        ghosts: ghosts.or(Vec::new())?,
        falls: falls.or(Vec::new())?,
        scoops: scoops.or(Vec::new())?,
        doits: doits.or(Vec::new())?,
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

/// Slurs within a statement, and the note from which one goes on into the
/// next.
type Slurs = (Vec<(u16, u16)>, Option<u16>);

fn slurs(text: &Text, notes: usize, report: &mut Report<'_>) -> Option<Slurs> {
    let before = report.count();
    let mut slurs: Vec<(u16, u16)> = Vec::new();
    let mut to_next = None;
    let after = u16::try_from(notes).unwrap_or(u16::MAX).saturating_add(1);
    for part in parts(&text.value) {
        let typed = &text.value[part.clone()];
        // `next` is one past the last note.
        let end = |typed: &str| match typed.eq_ignore_ascii_case("next") {
            true => Some(after),
            false => note(typed),
        };
        let ends = typed
            .split_once(['-', '–'])
            .and_then(|(from, to)| Some((note(from)?, end(to)?)));
        let joins = typed.to_ascii_lowercase().ends_with("next");
        let Some((from, to)) = ends else {
            report.mistake(
                &text.part(report, &part),
                format!("{} is no slur", shown(typed)),
                "write its first and last note with a hyphen: slur = \"2-3 4-5\", or \"6-next\" into the next statement",
            );
            continue;
        };
        let furthest = if joins { from } else { from.max(to) };
        if beyond(text, &part, furthest, notes, report) {
            continue;
        }
        let last = match to_next {
            Some(_) => after,
            None => slurs.last().map_or(0, |(_, to)| *to),
        };
        let (message, help) = if from >= to {
            (
                format!("a slur can't go from note {from} to note {to}"),
                "write the earlier note first",
            )
        } else if from < last {
            (
                match to_next {
                    Some(_) => "this slur begins inside the one into the next statement".to_owned(),
                    None => format!("this slur begins inside the one to note {last}"),
                },
                "let slurs follow one another; one may begin on the note another ends on",
            )
        } else {
            if joins {
                to_next = Some(from);
            } else {
                slurs.push((from, to));
            }
            continue;
        };
        report.mistake(&text.part(report, &part), message, help);
    }
    let nothing = slurs.is_empty() && to_next.is_none();
    said_something("slur", text, nothing, before, report);
    (report.count() == before).then_some((slurs, to_next))
}

/// `unflipped = "6"`, `"last"`, `"5-6"`: the notes meant, each a rung with the
/// ornaments that lead to it, from 0. `ornaments` says of each tone whether it
/// is one.
pub(crate) fn kept_notes(
    text: &Text,
    ornaments: &[bool],
    report: &mut Report<'_>,
) -> Option<Vec<usize>> {
    let before = report.count();
    let tones = u16::try_from(ornaments.len()).unwrap_or(u16::MAX);
    let number = |typed: &str| match typed.eq_ignore_ascii_case("last") {
        true => Some(tones),
        false => note(typed),
    };
    let mut kept = Vec::new();
    for part in parts(&text.value) {
        let typed = &text.value[part.clone()];
        let span = text.part(report, &part);
        let ends = match typed.split_once(['-', '–']) {
            Some((from, to)) => number(from).zip(number(to)).filter(|(from, to)| from <= to),
            None => number(typed).map(|one| (one, one)),
        };
        let Some((from, to)) = ends else {
            report.mistake(
                &span,
                format!("{} names no notes", shown(typed)),
                "write unflipped = \"6\", \"5-6\" or \"last\": notes counted from 1",
            );
            continue;
        };
        if beyond(text, &part, to, ornaments.len(), report) {
            continue;
        }
        for at in usize::from(from - 1)..usize::from(to) {
            let rungs = ornaments[..at].iter().filter(|ornament| !**ornament);
            match (ornaments[at], rungs.count()) {
                (true, _) => report.mistake(
                    &span,
                    format!("note {} is an ornament", at + 1),
                    "name the note it leads to: the ornament keeps its side with it",
                ),
                (false, 0) => report.mistake(
                    &span,
                    "no move goes into the first note",
                    "name a later note",
                ),
                (false, rung) => kept.push(rung),
            }
        }
    }
    kept.sort_unstable();
    kept.dedup();
    said_something("unflipped", text, kept.is_empty(), before, report);
    (report.count() == before).then_some(kept)
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
            &text.span,
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
