//! A lesson and a course as a JSON Schema (draft 2020-12), so that editors
//! complete and check what is typed. It says what the reader's own table of
//! words says, and no more: what words mean together is the reader's to check.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use crate::language::known::{Known, Need, Takes};
use crate::language::known_table;

/// The schema of a lesson file, as JSON.
pub fn lesson_schema() -> String {
    schema(&known_table::LESSON, "A lesson")
}

/// The schema of a course file, as JSON.
pub fn course_schema() -> String {
    schema(&known_table::COURSE, "A course")
}

fn schema(root: &'static Known, title: &str) -> String {
    let mut tables = BTreeMap::new();
    let mut schema = table(root, &mut tables);
    schema.insert(
        "$schema".to_owned(),
        json!("https://json-schema.org/draft/2020-12/schema"),
    );
    schema.insert("title".to_owned(), json!(title));
    schema.insert("$defs".to_owned(), json!(tables));
    format!("{:#}\n", Value::Object(schema))
}

/// A table; those inside it go among `tables`, each once.
fn table(known: &'static Known, tables: &mut BTreeMap<String, Value>) -> Map<String, Value> {
    let properties: Map<String, Value> = known
        .words
        .iter()
        .map(|word| {
            let mut says = value(&word.takes, tables);
            if let Value::Object(says) = &mut says {
                says.insert("description".to_owned(), json!(word.about));
            }
            (word.key.to_owned(), says)
        })
        .collect();
    let mut table = Map::new();
    table.insert("type".to_owned(), json!("object"));
    table.insert("properties".to_owned(), Value::Object(properties));
    table.insert("additionalProperties".to_owned(), json!(false));
    if !known.needs.is_empty() {
        let needs: Vec<Value> = known.needs.iter().map(need).collect();
        table.insert("allOf".to_owned(), json!(needs));
    }
    table
}

fn need(need: &Need) -> Value {
    let each = |keys: &[&str]| -> Vec<Value> {
        keys.iter()
            .map(|key| json!({ "required": [key] }))
            .collect()
    };
    match need {
        Need::Some([key]) => json!({ "required": [key] }),
        Need::Some(keys) => json!({ "anyOf": each(keys) }),
        Need::Exactly(keys) => json!({ "oneOf": each(keys) }),
        Need::NotBoth(keys) => {
            let pairs = keys.iter().enumerate().flat_map(|(at, first)| {
                let after = keys[at + 1..].iter();
                after.map(move |second| json!({ "required": [first, second] }))
            });
            json!({ "not": { "anyOf": pairs.collect::<Vec<_>>() } })
        }
    }
}

fn value(takes: &Takes, tables: &mut BTreeMap<String, Value>) -> Value {
    match takes {
        Takes::Text | Takes::Lines | Takes::Own(_) => json!({ "type": "string" }),
        Takes::Usual(_) | Takes::Scale | Takes::Instrument | Takes::Chord => json!({
            "anyOf": [{ "enum": takes.usual() }, { "type": "string" }]
        }),
        Takes::Word(words) => {
            let words = words();
            let patterns: Vec<String> = words.iter().map(|word| pattern(word)).collect();
            json!({
                "anyOf": [
                    { "enum": words },
                    { "type": "string", "pattern": format!("^{GAP}*(?:{}){GAP}*$", patterns.join("|")) },
                ]
            })
        }
        Takes::Number(least, most) => json!({
            "type": "integer", "minimum": least, "maximum": most
        }),
        Takes::Switch => json!({ "type": "boolean" }),
        Takes::List(each) => json!({ "type": "array", "items": value(each, tables) }),
        Takes::Table(known) => named(known, tables),
        Takes::Tables(known) => {
            let one = named(known, tables);
            json!({
                "anyOf": [one, { "type": "array", "items": one, "minItems": 1 }]
            })
        }
        Takes::Entries | Takes::WordsOver => json!({
            "type": "object", "additionalProperties": { "type": "string" }
        }),
        Takes::Any(all) => {
            let all: Vec<Value> = all.iter().map(|one| value(one, tables)).collect();
            json!({ "anyOf": all })
        }
    }
}

