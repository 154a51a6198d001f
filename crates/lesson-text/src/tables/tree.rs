//! A lesson file as plain tables of values with their spans in the file.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

use crate::lines::mend::MendedText;

/// A table: its entries and the words that open it.
#[derive(Debug, Clone)]
pub(crate) struct Table {
    pub span: Range<usize>,
    pub entries: Vec<Entry>,
}

/// A key with its value.
#[derive(Debug, Clone)]
pub(crate) struct Entry {
    pub key: String,
    pub key_span: Range<usize>,
    /// Whether it stands on a line set aside.
    pub aside: bool,
    pub node: Node,
}

/// A value and the bytes it stands at, quotes and brackets included.
#[derive(Debug, Clone)]
pub(crate) struct Node {
    pub span: Range<usize>,
    pub value: Value,
}

/// What a value is.
#[derive(Debug, Clone)]
pub(crate) enum Value {
    Text(String),
    /// A whole number; `None` past what 64 bits hold.
    Number(Option<i64>),
    Decimal,
    Switch(bool),
    Date,
    List(Vec<Node>),
    Table(Table),
    /// On a broken line, whose mistake is told elsewhere.
    Broken,
}

impl Value {
    /// What a teacher would call it.
    pub(crate) fn word(&self) -> &'static str {
        match self {
            Value::Text(_) => "words in quotes",
            Value::Number(_) => "a number",
            Value::Decimal => "a number with a decimal point",
            Value::Switch(_) => "true or false",
            Value::Date => "a date or a time",
            Value::List(_) => "a list",
            Value::Table(_) => "a table of its own",
            Value::Broken => "a broken line",
        }
    }
}

/// The tree of a parsed file, its spans those of the file as it was typed.
pub(crate) fn tree(parsed: &Spanned<DeTable<'_>>, mended: &MendedText<'_>) -> Table {
    table(parsed.get_ref(), parsed.span(), mended)
}

fn table(parsed: &DeTable<'_>, span: Range<usize>, mended: &MendedText<'_>) -> Table {
    let mut entries: Vec<Entry> = parsed
        .iter()
        .map(|(key, value)| Entry {
            key: key.get_ref().to_string(),
            key_span: mended.in_file(&key.span()),
            aside: mended.touches_aside(&mended.in_file(&key.span())),
            node: node(value, mended),
        })
        .collect();
    entries.sort_by_key(|entry| entry.key_span.start);
    Table {
        span: mended.in_file(&span),
        entries,
    }
}

fn node(parsed: &Spanned<DeValue<'_>>, mended: &MendedText<'_>) -> Node {
    let span = mended.in_file(&parsed.span());
    let value = match parsed.get_ref() {
        DeValue::Table(inner) => Value::Table(table(inner, parsed.span(), mended)),
        DeValue::Array(nodes) if nodes.iter().any(|inner| inner.get_ref().is_table()) => {
            list(nodes, mended)
        }
        _ if mended.touches_aside(&span) => Value::Broken,
        DeValue::String(text) => Value::Text(text.to_string()),
        DeValue::Integer(number) => {
            Value::Number(i64::from_str_radix(number.as_str(), number.radix()).ok())
        }
        DeValue::Float(_) => Value::Decimal,
        DeValue::Boolean(on) => Value::Switch(*on),
        DeValue::Datetime(_) => Value::Date,
        DeValue::Array(nodes) => list(nodes, mended),
    };
    Node { span, value }
}

fn list(nodes: &DeArray<'_>, mended: &MendedText<'_>) -> Value {
    Value::List(nodes.iter().map(|inner| node(inner, mended)).collect())
}
