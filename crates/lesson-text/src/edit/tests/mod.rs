mod figures;
mod keys;

use super::*;
use rhythm::Fraction;

fn at(way: &str) -> Vec<Step> {
    way.split(' ')
        .map(|step| match step.parse::<usize>() {
            Ok(index) => Step::Item(index),
            Err(_) => Step::from(step),
        })
        .collect()
}

fn text(value: &str) -> Value {
    Value::Text(value.to_owned())
}

fn texts(values: &[&str]) -> Value {
    Value::List(values.iter().map(|value| text(value)).collect())
}

#[track_caller]
fn check(before: &str, change: Edit, expected: &str) {
    let after = edit(before, &change).unwrap();
    assert_eq!(after, expected, "{change:?}");
}

fn set(way: &str, value: Value) -> Edit {
    Edit::Set { at: at(way), value }
}

fn unset(way: &str) -> Edit {
    Edit::Unset { at: at(way) }
}
