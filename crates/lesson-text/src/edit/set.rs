//! Setting and unsetting a key.

use std::ops::Range;

use super::document::{Document, Form, known, rank};
use super::refusal::{Refusal, by_hand, nothing_there};
use super::step::Step;
use super::value::Value;
use super::{block, list};
use crate::language::writing;
use crate::tables::tree::{self, Entry, Table};

pub(super) fn set(document: &Document<'_>, at: &[Step], value: &Value) -> Result<String, Refusal> {
    let Some((Step::Key(key), way)) = at.split_last() else {
        return Err(nothing_there());
    };
    let Some((table, form)) = document.table(way) else {
        return in_new_table(document, way, key, value);
    };
    match document.entry(table, key) {
        Some(entry) => over(document, entry, value),
        None => Beside { way, table, form }.said(document, key, value),
    }
}

/// A value in place of the one that stands there.
fn over(document: &Document<'_>, entry: &Entry, value: &Value) -> Result<String, Refusal> {
    let span = &entry.node.span;
    if entry.aside || matches!(entry.node.value, tree::Value::Broken) {
        return Err(Refusal(format!(
            "the line that says {} is broken: mend it in the text first",
            entry.key
        )));
    }
    match (&entry.node.value, value) {
        (tree::Value::List(nodes), Value::List(values))
            if document.text[span.start..].starts_with('[') =>
        {
            return list::set(document, span, nodes, values);
        }
        (tree::Value::Table(_), _) if document.form(span) != Form::Inline => {
            return Err(by_hand());
        }
        _ => {}
    }
    if Value::of(&entry.node.value) == *value {
        return Ok(document.text.to_owned());
    }
    Ok(replaced_in_column(
        document,
        span.clone(),
        &written_over(document, span, value),
    ))
}

/// As it is written where another stands: in an inline table on one line.
fn written_over(document: &Document<'_>, span: &Range<usize>, value: &Value) -> String {
    let before = &document.text[document.line_start(span.start)..span.start];
    if before.contains(['{', '[']) {
        value.written()
    } else {
        value.written_alone(document.newline())
    }
}

/// A value replaced; a comment behind it keeps its column where it can.
fn replaced_in_column(document: &Document<'_>, span: Range<usize>, with: &str) -> String {
    let behind = &document.text[span.end..document.line_end(span.end)];
    let gap = behind.len() - behind.trim_start_matches(' ').len();
    if gap < 2 || !behind.trim_start().starts_with('#') || with.contains('\n') {
        return document.replaced(span, with);
    }
    let letters = |text: &str| text.chars().count();
    let column = letters(&document.text[span.clone()]) + gap;
    let room = column.saturating_sub(letters(with)).max(1);
    let with = format!("{with}{}", " ".repeat(room));
    document.replaced(span.start..span.end + gap, &with)
}

/// A table that a key is to be said in, beside those that it says.
struct Beside<'d> {
    way: &'d [Step],
    table: &'d Table,
    form: Form,
}

impl Beside<'_> {
    /// The text with the key said, in the order that lessons are written in.
    fn said(&self, document: &Document<'_>, key: &str, value: &Value) -> Result<String, Refusal> {
        let Beside { way, table, form } = *self;
        if form == Form::Inline {
            let entry = format!("{} = {}", writing::key(key), value.written());
            return list::entry_added(document, table, &entry);
        }
        let said = value.written_alone(document.newline());
        let line = format!("{} = {said}", writing::key(key));
        let known = known(way);
        let own = rank(known, key);
        let mut lines: Vec<(&Entry, usize)> = table
            .entries
            .iter()
            .filter_map(|entry| Some((entry, end_of(document, entry)?)))
            .collect();
        lines.sort_by_key(|(_, end)| *end);
        let before = lines
            .iter()
            .rev()
            .find(|(entry, _)| own == usize::MAX || rank(known, &entry.key) < own);
        let newline = document.newline();
        let prefix = match (form, lines.first()) {
            (Form::Dotted, Some((entry, _))) => {
                let start = document.line_start(entry.key_span.start);
                document.text[start..entry.key_span.start].to_owned()
            }
            _ => indent(document, &lines),
        };
        let line = format!("{prefix}{line}");
        if let Some((_, end)) = before {
            let at = document.line_end(*end);
            return Ok(document.replaced(at..at, &format!("{newline}{line}")));
        }
        if let Some((entry, _)) = lines.first() {
            let at = document.line_start(entry.key_span.start);
            return Ok(document.replaced(at..at, &format!("{line}{newline}")));
        }
        if form == Form::Headed {
            let at = document.line_end(table.span.end);
            return Ok(document.replaced(at..at, &format!("{newline}{line}")));
        }
        Ok(at_the_top(document, &line))
    }
}

