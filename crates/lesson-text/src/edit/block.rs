//! Tables under headings of their own: `[keys]`, `[[exercise]]`.
//!
//! A block is a heading with the comment right above it and all that follows
//! up to the next block; blank lines at its end stay where they are when
//! blocks change places.

use std::ops::Range;

use super::document::{Document, Form, known as known_keys, rank};
use super::list;
use super::refusal::{Refusal, by_hand, nothing_there};
use super::step::Step;
use super::value::Value;
use crate::language::known_table;
use crate::language::writing;
use crate::tables::tree::{self, Entry, Node, Table};

/// The text of a table under its heading.
fn written(name: &str, several: bool, says: &[(String, Value)], newline: &str) -> String {
    let heading = if several {
        format!("[[{name}]]")
    } else {
        format!("[{name}]")
    };
    let known = known_keys(&[Step::from(name)]);
    let mut says: Vec<&(String, Value)> = says.iter().collect();
    says.sort_by_key(|(key, _)| rank(known, key));
    let mut text = heading + newline;
    for (name, value) in says {
        let said = value.written_alone(newline);
        text += &format!("{} = {said}{newline}", writing::key(name));
    }
    text
}

/// A table of a kind that the text has none of: before the first that lessons
/// write after it.
pub(super) fn new(
    document: &Document<'_>,
    name: &str,
    several: bool,
    says: &[(String, Value)],
) -> String {
    let own = rank(Some(known_table::LESSON), name);
    let after = document.root.entries.iter().filter_map(|entry| {
        let heading = first_heading(document, entry)?;
        (rank(Some(known_table::LESSON), &entry.key) > own).then_some(heading)
    });
    let at = after.min().map_or(document.text.len(), |heading| {
        document.with_comment(document.line_start(heading))
    });
    inserted(
        document,
        at,
        &written(name, several, says, document.newline()),
    )
}

/// A block put where another begins, or at the end, with blank lines about it.
fn inserted(document: &Document<'_>, at: usize, block: &str) -> String {
    let newline = document.newline();
    let (before, after) = (&document.text[..at], &document.text[at..]);
    let ends = before
        .lines()
        .last()
        .is_none_or(|line| line.trim().is_empty());
    let above = match (before.is_empty(), before.ends_with('\n'), ends) {
        (true, _, _) | (_, true, true) => String::new(),
        (_, true, false) => newline.to_owned(),
        (_, false, _) => newline.repeat(2),
    };
    let parted = after.trim().is_empty() || after.starts_with(['\n', '\r']);
    let below = if parted { "" } else { newline };
    [before, &above, block, below, after].concat()
}

fn first_heading(document: &Document<'_>, entry: &Entry) -> Option<usize> {
    let headed = |node: &Node| {
        let table = matches!(node.value, tree::Value::Table(_));
        (table && document.form(&node.span) == Form::Headed).then_some(node.span.start)
    };
    match &entry.node.value {
        tree::Value::List(nodes) => nodes.first().and_then(headed),
        _ => headed(&entry.node),
    }
}

/// The block of a table under a heading.
fn block(document: &Document<'_>, table: &Table) -> Range<usize> {
    let heading = table.span.start;
    let mut inside = Vec::new();
    document.headings_in(table, &mut inside);
    let next = document
        .headings()
        .into_iter()
        .find(|start| *start > heading && !inside.contains(start));
    let start = document.with_comment(document.line_start(heading));
    let end = next.map_or(document.text.len(), |next| {
        document.with_comment(document.line_start(next))
    });
    start..end
}

/// A block without the blank lines, and the comments after them, at its end.
fn body(document: &Document<'_>, table: &Table) -> Range<usize> {
    let block = block(document, table);
    let mut end = document.next_line(table.span.end.min(block.end));
    let mut inside = Vec::new();
    entry_ends(table, &mut inside);
    if let Some(last) = inside.into_iter().max() {
        end = end.max(document.next_line(last));
    }
    block.start..end.min(block.end)
}

fn entry_ends(table: &Table, ends: &mut Vec<usize>) {
    for entry in &table.entries {
        ends.push(entry.key_span.end);
        ends.push(entry.node.span.end);
        match &entry.node.value {
            tree::Value::Table(inner) => entry_ends(inner, ends),
            tree::Value::List(nodes) => {
                for node in nodes {
                    ends.push(node.span.end);
                    if let tree::Value::Table(inner) = &node.value {
                        entry_ends(inner, ends);
                    }
                }
            }
            _ => {}
        }
    }
}

