//! Bar lines: repeats and endings.

use crate::element::Element;
use crate::limit;
use crate::part::BarLines;
use crate::shown::shown;
use crate::time::integer;

/// Adds what a bar line says. `before_notes`: whether nothing has sounded in
/// the measure yet, for bar lines that don't say on which side they are.
///
/// Gives what was guessed.
pub(crate) fn bar_line(element: &Element, before_notes: bool, lines: &mut BarLines) -> Vec<String> {
    let mut guesses = Vec::new();
    let left = match element.attribute("location") {
        Some("left") => true,
        Some("middle") => {
            if element.child("repeat").is_some() {
                guesses.push("a repeat inside a bar was moved to its bar line".to_owned());
            }
            before_notes
        }
        Some(_) => false,
        // The standard's default is the right; a repeat that begins before
        // any note can only mean the left.
        None => {
            before_notes
                && element
                    .child("repeat")
                    .and_then(|repeat| repeat.attribute("direction"))
                    != Some("backward")
        }
    };
    if let Some(repeat) = element.child("repeat") {
        match repeat.attribute("direction") {
            Some("forward") if left => lines.forward = true,
            Some("forward") => lines.forward_after = true,
            Some("backward") => {
                if left {
                    lines.backward_before = true;
                } else {
                    lines.backward = true;
                }
                lines.times = repeat.attribute("times").and_then(|text| {
                    let times = integer(text)
                        .filter(|times| (1..=i64::from(limit::TIMES)).contains(times))
                        .and_then(|times| u16::try_from(times).ok());
                    if times.is_none() {
                        guesses.push(format!(
                            "{} is no number of times from 1 to {}: the repeat is played twice",
                            shown(text),
                            limit::TIMES
                        ));
                    }
                    times
                });
            }
            _ => guesses.push("a repeat without a direction was left out".to_owned()),
        }
    }
    for ending in element.children("ending") {
        match ending.attribute("type") {
            Some("start") => {
                let text = ending.attribute("number").unwrap_or_default();
                let times = numbers(text);
                if times.is_empty() {
                    guesses.push(format!(
                        "an ending's number {} can't be read: it was taken as the next",
                        shown(text)
                    ));
                }
                lines.ending = Some(times);
            }
            Some("stop" | "discontinue") => lines.ending_over = true,
            _ => guesses.push("an ending that neither starts nor stops was left out".to_owned()),
        }
    }
    guesses
}

/// `1`, `1,2`, `1, 2`, `1-3`; empty where it says no number.
fn numbers(text: &str) -> Vec<u16> {
    let mut numbers = Vec::new();
    for part in text.split([',', ' ', '.']).filter(|part| !part.is_empty()) {
        let number = |text: &str| {
            integer(text)
                .filter(|number| (1..=i64::from(limit::TIMES)).contains(number))
                .and_then(|number| u16::try_from(number).ok())
        };
        let (from, to) = part.split_once(['-', '–']).unwrap_or((part, part));
        match (number(from), number(to)) {
            (Some(from), Some(to)) if numbers.len() < 1_000 => numbers.extend(from..=to),
            _ => return Vec::new(),
        }
    }
    numbers.sort_unstable();
    numbers.dedup();
    numbers
}

#[cfg(test)]
mod tests {
    use super::numbers;

    #[test]
    fn ending_numbers() {
        let check = |text: &str, expected: &[u16]| assert_eq!(numbers(text), expected, "{text}");
        check("1", &[1]);
        check("1,2", &[1, 2]);
        check("1, 2", &[1, 2]);
        check("1. 2.", &[1, 2]);
        check("1-3", &[1, 2, 3]);
        check("2,1,2", &[1, 2]);
        check("", &[]);
        check("first", &[]);
        check("0", &[]);
        check("1,100", &[]);
    }
}
