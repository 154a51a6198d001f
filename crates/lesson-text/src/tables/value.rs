//! Values of the kind a key wants, or a mistake that says what to write.

use std::ops::{Range, RangeInclusive};

use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Spanned;
use crate::mistakes::text::Text;
use crate::tables::tree::{Node, Value};

/// Words in quotes, or a mistake.
pub(crate) fn as_text(key: &str, node: &Node, report: &mut Report<'_>) -> Option<String> {
    match &node.value {
        Value::Text(words) => Some(words.clone()),
        Value::Broken => None,
        other => {
            let typed = report.source.get(node.span.clone()).unwrap_or_default();
            let help = match other {
                Value::Table(_) | Value::List(_) | Value::Switch(_) => {
                    format!("write {key} = and words in quotation marks")
                }
                _ => format!("write {key} = \"{typed}\""),
            };
            wrong_kind(key, node, other, &help, report);
            None
        }
    }
}

/// A whole number in a range, or a mistake.
pub(crate) fn as_number(
    key: &str,
    node: &Node,
    range: RangeInclusive<i64>,
    report: &mut Report<'_>,
) -> Option<i64> {
    let (low, high) = (*range.start(), *range.end());
    match &node.value {
        Value::Number(Some(number)) if range.contains(number) => Some(*number),
        Value::Number(_) => {
            report.mistake(
                &node.span,
                format!("{key} lies between {low} and {high}"),
                format!("write a whole number from {low} to {high}"),
            );
            None
        }
        Value::Broken => None,
        Value::Text(words) if words.trim().parse::<i64>().is_ok() => {
            let help = format!("write {key} = {} without quotation marks", words.trim());
            wrong_kind(key, node, &node.value, &help, report);
            None
        }
        other => {
            wrong_kind(
                key,
                node,
                other,
                &format!("write {key} = and a whole number from {low} to {high}"),
                report,
            );
            None
        }
    }
}

/// A list of words in quotes, each with its span; empty ones are the
/// caller's to judge.
pub(crate) fn as_texts(
    key: &str,
    node: &Node,
    most: usize,
    report: &mut Report<'_>,
) -> Option<Vec<Text>> {
    match &node.value {
        Value::List(nodes) => {
            if too_many(nodes.len(), most, &node.span, report) {
                return None;
            }
            let texts: Vec<Text> = nodes
                .iter()
                .filter_map(|inner| match &inner.value {
                    Value::Text(words) => Some(Spanned {
                        value: words.clone(),
                        span: inner.span.clone(),
                    }),
                    other => {
                        wrong_kind(
                            &format!("each of {key}"),
                            inner,
                            other,
                            "write it in quotation marks",
                            report,
                        );
                        None
                    }
                })
                .collect();
            (texts.len() == nodes.len()).then_some(texts)
        }
        Value::Broken => None,
        other => {
            let typed = report.source.get(node.span.clone()).unwrap_or_default();
            let help = match other {
                Value::Text(_) => format!("write it in brackets: {key} = [{}]", one_line(typed)),
                _ => format!("write {key} = [\"…\", \"…\"]"),
            };
            wrong_kind(key, node, other, &help, report);
            None
        }
    }
}

/// Text for a page or a name: without control characters, not empty, not too
/// long; white space around it left out.
pub(crate) fn page_text(key: &str, text: &Text, report: &mut Report<'_>) -> Option<String> {
    let words = text.value.trim();
    let unprintable = text.value.char_indices().find(|(_, c)| c.is_control());
    if let Some((at, letter)) = unprintable {
        let span = text.part(report, &(at..at + letter.len_utf8()));
        let message = format!(
            "{key} holds a character that can't be printed (U+{:04X})",
            u32::from(letter)
        );
        report.mistake(
            &span,
            message,
            format!("keep {key} on one line, in printable letters"),
        );
        return None;
    }
    if words.is_empty() {
        report.mistake(
            &text.span,
            format!("{key} is empty"),
            format!("write {key} = and words in quotation marks"),
        );
        return None;
    }
    let letters = words.chars().count();
    if letters > limit::TITLE_LETTERS {
        let help = format!("keep it to {} letters", limit::TITLE_LETTERS);
        report.mistake(&text.span, format!("{key} has {letters} letters"), help);
        return None;
    }
    Some(words.to_owned())
}

/// Notes that a value is of the wrong kind.
pub(crate) fn wrong_kind(
    key: &str,
    node: &Node,
    value: &Value,
    help: &str,
    report: &mut Report<'_>,
) {
    if !matches!(value, Value::Broken) {
        report.mistake(&node.span, format!("{key} can't be {}", value.word()), help);
    }
}

/// Notes that there are more than a lesson may hold.
pub(crate) fn too_many(
    count: usize,
    most: usize,
    span: &Range<usize>,
    report: &mut Report<'_>,
) -> bool {
    if count > most {
        let message = format!("{count} are more than a lesson may hold here");
        report.mistake(
            span,
            message,
            format!("keep it to {most}, or make two lessons of it"),
        );
    }
    count > most
}

fn one_line(typed: &str) -> String {
    let line = typed.lines().next().unwrap_or_default();
    line.chars().take(60).collect()
}
