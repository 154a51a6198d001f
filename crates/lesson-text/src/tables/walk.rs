//! Walking a table: every key is known or a mistake, every value is of the
//! kind it should be or a mistake.

use std::ops::Range;

use crate::language::choice::{Choices, choose};
use crate::language::known::Known;
use crate::language::known::Takes;
use crate::language::known_table;
use crate::mistakes::mistake::Mistake;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned};
use crate::mistakes::suggestion::{listed, nearest, nearest_within, plain};
use crate::tables::tree::{Entry, Node, Table, Value};
use crate::tables::value::{as_number, as_text, too_many, wrong_kind};

/// A table whose keys are checked.
#[derive(Debug)]
pub(crate) struct Walk<'a> {
    /// The words that open it.
    pub span: Range<usize>,
    known: Known,
    entries: Vec<(&'static str, &'a Entry)>,
    /// Whether a key was typed that means nothing here: it may have been meant
    /// for one that is missing.
    strays: bool,
}

impl<'a> Walk<'a> {
    /// Opens a table; unknown keys are mistakes. A misspelled key counts as
    /// the one that was meant, where that isn't said too.
    pub(crate) fn open(table: &'a Table, known: Known, report: &mut Report<'_>) -> Walk<'a> {
        let mut entries = Vec::new();
        let mut strays = Vec::new();
        let mut unknown_keys = false;
        for entry in &table.entries {
            match known.keys.iter().find(|key| **key == entry.key) {
                Some(key) => entries.push((*key, entry)),
                None => strays.push(entry),
            }
        }
        for entry in strays {
            let near = meant(entry, known);
            let meant = known.keys.iter().find(|key| near == Some(**key));
            // What stands on a broken line has its mistake already.
            if !entry.aside {
                report.note(unknown(entry, known, near));
            }
            match meant.filter(|key| entries.iter().all(|(taken, _)| taken != *key)) {
                Some(key) => entries.push((*key, entry)),
                None => unknown_keys = true,
            }
            if report.is_full() {
                break;
            }
        }
        Walk {
            span: table.span.clone(),
            known,
            entries,
            strays: unknown_keys,
        }
    }

    /// Whether a key is missing that no stray key can have been meant for.
    pub(crate) fn lacks(&self, key: &str) -> bool {
        !self.has(key) && !self.strays
    }

    /// The value of a key.
    pub(crate) fn node(&self, key: &str) -> Option<&'a Node> {
        self.entry(key).map(|entry| &entry.node)
    }

    /// Where a key stands.
    pub(crate) fn key_span(&self, key: &str) -> Range<usize> {
        self.entry(key)
            .map_or_else(|| self.span.clone(), |entry| entry.key_span.clone())
    }

    /// Whether a key is there, clear or not.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.entry(key).is_some()
    }

    /// Words in quotes.
    pub(crate) fn text(&self, key: &str, report: &mut Report<'_>) -> Saying<String> {
        debug_assert!(self.takes(key).is_some_and(Takes::text), "{key}");
        self.read(key, |node| as_text(key, node, report))
    }

    /// One of some words.
    pub(crate) fn word<T: Copy>(
        &self,
        key: &str,
        choices: Choices<T>,
        report: &mut Report<'_>,
    ) -> Saying<T> {
        debug_assert!(
            self.takes(key).is_some_and(|takes| takes.words(choices)),
            "{key}"
        );
        self.text(key, report)
            .and_then(|text| choose(key, &text, choices, report))
    }

    /// A whole number in the range that the table says.
    pub(crate) fn number(&self, key: &str, report: &mut Report<'_>) -> Saying<i64> {
        let range = self.takes(key).and_then(Takes::number);
        debug_assert!(range.is_some(), "{key}");
        let (least, most) = range.unwrap_or((i64::MIN, i64::MAX));
        self.read(key, |node| as_number(key, node, least..=most, report))
    }

    /// `true` or `false`.
    pub(crate) fn switch(&self, key: &str, report: &mut Report<'_>) -> Saying<bool> {
        debug_assert!(matches!(self.takes(key), Some(Takes::Switch)), "{key}");
        self.read(key, |node| match &node.value {
            Value::Switch(on) => Some(*on),
            other => {
                wrong_kind(
                    key,
                    node,
                    other,
                    &format!("write {key} = true or {key} = false"),
                    report,
                );
                None
            }
        })
    }

    /// Any value, read by the caller.
    pub(crate) fn read<T>(&self, key: &str, read: impl FnOnce(&'a Node) -> Option<T>) -> Saying<T> {
        let Some(node) = self.node(key) else {
            return Saying::Unsaid;
        };
        if matches!(node.value, Value::Broken) {
            return Saying::Unclear;
        }
        match read(node) {
            Some(value) => Saying::Said(Spanned {
                value,
                span: node.span.clone(),
            }),
            None => Saying::Unclear,
        }
    }

    /// What a key takes here.
    fn takes(&self, key: &str) -> Option<&'static Takes> {
        self.known.takes(key)
    }

    fn entry(&self, key: &str) -> Option<&'a Entry> {
        self.entries
            .iter()
            .find(|(known, _)| *known == key)
            .map(|(_, entry)| *entry)
    }
}

