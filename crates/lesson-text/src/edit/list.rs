//! Lists and inline tables: what stays keeps its line and its comments.

use std::ops::Range;

use super::document::Document;
use super::refusal::{Refusal, by_hand};
use super::value::Value;
use crate::tables::tree::{Node, Table};

/// A list that says other values: those at its beginning and end that are the
/// same aren't touched.
pub(super) fn set(
    document: &Document<'_>,
    span: &Range<usize>,
    nodes: &[Node],
    values: &[Value],
) -> Result<String, Refusal> {
    let old: Vec<Value> = nodes.iter().map(|node| Value::of(&node.value)).collect();
    let most = old.len().min(values.len());
    let before = (0..most).take_while(|at| old[*at] == values[*at]).count();
    let after = (1..=most - before)
        .take_while(|back| old[old.len() - back] == values[values.len() - back])
        .count();
    let (gone, new) = (
        &nodes[before..nodes.len() - after],
        &values[before..values.len() - after],
    );
    if gone.is_empty() && new.is_empty() {
        return Ok(document.text.to_owned());
    }
    if nodes.is_empty() || values.is_empty() {
        let whole = Value::List(values.to_vec()).written();
        return Ok(document.replaced(span.clone(), &whole));
    }
    let between = between(document, span, nodes);
    let written: Vec<String> = new.iter().map(Value::written).collect();
    match (gone.first(), gone.last()) {
        (Some(first), Some(last)) if !new.is_empty() => {
            Ok(document.replaced(first.span.start..last.span.end, &written.join(&between)))
        }
        (Some(first), Some(last)) => {
            // With the comma that parts it from what stays.
            let cut = match (before.checked_sub(1), nodes.get(before + gone.len())) {
                (_, Some(next)) => first.span.start..next.span.start,
                (Some(last_kept), None) => nodes[last_kept].span.end..last.span.end,
                (None, None) => first.span.start..last.span.end,
            };
            Ok(document.replaced(cut, ""))
        }
        _ => {
            let (at, with) = match before.checked_sub(1) {
                Some(last) => (
                    nodes[last].span.end,
                    format!("{between}{}", written.join(&between)),
                ),
                None => (
                    nodes[0].span.start,
                    format!("{}{between}", written.join(&between)),
                ),
            };
            Ok(document.replaced(at..at, &with))
        }
    }
}

/// What parts the items of a list: a comma, and a line of its own each where
/// they stand so.
fn between(document: &Document<'_>, span: &Range<usize>, nodes: &[Node]) -> String {
    let first = nodes.first().map_or(span.end, |node| node.span.start);
    let start = document.line_start(first);
    let own_line = document.text[span.start..first].contains('\n')
        && document.text[start..first].trim().is_empty();
    if own_line {
        format!(",{}{}", document.newline(), &document.text[start..first])
    } else {
        ", ".to_owned()
    }
}

/// One more key of an inline table.
pub(super) fn entry_added(
    document: &Document<'_>,
    table: &Table,
    line: &str,
) -> Result<String, Refusal> {
    let span = &table.span;
    if !document.text[span.clone()].ends_with('}') {
        return Err(by_hand());
    }
    match table.entries.iter().map(|entry| entry.node.span.end).max() {
        Some(end) => Ok(document.replaced(end..end, &format!(", {line}"))),
        None => Ok(document.replaced(span.clone(), &format!("{{ {line} }}"))),
    }
}

/// One key of an inline table less.
pub(super) fn entry_removed(
    document: &Document<'_>,
    table: &Table,
    key: &str,
) -> Result<String, Refusal> {
    let index = table.entries.iter().position(|entry| entry.key == key);
    let Some(index) = index else {
        return Ok(document.text.to_owned());
    };
    let start = |at: usize| table.entries.get(at).map(|entry| entry.key_span.start);
    let own = &table.entries[index];
    let cut = match (index.checked_sub(1), start(index + 1)) {
        (_, Some(next)) => own.key_span.start..next,
        (Some(before), None) => table.entries[before].node.span.end..own.node.span.end,
        (None, None) => own.key_span.start..own.node.span.end,
    };
    Ok(document.replaced(cut, ""))
}
