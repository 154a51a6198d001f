//! The words of a count, with their spans in its text.

use std::ops::Range;

/// A word of the count, or a sign between words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum CountToken {
    /// The number of a beat or unit.
    Number(u16),
    /// A part of what is numbered, as a fraction of it.
    Subdivision(Subdivision),
    /// `(`
    Open,
    /// `)`
    Close,
    /// `|`
    BarLine,
    /// `-`: the count after it is held.
    Hold,
    /// None of these.
    Unknown,
}

/// A part of what is numbered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Subdivision {
    /// `&`, `and` or `+`
    Half,
    /// `e`
    SecondQuarter,
    /// `a`
    LastQuarter,
    /// `trip` or `la`
    SecondThird,
    /// `let` or `li`
    LastThird,
}

impl Subdivision {
    /// Where it lies in what is numbered: (upper, lower) of a fraction.
    pub fn place(self) -> (i64, i64) {
        match self {
            Subdivision::Half => (1, 2),
            Subdivision::SecondQuarter => (1, 4),
            Subdivision::LastQuarter => (3, 4),
            Subdivision::SecondThird => (1, 3),
            Subdivision::LastThird => (2, 3),
        }
    }

    /// Whether it thirds what is numbered.
    pub fn thirds(self) -> bool {
        matches!(self, Subdivision::SecondThird | Subdivision::LastThird)
    }
}

/// Reads the words of a count.
pub(crate) fn words(text: &str) -> Vec<(CountToken, Range<usize>)> {
    spans(text)
        .into_iter()
        .map(|span| {
            (
                said(&text[span.clone()]).unwrap_or(CountToken::Unknown),
                span,
            )
        })
        .collect()
}

fn said(word: &str) -> Option<CountToken> {
    Some(match word {
        "(" => CountToken::Open,
        ")" => CountToken::Close,
        "|" => CountToken::BarLine,
        "-" | "–" => CountToken::Hold,
        "&" | "+" => CountToken::Subdivision(Subdivision::Half),
        _ if word.eq_ignore_ascii_case("and") => CountToken::Subdivision(Subdivision::Half),
        "e" | "E" => CountToken::Subdivision(Subdivision::SecondQuarter),
        "a" | "A" => CountToken::Subdivision(Subdivision::LastQuarter),
        _ if ["trip", "la"]
            .iter()
            .any(|name| word.eq_ignore_ascii_case(name)) =>
        {
            CountToken::Subdivision(Subdivision::SecondThird)
        }
        _ if ["let", "li"]
            .iter()
            .any(|name| word.eq_ignore_ascii_case(name)) =>
        {
            CountToken::Subdivision(Subdivision::LastThird)
        }
        _ if word.len() <= 3 && word.bytes().all(|byte| byte.is_ascii_digit()) => {
            CountToken::Number(word.parse().ok()?)
        }
        _ => return None,
    })
}

/// Where the words stand: parted by white space, and signs by themselves.
fn spans(text: &str) -> Vec<Range<usize>> {
    let mut spans: Vec<Range<usize>> = Vec::new();
    let mut open: Option<usize> = None;
    for (at, c) in text.char_indices() {
        let alone = matches!(c, '(' | ')' | '|' | '&' | '+' | '-' | '–');
        if (alone || c.is_whitespace())
            && let Some(start) = open.take()
        {
            spans.push(start..at);
        }
        if alone {
            spans.push(at..at + c.len_utf8());
        } else if !c.is_whitespace() && open.is_none() {
            open = Some(at);
        }
    }
    if let Some(start) = open {
        spans.push(start..text.len());
    }
    spans
}
