//! What is said at the head of the sheet, the letters of its exercises, and
//! the tempos to climb.

use lesson::{Exercise, KeyChoice, Lesson, Player, Tempo};
use score::{About, Direction, HeadLine};
use theory::{KeyOrder, PitchName};

use crate::spell::note_name::note_name;
use crate::{SheetPlan, plan};

/// The rehearsal letter of an exercise on its sheet: A to Z, then AA, AB, …;
/// none on a sheet with a single exercise. Where sections are named on it, its
/// number.
pub(crate) fn rehearsal(place: usize, of: usize, numbered: bool) -> Option<String> {
    if of < 2 {
        return None;
    }
    if numbered {
        return Some((place + 1).to_string());
    }
    let letter = |place: usize| char::from(b'A' + (place % 26) as u8);
    Some(match place / 26 {
        0 => letter(place).to_string(),
        round => format!("{}{}", letter(round - 1), letter(place)),
    })
}

/// Tempos that stand in a row of boxes.
const BOXES: usize = 12;

/// A ladder of tempos as boxes to tick, row by row; one longer than a player
/// climbs in weeks is only told.
pub(crate) fn boxes(ladder: Tempo) -> Vec<Direction> {
    let Tempo::Ladder { from, to, by } = ladder else {
        return Vec::new();
    };
    let tempos = ladder.steps();
    if tempos.len() > 3 * BOXES {
        let words = format!("From {from} to {to} beats a minute, by {by}");
        return vec![Direction::Words(words.into())];
    }
    let rows = tempos.chunks(BOXES);
    rows.map(|row| Direction::Tempos(row.to_vec())).collect()
}

/// `A`, or `A minor`.
pub(crate) fn key_name(root: PitchName, minor: bool, lesson: &Lesson) -> String {
    let minor = if minor { " minor" } else { "" };
    format!("{}{minor}", note_name(root, lesson.note_names))
}

/// The lines at the head of a sheet; `minor` says of what kind its key is.
pub(crate) fn head(
    lesson: &Lesson,
    player: &Player,
    sheet: &SheetPlan,
    minor: bool,
    complete: bool,
) -> Vec<HeadLine> {
    let mut lines = Vec::new();
    if complete {
        lines.push(HeadLine::new(About::Sheet, "Answers"));
    }
    let who = [player.name.clone(), lesson.class.clone()]
        .into_iter()
        .flatten();
    lines.extend(who.map(|who| HeadLine::new(About::Player, who)));
    if !sheet.through_keys {
        let key = |root| key_name(root, minor, lesson);
        let keys = format!(
            "Written {} · concert {}",
            key(sheet.written),
            key(sheet.concert)
        );
        lines.push(HeadLine::new(About::Key, keys));
    }
    let on_sheet = plan::exercises(lesson, sheet).into_iter();
    let moves = on_sheet
        .map(|at| &lesson.exercises[at])
        .filter(|exercise| lesson.own.show_moves && exercise.kind.name().says_figure());
    let mut said: Vec<&str> = Vec::new();
    for figure in moves.flat_map(figures).map(|at| &lesson.figures[at]) {
        if !said.contains(&figure.moves_said.as_str()) {
            said.push(&figure.moves_said);
        }
    }
    let moves = said.into_iter().flat_map(wrapped);
    lines.extend(moves.map(|moves| HeadLine::new(About::Figure, moves)));
    let keys = player.keys.as_ref().unwrap_or(&lesson.keys);
    if let KeyChoice::Order {
        order: KeyOrder::Shuffled { seed },
        ..
    } = keys.choice
        && !sheet.through_keys
    {
        lines.push(HeadLine::new(
            About::Keys,
            format!("Keys shuffled, seed {seed}"),
        ));
    }
    if lesson.care {
        lines.push(HeadLine::new(About::Care, CARE));
    }
    lines
}

/// The figures that an exercise says, as places in the lesson.
fn figures(exercise: &Exercise) -> Vec<usize> {
    let choruses = exercise
        .kind
        .over()
        .into_iter()
        .flat_map(|over| &over.choruses);
    let chosen = choruses.flat_map(|chorus| chorus.figures.first());
    let chosen: Vec<usize> = chosen.flat_map(|(_, figures)| figures.clone()).collect();
    if chosen.is_empty() {
        return exercise.kind.figure().into_iter().collect();
    }
    chosen
}

/// What a sheet says to those who practise from it.
const CARE: &str =
    "Rest often; if anything hurts, stop, and ask your teacher or a clinician before you go on.";

/// Letters that a line at the head holds.
const LINE: usize = 100;

/// Lines that the moves of one figure may take; longer ones are left to the
/// notes themselves.
const MOST_LINES: usize = 3;

/// A figure's moves in lines, parted after commas.
fn wrapped(moves: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for said in moves.split_inclusive(',') {
        let said = said.trim();
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + said.chars().count() <= LINE => {
                line.push(' ');
                line.push_str(said);
            }
            _ => lines.push(said.to_owned()),
        }
    }
    if lines.len() > MOST_LINES {
        Vec::new()
    } else {
        lines
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        let letters: Vec<Option<String>> = [0, 1, 25, 26, 27, 52]
            .iter()
            .map(|at| rehearsal(*at, 60, false))
            .collect();
        let expected = ["A", "B", "Z", "AA", "AB", "BA"].map(|letter| Some(letter.to_owned()));
        assert_eq!(letters, expected);
        assert_eq!(rehearsal(0, 1, false), None);
        assert_eq!(rehearsal(26, 60, true), Some("27".to_owned()));
    }

    #[test]
    fn long_moves_take_several_lines() {
        assert_eq!(wrapped("start, step up"), ["start, step up"]);
        let long = "start, ".to_owned() + &"step up, ".repeat(20) + "rest";
        let lines = wrapped(&long);
        assert_eq!(lines.len(), 2);
        assert!(lines.iter().all(|line| line.chars().count() <= LINE));
        assert_eq!(lines.join(" "), long);
        assert!(wrapped(&"step up, ".repeat(200)).is_empty());
    }
}
