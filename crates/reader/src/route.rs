//! The way through a piece: da capo, dal segno, coda and fine. The second time
//! nothing is repeated and last endings are taken (common practice).

use std::ops::Range;

use crate::part::{BarLines, Concern, PlacedWarning};
use crate::sign::Sign;
use crate::{Place, Warning};

/// What a measure says of the way.
#[derive(Debug)]
pub(crate) struct RouteBar<'a> {
    pub signs: &'a [Sign],
    pub lines: &'a BarLines,
    /// As it is printed.
    pub number: &'a str,
}

/// The measures of the first time, and those that follow it one by one.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Route {
    pub first: Range<usize>,
    pub then: Vec<usize>,
}

/// The way through measures, and what is contradictory about it.
pub(crate) fn route(bars: &[RouteBar<'_>], told: &mut Vec<PlacedWarning>) -> Route {
    let all = Route {
        first: 0..bars.len(),
        then: Vec::new(),
    };
    let has = |at: usize, sign: Sign| bars[at].signs.contains(&sign);
    let turns = |at: &usize| has(*at, Sign::DaCapo) || has(*at, Sign::DalSegno);
    let mut jumps = (0..bars.len()).filter(turns);
    let Some(jump) = jumps.next() else {
        return all;
    };
    let mut tell = |at: usize, message: &str| told.push(telling(bars, at, message));
    if let Some(second) = jumps.next() {
        tell(second, "a second jump back was not followed");
    }
    let start = if has(jump, Sign::DaCapo) {
        0
    } else {
        match (0..=jump).rev().find(|at| has(*at, Sign::Segno)) {
            Some(at) => at,
            None => {
                tell(jump, "a dal segno finds no segno: it was not followed");
                return all;
            }
        }
    };
    let (leave, enter) = coda(bars, jump, start);
    let fine = (start..bars.len()).find(|at| has(*at, Sign::Fine));
    let last_time = last_time(bars);
    let kept = |range: Range<usize>| range.filter(|at| last_time[*at]).collect::<Vec<usize>>();
    let then = match (leave, enter, fine) {
        (Some(leave), Some(enter), _) => {
            let mut then = kept(start..leave + 1);
            then.extend(kept(enter..bars.len()));
            then
        }
        (Some(leave), None, _) => {
            tell(
                leave,
                "a jump to the coda finds no coda: it was not followed",
            );
            kept(start..fine.map_or(bars.len(), |fine| fine + 1))
        }
        (None, _, Some(fine)) => kept(start..fine + 1),
        (None, Some(enter), None) => {
            tell(
                enter,
                "nothing says where to leave for the coda: it follows the jump back",
            );
            let mut then = kept(start..jump + 1);
            then.extend(kept(enter..bars.len()));
            then
        }
        (None, None, None) => kept(start..bars.len()),
    };
    Route {
        first: 0..jump + 1,
        then,
    }
}

/// Where the second time leaves for the coda, and where that begins: a sign
/// before the jump is the place to leave, one after it the coda.
fn coda(bars: &[RouteBar<'_>], jump: usize, start: usize) -> (Option<usize>, Option<usize>) {
    let signed = |at: &usize, sign: Sign| bars[*at].signs.contains(&sign);
    let enter = (jump + 1..bars.len()).find(|at| signed(at, Sign::Coda));
    let said = (start..=jump).find(|at| signed(at, Sign::ToCoda));
    let leave = said.or_else(|| (start..=jump).find(|at| signed(at, Sign::Coda)));
    (leave, enter)
}

/// Which measures are played the last time: not those of earlier endings.
fn last_time(bars: &[RouteBar<'_>]) -> Vec<bool> {
    let mut kept = vec![true; bars.len()];
    let mut ending: Option<usize> = None;
    let mut before: Option<Range<usize>> = None;
    for (at, bar) in bars.iter().enumerate() {
        if bar.lines.ending.is_some() {
            if let Some(earlier) = before.take().filter(|earlier| earlier.end == at) {
                kept[earlier].fill(false);
            }
            ending = Some(at);
        }
        if bar.lines.ending_over
            && let Some(from) = ending.take()
        {
            before = Some(from..at + 1);
        }
    }
    kept
}

fn telling(bars: &[RouteBar<'_>], at: usize, message: &str) -> PlacedWarning {
    let place = Place {
        measure: Some(crate::shown::short(bars[at].number)),
        element: Some("direction".to_owned()),
        ..Place::default()
    };
    PlacedWarning {
        about: Concern::Chords,
        warning: Warning {
            place,
            message: message.to_owned(),
        },
        measure: at,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Bars as `1 §2 3fine 4dc`: signs after a number, `[` and `]` around an
    /// ending. Expected: the first time's last bar, then what follows, then
    /// the number of warnings.
    fn check(music: &str, last: usize, then: &str, warned: usize) {
        let words: Vec<&str> = music.split_whitespace().collect();
        let signs: Vec<Vec<Sign>> = words
            .iter()
            .map(|word| {
                let all = [
                    ("segno", Sign::Segno),
                    ("coda", Sign::Coda),
                    ("fine", Sign::Fine),
                    ("to", Sign::ToCoda),
                    ("dc", Sign::DaCapo),
                    ("ds", Sign::DalSegno),
                ];
                let has = |(name, _): &&(&str, Sign)| word.contains(name);
                all.iter().filter(has).map(|(_, sign)| *sign).collect()
            })
            .collect();
        let lines: Vec<BarLines> = words
            .iter()
            .map(|word| BarLines {
                ending: word.starts_with('[').then(|| vec![1]),
                ending_over: word.ends_with(']'),
                ..BarLines::default()
            })
            .collect();
        let signed = signs.iter().zip(&lines).zip(&words);
        let bars: Vec<RouteBar<'_>> = signed
            .map(|((signs, lines), number)| RouteBar {
                signs,
                lines,
                number,
            })
            .collect();
        let mut told = Vec::new();
        let found = route(&bars, &mut told);
        let numbers: Vec<String> = found.then.iter().map(|at| (at + 1).to_string()).collect();
        assert_eq!(
            (found.first.end, numbers.join(" ").as_str(), told.len()),
            (last, then, warned),
            "{music}"
        );
    }

    #[test]
    fn ways_through() {
        check("1 2 3", 3, "", 0);
        check("1 2fine 3 4dc", 4, "1 2", 0);
        check("1 2segno 3fine 4ds", 4, "2 3", 0);
        check("1 2to 3dc 4coda 5", 3, "1 2 4 5", 0);
        check("1 2segno 3coda 4ds 5coda", 4, "2 3 5", 0);
        check("1 2dc", 2, "1 2", 0);
        check("1 [2] [3] 4fine 5dc", 5, "1 3 4", 0);
        // What contradicts itself is said.
        check("1 2ds", 2, "", 1);
        check("1 2to 3dc", 3, "1 2 3", 1);
        check("1 2dc 3coda", 2, "1 2 3", 1);
        check("1 2fine 3dc 4dc", 3, "1 2", 1);
    }
}
