//! The moves of a figure: `start, step up, skip down, up 3 steps, …`

use std::ops::Range;

use crate::language::choice::folded;
use crate::limit;
use crate::mistakes::mistake::Mistake;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Spanned;
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::value::too_many;
use crate::typed::figures::no_move::{no_move, number};
use crate::typed::figures::note_words::degree_word;
use crate::typed::figures::wording::MoveWord;
use crate::typed::scale::split;

/// Reads moves; `None` where any is unclear.
pub(crate) fn moves(text: &Text, report: &mut Report<'_>) -> Option<Vec<Spanned<MoveWord>>> {
    let before = report.count();
    let mut moves = Vec::new();
    let commas: Vec<Range<usize>> = pieces(&text.value);
    let last = commas.len().saturating_sub(1);
    if too_many(commas.len(), limit::MOVES, &text.span, report) {
        return None;
    }
    for (at, part) in commas.iter().enumerate() {
        let words = &text.value[part.clone()];
        let span = text.part(report, part);
        if words.is_empty() {
            // A comma after the last move does no harm.
            if at < last {
                let span = text.part(report, &(part.end..part.end + 1));
                report.mistake(
                    &span,
                    "no move stands before this comma",
                    "leave the comma out, or write a move",
                );
            }
            continue;
        }
        match read(words, &span) {
            Ok(value) => moves.push(Spanned { value, span }),
            Err(mistake) => report.note(mistake),
        }
    }
    if moves.is_empty() && report.count() == before {
        report.mistake(
            &text.span,
            "no move is said",
            "write moves with commas between them: start, step up, step up",
        );
    }
    if report.count() == before {
        in_order(&moves, report);
    }
    (report.count() == before).then_some(moves)
}

/// The moves as one line of words, as a sheet prints them: the teacher's own,
/// but signs before the degree that the figure starts on.
pub(crate) fn printed(text: &str, moves: &[Spanned<MoveWord>]) -> String {
    let typed = text
        .split(',')
        .map(folded)
        .filter(|words| !words.is_empty());
    let moves = typed.zip(moves).map(|(typed, said)| match said.value {
        MoveWord::Start(Some(word)) => format!("start on {}", word.printed()),
        _ => typed,
    });
    moves.collect::<Vec<_>>().join(", ")
}

/// What lies between commas, white space around it left out.
fn pieces(text: &str) -> Vec<Range<usize>> {
    let mut pieces = Vec::new();
    let mut start = 0;
    for end in text
        .match_indices(',')
        .map(|(at, _)| at)
        .chain([text.len()])
    {
        let words = &text[start..end];
        let first = start + (words.len() - words.trim_start().len());
        pieces.push(first..first + words.trim().len());
        start = end + 1;
    }
    pieces
}

/// One move, or what is wrong with it.
fn read(words: &str, span: &Range<usize>) -> Result<MoveWord, Mistake> {
    let typed = words.to_lowercase();
    let list: Vec<&str> = split(&typed, char::is_whitespace)
        .into_iter()
        .map(|(_, word)| word)
        .collect();
    match first_move(&list) {
        Some((found, taken)) if taken == list.len() => within_reach(found, words, span),
        Some((_, taken)) if all_moves(&list[taken..]) => {
            let message = format!("commas are missing in {}", shown(words));
            let help = "put a comma after each move: start, step up, step up";
            Err(Mistake::new(span.clone(), message, help))
        }
        _ => Err(no_move(words, &list, span)),
    }
}

fn within_reach(found: MoveWord, words: &str, span: &Range<usize>) -> Result<MoveWord, Mistake> {
    match found {
        MoveWord::Steps(0) => Err(Mistake::new(
            span.clone(),
            format!("{} goes nowhere", shown(words)),
            "write repeat to say a note again",
        )),
        MoveWord::Steps(steps) if i64::from(steps).abs() > limit::STEPS => Err(Mistake::new(
            span.clone(),
            format!("{} leaves every instrument", shown(words)),
            format!("say at most {} steps", limit::STEPS),
        )),
        _ => Ok(found),
    }
}

fn all_moves(mut words: &[&str]) -> bool {
    while !words.is_empty() {
        match first_move(words) {
            Some((_, taken)) => words = &words[taken..],
            None => return false,
        }
    }
    true
}

/// The move that words begin with, the longest one, and how many they are.
fn first_move(words: &[&str]) -> Option<(MoveWord, usize)> {
    let way = |word: &str| match word {
        "up" => Some(1),
        "down" => Some(-1),
        _ => None,
    };
    match words {
        ["start", "on", rest @ ..] => {
            degree_word(rest).map(|(degree, taken)| (MoveWord::Start(Some(degree)), 2 + taken))
        }
        ["start", ..] => Some((MoveWord::Start(None), 1)),
        ["repeat", ..] => Some((MoveWord::Repeat, 1)),
        ["rest", ..] => Some((MoveWord::Rest, 1)),
        ["enclose", ..] => Some((MoveWord::Enclose, 1)),
        ["from", "below", ..] => Some((MoveWord::FromBelow, 2)),
        ["from", "above", ..] => Some((MoveWord::FromAbove, 2)),
        ["step", to, ..] => Some((MoveWord::Steps(way(to)?), 2)),
        ["skip", to, ..] => Some((MoveWord::Steps(2 * way(to)?), 2)),
        ["octave", to, ..] => Some((MoveWord::Octave(way(to)?), 2)),
        [to, count, "step" | "steps", ..] => Some((MoveWord::Steps(way(to)? * number(count)?), 3)),
        _ => None,
    }
}

