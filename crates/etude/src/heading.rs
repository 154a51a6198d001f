//! What is said over an exercise, and at the head of the sheet.

use lesson::{
    ComingDown, Direction, Exercise, ExerciseKind, Hide, KeyChoice, Keys, Lesson, Named, Over,
    Player, Say, Span, Tempo,
};
use score::{About, HeadLine};
use theory::KeyOrder;

use crate::note_name::note_name;
use crate::{SheetPlan, plan};

/// The rehearsal letter of an exercise on its sheet: A to Z, then AA, AB, …;
/// none on a sheet with a single exercise.
pub(crate) fn rehearsal(place: usize, of: usize) -> Option<String> {
    if of < 2 {
        return None;
    }
    let letter = |place: usize| char::from(b'A' + (place % 26) as u8);
    Some(match place / 26 {
        0 => letter(place).to_string(),
        round => format!("{}{}", letter(round - 1), letter(place)),
    })
}

/// Kind, direction and span in words: `Sequence, up and down, one octave,
/// coming down flipped`.
pub(crate) fn words(lesson: &Lesson, exercise: &Exercise, player: &Player) -> String {
    let mut words = match (exercise.kind, exercise.say) {
        (ExerciseKind::Scale, _) => "Scale".to_owned(),
        (ExerciseKind::Figure, _) => "Figure".to_owned(),
        (ExerciseKind::Sequence, _) => "Sequence".to_owned(),
        (ExerciseKind::Intervals, _) => study(lesson, exercise, "Intervals"),
        (ExerciseKind::Runs, _) => study(lesson, exercise, "Runs"),
        (ExerciseKind::Trade, _) => "Answer back".to_owned(),
        (ExerciseKind::Changes, _) => "Over the changes".to_owned(),
        (ExerciseKind::GuideTones, _) => "Guide tones".to_owned(),
        (ExerciseKind::Targets, _) => "Guide tones, led up to".to_owned(),
        (ExerciseKind::Keys, say) => {
            let said = match say {
                Say::Figure => "figure",
                Say::Sequence => "sequence",
            };
            let keys = through(plan::keys(lesson, exercise, player));
            format!("Through the keys ({keys}), {said}")
        }
    };
    if let Some(name) = exercise
        .figure
        .and_then(|at| lesson.figures[at].name.as_deref())
        && exercise.kind.says_figure()
        && lesson.figures.len() > 1
    {
        words.push_str(&format!(" on {name}"));
    }
    if let Some(over) = &exercise.over {
        words.push_str(&over_changes(over));
        return asked(exercise, words);
    }
    if let Some(variant) = variant(lesson, exercise) {
        words.push_str(&format!(", {variant}"));
    }
    words.push_str(&format!(", {}", lesson.scales[exercise.scale].scale.name));
    words.push_str(match exercise.direction {
        Direction::Up => ", up",
        Direction::Down => ", down",
        Direction::UpAndDown => ", up and down",
    });
    if !exercise.kind.says_once(exercise.say) {
        words.push_str(match exercise.span {
            Span::OneOctave => ", one octave",
            Span::TwoOctaves => ", two octaves",
            Span::WholeHorn => ", whole horn",
        });
    }
    if exercise.kind != ExerciseKind::Scale && exercise.direction != Direction::Up {
        words.push_str(match exercise.coming_down {
            ComingDown::Flipped => ", coming down flipped",
            ComingDown::Reversed => ", coming down reversed",
            ComingDown::AsItIs => ", coming down as it is",
        });
    }
    if let Some(trade) = exercise.trade {
        let bars = match trade.bars {
            1 => "1 bar".to_owned(),
            bars => format!("{bars} bars"),
        };
        words.push_str(&format!(", {bars} to answer in"));
    }
    asked(exercise, words)
}

/// What is played when over changes.
fn over_changes(over: &Over) -> String {
    let mut words = String::new();
    if over.plan.rest > 0 {
        let bars = |count: u16| match count {
            1 => "1 bar".to_owned(),
            count => format!("{count} bars"),
        };
        let (play, rest) = (bars(over.plan.play), bars(over.plan.rest));
        words.push_str(&format!(", {play} play, {rest} rest"));
    }
    if over.anticipate {
        words.push_str(", taking chords early");
    }
    if over.choruses.len() > 1 {
        let names: Vec<&str> = over
            .choruses
            .iter()
            .map(|chorus| chorus.kind.word())
            .collect();
        words.push_str(&format!(", choruses: {}", names.join(", ")));
    }
    words
}

