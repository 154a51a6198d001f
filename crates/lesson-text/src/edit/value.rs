//! Values of a lesson, and how they are written.

use crate::tree;

/// A value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Value {
    /// Words in quotes.
    Text(String),
    /// A whole number.
    Number(i64),
    /// `true` or `false`.
    Switch(bool),
    /// A list.
    List(Vec<Value>),
    /// A table: keys in the order they stand in.
    Table(Vec<(String, Value)>),
    /// Something that no word of a lesson takes, or a broken line.
    Unclear,
}

impl Value {
    pub(super) fn of(value: &tree::Value) -> Value {
        match value {
            tree::Value::Text(text) => Value::Text(text.clone()),
            tree::Value::Number(Some(number)) => Value::Number(*number),
            tree::Value::Switch(on) => Value::Switch(*on),
            tree::Value::List(nodes) => {
                Value::List(nodes.iter().map(|node| Value::of(&node.value)).collect())
            }
            tree::Value::Table(table) => Value::table(table),
            tree::Value::Number(None)
            | tree::Value::Decimal
            | tree::Value::Date
            | tree::Value::Broken => Value::Unclear,
        }
    }

    pub(super) fn table(table: &tree::Table) -> Value {
        let entries = table.entries.iter();
        Value::Table(
            entries
                .map(|entry| (entry.key.clone(), Value::of(&entry.node.value)))
                .collect(),
        )
    }

    /// As it is written on one line.
    pub(super) fn written(&self) -> String {
        match self {
            Value::Text(text) => quoted(text),
            Value::Number(number) => number.to_string(),
            Value::Switch(on) => on.to_string(),
            Value::List(values) => {
                let values: Vec<String> = values.iter().map(Value::written).collect();
                format!("[{}]", values.join(", "))
            }
            Value::Table(entries) if entries.is_empty() => "{}".to_owned(),
            Value::Table(entries) => {
                let entries: Vec<String> = entries
                    .iter()
                    .map(|(name, value)| format!("{} = {}", key(name), value.written()))
                    .collect();
                format!("{{ {} }}", entries.join(", "))
            }
            Value::Unclear => "\"\"".to_owned(),
        }
    }
}

/// A key as it is written.
pub(super) fn key(name: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-');
    if !name.is_empty() && name.chars().all(plain) {
        name.to_owned()
    } else {
        quoted(name)
    }
}

/// Words in quotes, as TOML 1.0 escapes them.
fn quoted(text: &str) -> String {
    let mut quoted = String::with_capacity(text.len() + 2);
    quoted.push('"');
    for letter in text.chars() {
        match letter {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            '\r' => quoted.push_str("\\r"),
            '\t' => quoted.push_str("\\t"),
            letter if letter.is_control() => {
                quoted.push_str(&format!("\\u{:04X}", u32::from(letter)));
            }
            letter => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}
