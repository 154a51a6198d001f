//! Words over several lines that begin with two quotation marks in place of
//! three: the parser only sees that the next line is no line of a lesson.

use std::ops::Range;

use crate::lines::fault::BrokenLines;
use crate::lines::line;
use crate::mistakes::mistake::Mistake;

/// What is wrong, if a line belongs to words begun so.
pub(crate) fn half_open(
    source: &str,
    lines: &[(Range<usize>, bool)],
    number: usize,
) -> Option<BrokenLines> {
    let says = |at: usize| lines.get(at).map(|(span, _)| &source[span.clone()]);
    let plain = |at: usize| {
        says(at).is_some_and(|words| line::key(words).is_none() && line::heading(words).is_none())
    };
    let opens = (0..number).rev().find(|at| !plain(*at))?;
    let (key, equals) = line::key(says(opens)?)?;
    let value = says(opens)?[equals + 1..].trim();
    if !plain(number) || !matches!(value, "\"\"" | "''") {
        return None;
    }
    let closes = (number..lines.len())
        .take_while(|at| says(*at).is_none_or(|words| line::heading(words).is_none()))
        .find(|at| {
            says(*at).is_some_and(|words| words.trim_end().ends_with(&value.repeat(2)[1..]))
        })?;
    let quote = &value[..1];
    let span = line::trimmed(source, &lines[opens].0);
    let mut aside = vec![(opens, format!("{key} = \"\""))];
    aside.extend((opens + 1..=closes).map(|at| (at, String::new())));
    Some(BrokenLines {
        mistake: Mistake::new(
            span.end - value.len()..span.end,
            "words over several lines begin with three quotation marks",
            format!("write one more: {key} = {}", quote.repeat(3)),
        ),
        aside,
        lost: false,
    })
}