/// A table by its name among all.
fn named(known: &'static Known, tables: &mut BTreeMap<String, Value>) -> Value {
    let name = known.name.trim_matches(['[', ']']).replace("a ", "");
    if !tables.contains_key(&name) {
        let inner = table(known, tables);
        tables.insert(name.clone(), Value::Object(inner));
    }
    json!({ "$ref": format!("#/$defs/{name}") })
}

/// What may stand between two words: a space, a hyphen, `_`.
const GAP: &str = "[\\s_-]";

/// A word as the reader takes it: in letters of any size, joined in any way.
fn pattern(word: &str) -> String {
    let mut pattern = String::new();
    for letter in word.chars() {
        match letter {
            ' ' => pattern.push_str(&format!("{GAP}+")),
            'e' => pattern.push_str("[eEèÈ]"),
            letter if letter.is_alphabetic() => {
                pattern.push('[');
                pattern.push(letter);
                pattern.extend(letter.to_uppercase());
                pattern.push(']');
            }
            letter => pattern.push(letter),
        }
    }
    pattern
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_taken_as_the_reader_takes_them() {
        assert_eq!(pattern("a4"), "[aA]4");
        assert_eq!(pattern("as it"), "[aA][sS][\\s_-]+[iI][tT]");
    }

    /// Every table that a lesson or a course leads to is there, each word with
    /// what it says.
    #[test]
    fn every_table_is_defined() {
        for (schema, expected) in [(lesson_schema(), 12), (course_schema(), 7)] {
            let schema: Value = serde_json::from_str(&schema).unwrap();
            let defined = schema["$defs"].as_object().unwrap();
            let names: Vec<&String> = defined.keys().collect();
            assert_eq!(defined.len(), expected, "{names:?}");
            for table in defined.values().chain([&schema]) {
                for (key, word) in table["properties"].as_object().unwrap() {
                    assert!(word["description"].is_string(), "{key}");
                }
            }
        }
    }

    const PLAIN: &str = "[scale]\nname = \"major\"\n[figure]\nmoves = \"start\"\n";

    /// What a schema offers, the reader takes.
    #[test]
    fn what_is_usual_is_understood() {
        let check = |table: Known, key: &str, text: fn(&str) -> String| {
            let words = table.takes(key).and_then(Takes::usual).unwrap();
            for word in words {
                let text = text(&word);
                let told = crate::read(&text, "a").err().unwrap_or_default();
                assert_eq!(told, [], "{text}");
            }
        };
        check(known_table::SCALE, "name", |word| {
            format!("title = \"A\"\n[scale]\nname = \"{word}\"\n[figure]\nmoves = \"start\"\n")
        });
        check(known_table::SCALE, "chord", |word| {
            format!(
                "title = \"A\"\n[scale]\nname = \"major\"\nchord = \"{word}\"\n[figure]\nmoves = \"start\"\n"
            )
        });
        check(known_table::KEYS, "order", |word| {
            format!("title = \"A\"\nkeys = \"{word}\"\n{PLAIN}")
        });
        check(known_table::PLAYER, "instrument", |word| {
            format!("title = \"A\"\ninstruments = [\"{word}\"]\n{PLAIN}")
        });
        check(known_table::FIGURE, "meter", |word| {
            format!(
                "title = \"A\"\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start\"\nmeter = \"{word}\"\n"
            )
        });
        check(known_table::EXERCISE, "variant", |word| {
            let key = match word {
                series
                    if series.contains("every") || series.contains("each") || series == "all" =>
                {
                    "variants"
                }
                _ => "variant",
            };
            format!(
                "title = \"A\"\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up, step up\"\ncount = \"1 2 3\"\n[[exercise]]\nkind = \"sequence\"\n{key} = \"{word}\"\n"
            )
        });
        check(known_table::EXERCISE, "plan", |word| {
            format!(
                "title = \"A\"\n[figure]\nmoves = \"start\"\n[changes]\nbars = \"| C |\"\n[[exercise]]\nkind = \"changes\"\nplan = \"{word}\"\n"
            )
        });
        check(known_table::LESSON, "feel", |word| {
            format!("title = \"A\"\nfeel = \"{word}\"\n{PLAIN}")
        });
    }
}
