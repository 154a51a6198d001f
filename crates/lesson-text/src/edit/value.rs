//! Values of a lesson, and how they are written.

use crate::language::writing::{key, quoted};
use crate::tables::tree;

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

    /// As it is written behind a key on a line of its own: several lines of
    /// words between three quotes.
    pub(super) fn written_alone(&self, newline: &str) -> String {
        match self {
            Value::Text(text) if text.contains('\n') && !text.contains('\r') => {
                let lines = text.split('\n').map(|line| {
                    let escaped = quoted(line);
                    let escaped = escaped[1..escaped.len() - 1].to_owned();
                    // Two quotes are harmless, three would end it.
                    match escaped.contains("\\\"\\\"") || escaped.ends_with("\\\"") {
                        true => escaped,
                        false => escaped.replace("\\\"", "\""),
                    }
                });
                let lines: Vec<String> = lines.collect();
                format!("\"\"\"{newline}{}\"\"\"", lines.join(newline))
            }
            _ => self.written(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Edit, Step, edit, values};

    fn set(text: &str, at: &[Step], value: &str) -> String {
        let edited = edit(
            text,
            &Edit::Set {
                at: at.to_vec(),
                value: Value::Text(value.to_owned()),
            },
        );
        edited.unwrap()
    }

    /// What a text says under `a`, and under `changes.bars`.
    fn says(text: &str, key: &str) -> Value {
        let Value::Table(entries) = values(text) else {
            return Value::Unclear;
        };
        entries
            .into_iter()
            .find_map(|(name, value)| match value {
                Value::Table(_) => None,
                value => (name == key).then_some(value),
            })
            .unwrap_or(Value::Unclear)
    }

    #[test]
    fn several_lines_are_written_as_lines() {
        let way = [Step::from("changes"), Step::from("bars")];
        let text = "title = \"t\"\n\n[changes]\nbars = \"| C |\" # all\n";
        assert_eq!(
            set(text, &way, "| C7 |\n| F7 |"),
            "title = \"t\"\n\n[changes]\nbars = \"\"\"\n| C7 |\n| F7 |\"\"\" # all\n"
        );
        let back = set(&set(text, &way, "| C7 |\n| F7 |"), &way, "| C |");
        assert_eq!(back, text);
        assert_eq!(
            set("title = \"t\"\n", &way, "a\nb"),
            "title = \"t\"\n\n[changes]\nbars = \"\"\"\na\nb\"\"\"\n"
        );
    }

    /// Whatever the words are, they are read back as they were said.
    #[test]
    fn lines_are_read_back() {
        for words in [
            "a\nb",
            "\nfirst line empty",
            "last line empty\n",
            "a \"quoted\" word\nand \\ a stroke",
            "three \"\"\" quotes\nand at the end \"",
            "a\ttab\nand \u{7f} a control",
            "\n\n",
        ] {
            let text = set("title = \"t\"\r\n", &[Step::from("text")], words);
            let lines = says(&text, "text");
            let Value::Text(read) = &lines else {
                panic!("{text}");
            };
            assert_eq!(read.replace("\r\n", "\n"), words, "{text}");
        }
    }
}
