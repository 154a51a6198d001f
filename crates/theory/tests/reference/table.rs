//! Reading the tables.

use std::collections::BTreeMap;

use theory::{Degree, PitchName};

/// A row of a table by its columns' names.
pub struct Row(BTreeMap<String, String>);

impl Row {
    pub fn get(&self, column: &str) -> &str {
        self.0
            .get(column)
            .unwrap_or_else(|| panic!("no column {column}"))
    }

    pub fn number(&self, column: &str) -> i16 {
        self.get(column)
            .parse()
            .unwrap_or_else(|_| panic!("{column} is no number"))
    }

    /// What stands between semicolons.
    pub fn list(&self, column: &str) -> Vec<&str> {
        self.get(column)
            .split(';')
            .map(str::trim)
            .filter(|text| !text.is_empty())
            .collect()
    }
}

/// A table taken from elsewhere, each row with its source.
pub fn table(name: &str) -> Vec<Row> {
    let rows = rows(name);
    assert!(
        rows.iter().all(|row| !row.get("source").is_empty()),
        "{name}: every row has its source"
    );
    rows
}

/// A table's rows.
pub fn rows(name: &str) -> Vec<Row> {
    let path = format!(
        "{}/../../fixtures/tables/{name}.csv",
        env!("CARGO_MANIFEST_DIR")
    );
    let mut reader =
        csv::Reader::from_path(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    reader.deserialize().map(|row| Row(row.unwrap())).collect()
}

pub fn degrees(text: &str) -> Vec<Degree> {
    text.split_whitespace()
        .map(|word| word.parse().unwrap())
        .collect()
}

pub fn spelled(names: &[PitchName]) -> String {
    names
        .iter()
        .map(PitchName::to_string)
        .collect::<Vec<String>>()
        .join(" ")
}

/// Plain `b` and `#` for the signs that are printed.
pub fn plain(text: &str) -> String {
    text.replace('♭', "b").replace('♯', "#")
}