/// The first line of a file that says nothing yet: under its opening comment.
fn at_the_top(document: &Document<'_>, line: &str) -> String {
    let newline = document.newline();
    let mut at = if document.text.starts_with('\u{feff}') {
        3
    } else {
        0
    };
    let mut commented = false;
    while at < document.text.len() && document.text[at..].starts_with('#') {
        at = document.next_line(at);
        commented = true;
    }
    let above = match (commented, document.text[..at].ends_with('\n')) {
        (false, _) => "",
        (true, true) => newline,
        (true, false) => &format!("{newline}{newline}"),
    };
    let below = if document.text[at..].trim().is_empty() {
        newline.to_owned()
    } else {
        format!("{newline}{newline}")
    };
    document.replaced(at..at, &format!("{above}{line}{below}"))
}

/// How far the lines of a table are set in.
fn indent(document: &Document<'_>, lines: &[(&Entry, usize)]) -> String {
    let Some((entry, _)) = lines.first() else {
        return String::new();
    };
    let start = document.line_start(entry.key_span.start);
    let before = &document.text[start..entry.key_span.start];
    if before.trim().is_empty() {
        before.to_owned()
    } else {
        String::new()
    }
}

/// Where an entry that stands on lines of its own ends; none for what stands
/// under a heading.
fn end_of(document: &Document<'_>, entry: &Entry) -> Option<usize> {
    match &entry.node.value {
        tree::Value::Table(inner) => match document.form(&entry.node.span) {
            Form::Inline => Some(entry.node.span.end),
            Form::Dotted => inner
                .entries
                .iter()
                .filter_map(|entry| end_of(document, entry))
                .max(),
            Form::Headed | Form::Head => None,
        },
        tree::Value::List(nodes) => {
            let headed = nodes.first().is_some_and(|node| {
                matches!(node.value, tree::Value::Table(_))
                    && document.form(&node.span) == Form::Headed
            });
            (!headed).then_some(entry.node.span.end)
        }
        _ => Some(entry.node.span.end.max(entry.key_span.end)),
    }
}

/// A key of a table that the text doesn't have yet.
fn in_new_table(
    document: &Document<'_>,
    way: &[Step],
    key: &str,
    value: &Value,
) -> Result<String, Refusal> {
    let says = vec![(key.to_owned(), value.clone())];
    match way {
        // Alone, it is written with one pair of brackets.
        [Step::Key(name)] | [Step::Key(name), Step::Item(0)]
            if document.entry(&document.root, name).is_none() =>
        {
            let several = matches!(
                name.as_str(),
                "exercise" | "player" | "section" | "instrument"
            );
            Ok(block::new(document, name, several, &says))
        }
        [before @ .., Step::Key(name)] if !before.is_empty() => {
            let mut at = before.to_vec();
            at.push(Step::Key(name.clone()));
            set(document, &at, &Value::Table(says))
        }
        _ => Err(nothing_there()),
    }
}

pub(super) fn unset(document: &Document<'_>, at: &[Step]) -> Result<String, Refusal> {
    let Some((Step::Key(key), way)) = at.split_last() else {
        return Err(nothing_there());
    };
    let Some((table, form)) = document.table(way) else {
        return Ok(document.text.to_owned());
    };
    let Some(entry) = document.entry(table, key) else {
        return Ok(document.text.to_owned());
    };
    if form == Form::Inline {
        return list::entry_removed(document, table, key);
    }
    if let tree::Value::Table(inner) = &entry.node.value {
        match document.form(&entry.node.span) {
            Form::Headed => return block::removed_alone(document, entry, inner),
            Form::Dotted => return Err(by_hand()),
            Form::Inline | Form::Head => {}
        }
    }
    let start = document.line_start(entry.key_span.start);
    let end = end_of(document, entry).ok_or_else(by_hand)?;
    let behind = document.text[end..document.line_end(end)].trim();
    if behind.starts_with('#') {
        // What somebody noted there stays.
        let from = end + document.text[end..].find('#').unwrap_or(0);
        return Ok(document.replaced(start..from, ""));
    }
    if !behind.is_empty() {
        return Err(by_hand());
    }
    Ok(document.replaced(start..document.next_line(end), ""))
}