/// What the student is asked for, beside what the exercise is.
fn asked(exercise: &Exercise, mut words: String) -> String {
    if exercise.given.is_some() {
        words = format!("Write out: {}", lower(&words));
    }
    words.push_str(match exercise.hide {
        None => "",
        Some(Hide::Notes) => ", notes to fill in",
        Some(Hide::Chords) => ", chord symbols to fill in",
        Some(Hide::Degrees) => ", degrees to fill in",
    });
    words
}

/// `Intervals of thirds, broken`.
fn study(lesson: &Lesson, exercise: &Exercise, what: &str) -> String {
    let of = exercise
        .figure
        .map_or("", |at| lesson.figures[at].moves_said.as_str());
    let broken = if exercise.broken { ", broken" } else { "" };
    format!("{what} of {of}{broken}")
}

/// Which variant of its figure an exercise plays; a scale plays none.
fn variant<'a>(lesson: &'a Lesson, exercise: &Exercise) -> Option<&'a str> {
    let figure = exercise
        .figure
        .filter(|_| exercise.kind != ExerciseKind::Scale);
    lesson.figures[figure?].variant.as_deref()
}

/// With a small first letter.
fn lower(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(char::to_lowercase);
    first.into_iter().flatten().chain(letters).collect()
}

/// Tempos that stand in a row of boxes.
const BOXES: usize = 12;

/// A ladder of tempos as boxes to tick, row by row; one longer than a player
/// climbs in weeks is only told.
pub(crate) fn boxes(ladder: Tempo) -> Vec<String> {
    let Tempo::Ladder { from, to, by } = ladder else {
        return Vec::new();
    };
    let tempos: Vec<String> = ladder
        .steps()
        .iter()
        .map(|tempo| format!("□ {tempo}"))
        .collect();
    if tempos.len() > 3 * BOXES {
        return vec![format!("From {from} to {to} beats a minute, by {by}")];
    }
    tempos.chunks(BOXES).map(|row| row.join("   ")).collect()
}

/// The way through the keys: `fourths from concert C`; a shuffle's seed, so
/// that it can be made again.
fn through(keys: &Keys) -> String {
    let named = match keys.named {
        Named::Concert => "concert",
        Named::Written => "written",
    };
    let way = match &keys.choice {
        KeyChoice::Order { order, from } => {
            let seed = match order {
                KeyOrder::Shuffled { seed } => format!(", seed {seed}"),
                KeyOrder::Cycle { .. } => String::new(),
            };
            format!("{} from {named} {}{seed}", order.words(), from.signs())
        }
        KeyChoice::Only(names) => {
            let names: Vec<String> = names.iter().map(|name| name.signs()).collect();
            format!("{named} {}", names.join(" "))
        }
    };
    match &keys.draw {
        Some(draw) => format!("{way}, {} drawn", draw.count),
        None => way,
    }
}

/// The lines at the head of a sheet.
pub(crate) fn head(
    lesson: &Lesson,
    player: &Player,
    plan: &SheetPlan,
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
    if !plan.through_keys {
        let key = format!(
            "Written {} · concert {}",
            note_name(plan.written, lesson.note_names),
            note_name(plan.concert, lesson.note_names)
        );
        lines.push(HeadLine::new(About::Key, key));
    }
    let moves = lesson
        .exercises
        .iter()
        .filter(|exercise| exercise.kind.says_figure());
    let mut said: Vec<&str> = Vec::new();
    for figure in moves.filter_map(|exercise| exercise.figure.map(|at| &lesson.figures[at])) {
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
        && !plan.through_keys
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
            .map(|at| rehearsal(*at, 60))
            .collect();
        let expected = ["A", "B", "Z", "AA", "AB", "BA"].map(|letter| Some(letter.to_owned()));
        assert_eq!(letters, expected);
        assert_eq!(rehearsal(0, 1), None);
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
