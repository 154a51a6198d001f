//! What is wrong with words that are no move.

use std::ops::Range;

use crate::language::choice::folded;
use crate::mistakes::mistake::Mistake;
use crate::mistakes::suggestion::{nearest, shown};

const NUMBERS: [&str; 12] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

/// A number in figures or in words up to twelve.
pub(super) fn number(word: &str) -> Option<i32> {
    let said = NUMBERS
        .iter()
        .position(|name| *name == word)
        .and_then(|at| i32::try_from(at + 1).ok());
    said.or_else(|| {
        let plain = !word.is_empty() && word.len() <= 6 && word.chars().all(|c| c.is_ascii_digit());
        if plain { word.parse().ok() } else { None }
    })
}

const MOVES: [&str; 16] = [
    "start",
    "start on 5",
    "step up",
    "step down",
    "skip up",
    "skip down",
    "up 3 steps",
    "down 3 steps",
    "up 2 steps",
    "down 2 steps",
    "repeat",
    "octave up",
    "octave down",
    "rest",
    "from below",
    "from above",
];

const INTERVALS: [&str; 6] = ["third", "fourth", "fifth", "sixth", "seventh", "second"];

/// What is wrong with words that are no move.
pub(super) fn no_move(words: &str, list: &[&str], span: &Range<usize>) -> Mistake {
    let (message, help) = half_said(words, list).unwrap_or_else(|| unknown(words, list));
    Mistake::new(span.clone(), message, help)
}

/// Message and help where nothing says which move was meant.
fn unknown(words: &str, list: &[&str]) -> (String, String) {
    let typed = shown(words);
    if list.iter().any(|word| INTERVALS.contains(word)) {
        let help =
            "moves count along the scale: a third is a skip, a fourth 3 steps, a fifth 4 steps";
        return (format!("{typed} is no move"), help.to_owned());
    }
    let help = match nearest(&folded(words), MOVES.into_iter().chain(["enclose"])) {
        Some(near) => format!("did you mean {near}?"),
        None => {
            "moves are start, step up, skip down, up 3 steps, repeat, octave up, rest, from below, from above, enclose"
                .to_owned()
        }
    };
    (format!("{typed} is no move"), help)
}

/// What is wrong with words that are nearly a move: one that lacks something,
/// says it in another order, or may mean two things.
fn half_said(words: &str, list: &[&str]) -> Option<(String, String)> {
    let typed = shown(words);
    match list {
        [way @ ("up" | "down"), count] if number(count).is_some() => {
            let message = format!("{typed} may mean a third as well as three steps");
            let message = if *count == "3" || *count == "three" {
                message
            } else {
                format!("{typed} doesn't say whether it counts steps or names an interval")
            };
            Some((
                message,
                format!("count the steps from note to note: {way} {count} steps"),
            ))
        }
        [way @ ("up" | "down")] => Some((
            format!("{typed} doesn't say how far"),
            format!("write step {way}, skip {way} or {way} 3 steps"),
        )),
        ["octave"] => Some((
            format!("{typed} doesn't say which way"),
            "write octave up or octave down".to_owned(),
        )),
        [kind @ ("step" | "skip")] => Some((
            format!("{typed} doesn't say which way"),
            format!("write {kind} up or {kind} down"),
        )),
        [
            way @ ("up" | "down"),
            "a" | "an" | "one",
            kind @ ("step" | "skip" | "octave"),
        ]
        | [
            "a" | "an" | "one",
            kind @ ("step" | "skip" | "octave"),
            way @ ("up" | "down"),
        ]
        | [way @ ("up" | "down"), kind @ ("step" | "skip" | "octave")] => {
            Some((format!("{typed} is no move"), format!("write {kind} {way}")))
        }
        ["step" | "skip", way @ ("up" | "down"), count] if number(count).is_some() => Some((
            format!("{typed} is no move"),
            format!("write {way} {count} steps"),
        )),
        ["start", "on", ..] => {
            let help = "write start on and a degree of the scale: start on 5, start on b3";
            Some((format!("{typed} names no degree"), help.to_owned()))
        }
        _ => None,
    }
}