/// All tables of a kind.
enum Tables<'a> {
    None,
    /// `[exercise]`
    Alone(&'a Table),
    /// `[[exercise]]`
    Headed(Vec<&'a Table>),
    /// `exercise = [{ … }]`
    Inline(&'a Node, &'a [Node]),
}

fn tables<'a>(document: &'a Document<'_>, name: &str) -> Result<Tables<'a>, Refusal> {
    let Some(entry) = document.entry(&document.root, name) else {
        return Ok(Tables::None);
    };
    match &entry.node.value {
        tree::Value::Table(table) if document.form(&entry.node.span) == Form::Headed => {
            Ok(Tables::Alone(table))
        }
        tree::Value::List(nodes) => {
            let tables: Vec<&Table> = nodes
                .iter()
                .filter_map(|node| match &node.value {
                    tree::Value::Table(table) if document.form(&node.span) == Form::Headed => {
                        Some(table)
                    }
                    _ => None,
                })
                .collect();
            if !nodes.is_empty() && tables.len() == nodes.len() {
                Ok(Tables::Headed(tables))
            } else if tables.is_empty() {
                Ok(Tables::Inline(&entry.node, nodes))
            } else {
                Err(by_hand())
            }
        }
        _ => Err(by_hand()),
    }
}

pub(super) fn add(
    document: &Document<'_>,
    name: &str,
    index: usize,
    says: &[(String, Value)],
) -> Result<String, Refusal> {
    let text = written(name, true, says, document.newline());
    match tables(document, name)? {
        Tables::None => Ok(new(document, name, true, says)),
        Tables::Alone(table) => {
            // One more makes it one of several.
            let heading = table.span.clone();
            let double = format!("[{}]", &document.text[heading.clone()]);
            let text = document.replaced(heading, &double);
            let several = Document::read(&text);
            if matches!(tables(&several, name)?, Tables::Headed(_)) {
                add(&several, name, index, says)
            } else {
                Err(by_hand())
            }
        }
        Tables::Headed(tables) => {
            let at = match index.min(tables.len()).checked_sub(1) {
                Some(before) => body(document, tables[before]).end,
                None => block(document, tables[0]).start,
            };
            Ok(inserted(document, at, &text))
        }
        Tables::Inline(node, nodes) => {
            let mut values: Vec<Value> = nodes.iter().map(|node| Value::of(&node.value)).collect();
            values.insert(index.min(values.len()), Value::Table(says.to_vec()));
            list::set(document, &node.span, nodes, &values)
        }
    }
}

pub(super) fn remove(document: &Document<'_>, name: &str, index: usize) -> Result<String, Refusal> {
    match tables(document, name)? {
        Tables::Alone(table) if index == 0 => Ok(document.replaced(block(document, table), "")),
        Tables::Headed(tables) => {
            let table = tables.get(index).ok_or_else(nothing_there)?;
            let block = block(document, table);
            let body = body(document, table);
            // Comments that stand apart below it are nobody's, and stay.
            let rest = document.text[body.end..block.end].trim_start_matches(['\r', '\n']);
            let end = if rest.trim().is_empty() {
                block.end
            } else {
                block.end - rest.len()
            };
            Ok(document.replaced(block.start..end, ""))
        }
        Tables::Inline(node, nodes) => {
            let mut values: Vec<Value> = nodes.iter().map(|node| Value::of(&node.value)).collect();
            if index >= values.len() {
                return Err(nothing_there());
            }
            values.remove(index);
            list::set(document, &node.span, nodes, &values)
        }
        Tables::None | Tables::Alone(_) => Err(nothing_there()),
    }
}

/// A table that stands alone under its heading, taken out with it.
pub(super) fn removed_alone(
    document: &Document<'_>,
    entry: &Entry,
    table: &Table,
) -> Result<String, Refusal> {
    if document.form(&entry.node.span) != Form::Headed {
        return Err(by_hand());
    }
    Ok(document.replaced(block(document, table), ""))
}

pub(super) fn move_to(
    document: &Document<'_>,
    name: &str,
    from: usize,
    to: usize,
) -> Result<String, Refusal> {
    match tables(document, name)? {
        Tables::Headed(tables) if from < tables.len() && to < tables.len() => {
            let bodies: Vec<Range<usize>> =
                tables.iter().map(|table| body(document, table)).collect();
            let mut order: Vec<usize> = (0..bodies.len()).collect();
            let moved = order.remove(from);
            order.insert(to, moved);
            let newline = document.newline();
            let mut text = String::with_capacity(document.text.len() + 2);
            let mut at = 0;
            for (span, of) in bodies.iter().zip(order) {
                text.push_str(&document.text[at..span.start]);
                let body = &document.text[bodies[of].clone()];
                text.push_str(body);
                if !body.ends_with('\n') && span.end < document.text.len() {
                    text.push_str(newline);
                }
                at = span.end;
            }
            text.push_str(&document.text[at..]);
            Ok(text)
        }
        Tables::Inline(node, nodes) if from < nodes.len() && to < nodes.len() => {
            let mut values: Vec<Value> = nodes.iter().map(|node| Value::of(&node.value)).collect();
            let moved = values.remove(from);
            values.insert(to, moved);
            list::set(document, &node.span, nodes, &values)
        }
        Tables::Alone(_) if from == 0 && to == 0 => Ok(document.text.to_owned()),
        _ => Err(nothing_there()),
    }
}
