//! Values of a lesson's text as JSON, both ways.

use lesson_text::edit::{Division, Edit, Grid, State, Step, Takes, Value, Word};
use serde_json::{Map, Value as Json, json};

/// A value of the text.
pub(crate) fn of_value(value: &Value) -> Json {
    match value {
        Value::Text(text) => json!(text),
        Value::Number(number) => json!(number),
        Value::Switch(on) => json!(on),
        Value::List(values) => values.iter().map(of_value).collect(),
        Value::Table(entries) => {
            let entries = entries.iter();
            Json::Object(
                entries
                    .map(|(key, value)| (key.clone(), of_value(value)))
                    .collect::<Map<_, _>>(),
            )
        }
        Value::Unclear => Json::Null,
    }
}

/// A value to be written; none for what no lesson holds.
fn value(json: &Json) -> Option<Value> {
    Some(match json {
        Json::String(text) => Value::Text(text.clone()),
        Json::Number(number) => Value::Number(number.as_i64()?),
        Json::Bool(on) => Value::Switch(*on),
        Json::Array(values) => Value::List(values.iter().map(value).collect::<Option<_>>()?),
        Json::Object(_) => Value::Table(says(json)?),
        Json::Null => return None,
    })
}

/// The entries of a table.
fn says(json: &Json) -> Option<Vec<(String, Value)>> {
    let entries = json.as_object()?.iter();
    entries
        .map(|(key, json)| Some((key.clone(), value(json)?)))
        .collect()
}

/// A change as the page says it.
pub(crate) fn edit(json: &Json) -> Option<Edit> {
    let number = |key: &str| usize::try_from(json.get(key)?.as_u64()?).ok();
    let small = |key: &str| i32::try_from(json.get(key).and_then(Json::as_i64).unwrap_or(0)).ok();
    let text = |key: &str| json.get(key)?.as_str().map(str::to_owned);
    let at = || -> Option<Vec<Step>> { json.get("at")?.as_array()?.iter().map(step).collect() };
    Some(match json.get("do")?.as_str()? {
        "set" => Edit::Set {
            at: at()?,
            value: value(json.get("value")?)?,
        },
        "unset" => Edit::Unset { at: at()? },
        "add" => Edit::Add {
            table: text("table")?,
            index: number("place")?,
            says: says(json.get("says")?)?,
        },
        "remove" => Edit::Remove {
            table: text("table")?,
            index: number("place")?,
        },
        "move" => Edit::Move {
            table: text("table")?,
            from: number("from")?,
            to: number("to")?,
        },
        "count" => Edit::Count {
            figure: number("figure")?,
            at: fraction(json.get("count")?.as_str()?)?,
            state: None,
            division: division(json.get("division")?.as_str()?)?,
        },
        "shift" => Edit::Shift {
            figure: number("figure")?,
            note: number("note")?,
            rungs: small("rungs")?,
            octaves: small("octaves")?,
        },
        _ => return None,
    })
}

fn step(json: &Json) -> Option<Step> {
    match json {
        Json::String(key) => Some(Step::Key(key.clone())),
        Json::Number(place) => Some(Step::Item(usize::try_from(place.as_u64()?).ok()?)),
        _ => None,
    }
}

/// `3/2`
fn fraction(said: &str) -> Option<rhythm::Fraction> {
    let (upper, lower) = said.split_once('/').unwrap_or((said, "1"));
    let (upper, lower): (i64, i64) = (upper.parse().ok()?, lower.parse().ok()?);
    let sane = lower > 0 && lower < 1 << 20 && upper.abs() < 1 << 20;
    sane.then(|| rhythm::Fraction::new(upper, lower))
}

fn state_word(state: State) -> &'static str {
    match state {
        State::Note => "note",
        State::Silence => "silence",
        State::Hold => "hold",
    }
}

/// A division by its word.
pub(crate) fn division(word: &str) -> Option<Division> {
    [
        Division::Numbers,
        Division::Halves,
        Division::Thirds,
        Division::Quarters,
    ]
    .into_iter()
    .find(|division| division_word(*division) == word)
}

fn division_word(division: Division) -> &'static str {
    match division {
        Division::Numbers => "numbers",
        Division::Halves => "halves",
        Division::Thirds => "thirds",
        Division::Quarters => "quarters",
    }
}

/// A figure's row of counts.
pub(crate) fn of_grid(grid: &Grid) -> Json {
    let cells: Vec<Json> = grid
        .cells
        .iter()
        .map(|cell| {
            json!({
                "count": cell.at.to_string(),
                "name": cell.name,
                "sign": cell.sign,
                "opensBar": cell.opens_bar,
                "state": state_word(cell.state),
                "next": state_word(cell.next),
                "note": cell.note,
                "sounds": cell.sounds,
            })
        })
        .collect();
    let divisions = grid.divisions.iter().map(|one| division_word(*one));
    json!({
        "name": grid.name,
        "meter": grid.meter,
        "division": division_word(grid.division),
        "divisions": divisions.collect::<Vec<_>>(),
        "cells": cells,
    })
}

/// A word of the lesson and what it takes.
pub(crate) fn of_word(word: &Word) -> Json {
    let (takes, words) = match &word.takes {
        Takes::One(words) => ("one", json!(words)),
        Takes::Several(words) => ("several", json!(words)),
        Takes::Text(words) => ("text", json!(words)),
        Takes::Lines => ("lines", Json::Null),
        Takes::Texts(words) => ("texts", json!(words)),
        Takes::Number(from, to) => ("number", json!([from, to])),
        Takes::Switch => ("switch", Json::Null),
        Takes::Scale => ("scale", Json::Null),
        Takes::Instrument => ("instrument", Json::Null),
        Takes::Own(what) => ("own", json!(what)),
        Takes::Owns(what) => ("owns", json!(what)),
        Takes::Table(words) => ("table", words.iter().map(of_word).collect()),
        Takes::WordsOver => ("words over", Json::Null),
        Takes::Chord => ("chord", Json::Null),
        Takes::Tempo => ("tempo", Json::Null),
        Takes::Keys => ("keys", Json::Null),
        Takes::InText => ("in text", Json::Null),
    };
    json!({ "key": word.key, "takes": takes, "words": words })
}
