//! A lesson's text with the spans of everything in it.

use std::ops::Range;

use toml::de::DeTable;

use super::step::Step;
use super::value::Value;
use crate::language::known::Known;
use crate::language::known_table;
use crate::lines::mend::MendedText;
use crate::mistakes::report::Report;
use crate::tables::tree::{self, Node, Table, tree};

/// What a text says, broken lines left unclear.
pub fn values(text: &str) -> Value {
    if text.len() > crate::limit::LESSON_BYTES {
        return Value::Table(Vec::new());
    }
    Value::table(&Document::read(text).root)
}

/// A text and its tree.
pub(super) struct Document<'t> {
    pub text: &'t str,
    pub root: Table,
    faults: usize,
}

/// How a table is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    /// The head of the file.
    Head,
    /// `[name]` or `[[name]]` on a line of its own.
    Headed,
    /// `{ … }`
    Inline,
    /// `name.key = …`
    Dotted,
}

impl<'t> Document<'t> {
    pub(super) fn read(text: &'t str) -> Document<'t> {
        let mut report = Report::new(text);
        let mended = MendedText::new(text, &mut report);
        let (parsed, _) = DeTable::parse_recoverable(&mended.text);
        Document {
            text,
            root: tree(&parsed, &mended),
            faults: report.count(),
        }
    }

    /// Broken lines.
    pub(super) fn faults(&self) -> usize {
        self.faults
    }

    /// What ends its lines.
    pub(super) fn newline(&self) -> &'static str {
        if self.text.contains("\r\n") {
            "\r\n"
        } else {
            "\n"
        }
    }

    /// The table at the end of a way, if the text has it.
    pub(super) fn table(&self, way: &[Step]) -> Option<(&Table, Form)> {
        let mut table = &self.root;
        let mut form = Form::Head;
        let mut list: Option<&[Node]> = None;
        for step in way {
            let node = match (step, list) {
                (Step::Key(key), None) => &self.entry(table, key)?.node,
                (Step::Item(index), Some(nodes)) => nodes.get(*index)?,
                // A table alone is the only one of its kind.
                (Step::Item(0), None) => continue,
                _ => return None,
            };
            list = None;
            match &node.value {
                tree::Value::Table(inner) => {
                    table = inner;
                    form = self.form(&node.span);
                }
                tree::Value::List(nodes) => list = Some(nodes),
                _ => return None,
            }
        }
        list.is_none().then_some((table, form))
    }

    pub(super) fn entry<'a>(&self, table: &'a Table, key: &str) -> Option<&'a tree::Entry> {
        table.entries.iter().find(|entry| entry.key == key)
    }

    pub(super) fn form(&self, span: &Range<usize>) -> Form {
        match self.text.as_bytes().get(span.start) {
            Some(b'[') => Form::Headed,
            Some(b'{') => Form::Inline,
            _ => Form::Dotted,
        }
    }

    /// Where the line of a byte begins.
    pub(super) fn line_start(&self, at: usize) -> usize {
        self.text[..at].rfind('\n').map_or(0, |end| end + 1)
    }

    /// Where the line of a byte ends, its end left out.
    pub(super) fn line_end(&self, at: usize) -> usize {
        let end = self.text[at..]
            .find('\n')
            .map_or(self.text.len(), |end| at + end);
        let carriage = self.text[at..end].ends_with('\r');
        end - usize::from(carriage)
    }

    /// Past the end of the line of a byte.
    pub(super) fn next_line(&self, at: usize) -> usize {
        self.text[at..]
            .find('\n')
            .map_or(self.text.len(), |end| at + end + 1)
    }

    /// Where the comment above a line begins, or the line itself.
    pub(super) fn with_comment(&self, line: usize) -> usize {
        let mut start = line;
        while start > 0 {
            let above = self.line_start(start - 1);
            if !self.text[above..start].trim_start().starts_with('#') {
                break;
            }
            start = above;
        }
        start
    }

    /// The beginnings of all headings, in order.
    pub(super) fn headings(&self) -> Vec<usize> {
        let mut starts = Vec::new();
        self.headings_in(&self.root, &mut starts);
        starts.sort_unstable();
        starts
    }

    pub(super) fn headings_in(&self, table: &Table, starts: &mut Vec<usize>) {
        for entry in &table.entries {
            match &entry.node.value {
                tree::Value::Table(inner) => self.heading(&entry.node, inner, starts),
                tree::Value::List(nodes) => {
                    for node in nodes {
                        if let tree::Value::Table(inner) = &node.value {
                            self.heading(node, inner, starts);
                        }
                    }
                }
                _ => {}
            }
        }
    }

    fn heading(&self, node: &Node, inner: &Table, starts: &mut Vec<usize>) {
        if self.form(&node.span) == Form::Headed {
            starts.push(node.span.start);
        }
        self.headings_in(inner, starts);
    }

    /// The text with a part of it replaced.
    pub(super) fn replaced(&self, span: Range<usize>, with: &str) -> String {
        [&self.text[..span.start], with, &self.text[span.end..]].concat()
    }
}

/// The keys of the table at the end of a way, in the order they are written
/// in; none where they are free.
pub(super) fn known(way: &[Step]) -> Option<Known> {
    let last = way.iter().rev().find_map(|step| match step {
        Step::Key(key) => Some(key.as_str()),
        Step::Item(_) => None,
    });
    match last {
        None => Some(known_table::LESSON),
        Some("keys") => Some(known_table::KEYS),
        Some("scale") => Some(known_table::SCALE),
        Some("figure") => Some(known_table::FIGURE),
        Some("exercise") => Some(known_table::EXERCISE),
        Some("player") => Some(known_table::PLAYER),
        Some("track") => Some(known_table::TRACK),
        Some("instrument") => Some(known_table::INSTRUMENT),
        Some("changes") => Some(known_table::CHANGES),
        Some("section") => Some(known_table::SECTION),
        Some("weights") => Some(known_table::WEIGHTS),
        Some("tempo") => Some(known_table::TEMPO),
        Some(_) => None,
    }
}

/// The rank of a key among those that a table knows.
pub(super) fn rank(known: Option<Known>, key: &str) -> usize {
    known
        .and_then(|known| known.keys.iter().position(|one| *one == key))
        .unwrap_or(usize::MAX)
}