/// The first note is `start`, said once. What leads to a note may come before
/// any move, a repeat too: a neighbour note that returns.
fn in_order(moves: &[Spanned<MoveWord>], report: &mut Report<'_>) {
    let mut started = false;
    for said in moves {
        match said.value {
            MoveWord::Start(_) if started => {
                let help = "go on from the last note: up, down, or repeat";
                report.mistake(&said.span, "the figure starts twice", help);
            }
            MoveWord::Start(_) => started = true,
            MoveWord::Rest => {}
            value if value.is_ornament() => {}
            _ if !started => {
                let help = "let the first note be start, or start on 5";
                report.mistake(&said.span, "the figure hasn't started yet", help);
                return;
            }
            _ => {}
        }
    }
    if let Some(last) = moves.last().filter(|_| !started) {
        report.mistake(
            &last.span,
            "the figure never starts",
            "let the first note be start, or start on 5",
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::typed::figures::wording::DegreeWord;
    use theory::Degree;

    fn check(typed: &str, expected: Result<MoveWord, &str>) {
        let found = read(typed, &(0..0))
            .map_err(|mistake| format!("{} — {}", mistake.message, mistake.help));
        match (found, expected) {
            (Ok(found), Ok(expected)) => assert_eq!(found, expected, "{typed}"),
            (Err(found), Err(expected)) => assert_eq!(found, expected, "{typed}"),
            (found, expected) => panic!("{typed}: {found:?} is not {expected:?}"),
        }
    }

    #[test]
    fn every_move_is_read() {
        let five = DegreeWord {
            degree: Degree::new(5, 0),
            octaves: 0,
        };
        check("start", Ok(MoveWord::Start(None)));
        check("Start  on 5", Ok(MoveWord::Start(Some(five))));
        check(
            "start on low 5",
            Ok(MoveWord::Start(Some(DegreeWord {
                octaves: -1,
                ..five
            }))),
        );
        check("step up", Ok(MoveWord::Steps(1)));
        check("STEP DOWN", Ok(MoveWord::Steps(-1)));
        check("skip up", Ok(MoveWord::Steps(2)));
        check("skip\ndown", Ok(MoveWord::Steps(-2)));
        check("up 3 steps", Ok(MoveWord::Steps(3)));
        check("down twelve steps", Ok(MoveWord::Steps(-12)));
        check("up 1 step", Ok(MoveWord::Steps(1)));
        check("repeat", Ok(MoveWord::Repeat));
        check("octave up", Ok(MoveWord::Octave(1)));
        check("octave down", Ok(MoveWord::Octave(-1)));
        check("rest", Ok(MoveWord::Rest));
        check("from below", Ok(MoveWord::FromBelow));
        check("from above", Ok(MoveWord::FromAbove));
        check("enclose", Ok(MoveWord::Enclose));
    }

    #[test]
    fn slips_explain_themselves() {
        check(
            "up 3",
            Err(
                "\"up 3\" may mean a third as well as three steps — count the steps from note to note: up 3 steps",
            ),
        );
        check(
            "down 5",
            Err(
                "\"down 5\" doesn't say whether it counts steps or names an interval \
                 — count the steps from note to note: down 5 steps",
            ),
        );
        check(
            "stp up",
            Err("\"stp up\" is no move — did you mean step up?"),
        );
        check(
            "skip",
            Err("\"skip\" doesn't say which way — write skip up or skip down"),
        );
        check(
            "step up 3",
            Err("\"step up 3\" is no move — write up 3 steps"),
        );
        for (typed, meant) in [
            ("up a step", "step up"),
            ("down a skip", "skip down"),
            ("a step up", "step up"),
            ("up an octave", "octave up"),
            ("down step", "step down"),
        ] {
            let slip = format!("\"{typed}\" is no move — write {meant}");
            check(typed, Err(&slip));
        }
        check(
            "start step up",
            Err(
                "commas are missing in \"start step up\" — put a comma after each move: start, step up, step up",
            ),
        );
        check(
            "up 0 steps",
            Err("\"up 0 steps\" goes nowhere — write repeat to say a note again"),
        );
        check(
            "up 100 steps",
            Err("\"up 100 steps\" leaves every instrument — say at most 99 steps"),
        );
        check(
            "up a third",
            Err("\"up a third\" is no move \
                 — moves count along the scale: a third is a skip, a fourth 3 steps, a fifth 4 steps"),
        );
        check(
            "start on x",
            Err(
                "\"start on x\" names no degree — write start on and a degree of the scale: start on 5, start on b3",
            ),
        );
    }

    #[test]
    fn moves_are_printed_in_one_way() {
        let check = |typed: &str, expected: &str| {
            let mut report = Report::new(typed);
            let text = Text {
                value: typed.to_owned(),
                span: 0..typed.len(),
            };
            let moves = moves(&text, &mut report).unwrap();
            assert_eq!(printed(typed, &moves), expected);
        };
        check(" Start,step  UP,\n rest ,", "start, step up, rest");
        check(
            "rest, start on low  Bb7, skip up, up 2 steps",
            "rest, start on low ♭♭7, skip up, up 2 steps",
        );
    }
}