/// Tables of a key that may have one or several: `[scale]` or `[[scale]]`.
pub(crate) fn tables<'a>(
    walk: &Walk<'a>,
    key: &str,
    most: usize,
    report: &mut Report<'_>,
) -> Saying<Vec<&'a Table>> {
    walk.read(key, |node| match &node.value {
        Value::Table(table) => Some(vec![table]),
        Value::List(nodes) if !nodes.is_empty() => {
            if too_many(nodes.len(), most, &node.span, report) {
                return None;
            }
            let tables: Vec<&Table> = nodes
                .iter()
                .filter_map(|inner| match &inner.value {
                    Value::Table(table) => Some(table),
                    _ => None,
                })
                .collect();
            if tables.len() < nodes.len() {
                report.mistake(
                    &node.span,
                    format!("{key} holds more than tables"),
                    heading_help(key),
                );
                return None;
            }
            Some(tables)
        }
        other => {
            wrong_kind(key, node, other, &heading_help(key), report);
            None
        }
    })
}

fn heading_help(key: &str) -> String {
    let heading = if matches!(key, "exercise" | "player" | "week") {
        format!("[[{key}]]")
    } else {
        format!("[{key}]")
    };
    format!("write {heading} alone on a line, and what it says on the lines below")
}

/// The key of a table that a misspelled one was probably meant to be. A key
/// that another table knows is rather out of its place than misspelled, and
/// one whose value couldn't stand there must be near indeed: else a mistake
/// would be told of words that were never typed.
fn meant(entry: &Entry, known: Known) -> Option<&'static str> {
    let key = entry.key.as_str();
    let keys = known.keys.iter().copied();
    if key == "chords" && known.keys.contains(&"bars") {
        return Some("bars");
    }
    if known_table::is_known(key) {
        return nearest_within(1, key, keys);
    }
    let fits = |near: &&str| {
        let takes = known.takes(near);
        takes.is_none_or(|takes| fits(takes, &entry.node.value))
    };
    nearest(key, keys.clone().filter(fits)).or_else(|| nearest_within(1, key, keys))
}

/// Whether a value of this kind may stand there.
fn fits(takes: &Takes, value: &Value) -> bool {
    match (takes, value) {
        (_, Value::Broken) => true,
        (Takes::Any(all), value) => all.iter().any(|one| fits(one, value)),
        (takes, Value::Text(_)) => takes.text(),
        (takes, Value::Number(_)) => takes.number().is_some(),
        (Takes::Switch, Value::Switch(_))
        | (Takes::List(_) | Takes::Tables(_), Value::List(_))
        | (
            Takes::Table(_) | Takes::Tables(_) | Takes::Entries | Takes::WordsOver,
            Value::Table(_),
        ) => true,
        _ => false,
    }
}

fn unknown(entry: &Entry, known: Known, near: Option<&'static str>) -> Mistake {
    let key = plain(&entry.key);
    let message = format!("{} knows no {key}", known.name);
    let elsewhere = |table: Known| table != known && table.keys.contains(&entry.key.as_str());
    let help = match near {
        Some(near) => format!("did you mean {near}?"),
        None if known == known_table::COURSE && entry.key == "title" => {
            "course = says its title: leave title out".to_owned()
        }
        None if known == known_table::COURSE && known_table::is_known(&entry.key) => {
            format!("{key} belongs in a lesson's own file")
        }
        None if known == known_table::LESSON && matches!(&*entry.key, "lessons" | "week") => {
            "a course has them: begin its file with course = and its title, not with title"
                .to_owned()
        }
        None if elsewhere(known_table::LESSON) => {
            format!(
                "{key} belongs to the whole lesson: move it to the top, above the first heading in brackets"
            )
        }
        None => match [
            known_table::KEYS,
            known_table::SCALE,
            known_table::FIGURE,
            known_table::EXERCISE,
            known_table::PLAYER,
            known_table::TRACK,
        ]
        .into_iter()
        .find(|table| elsewhere(*table))
        {
            Some(table) => format!("{key} belongs under {}", table.name),
            None => format!("it may say {}", listed(known.keys, "or")),
        },
    };
    Mistake::new(entry.key_span.clone(), message, help)
}
