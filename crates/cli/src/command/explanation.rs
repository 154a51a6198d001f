//! `check --explain`: how each line over changes came about, statement by
//! statement.

use std::io::Write;

use etude::{Report, SheetPlan, Statement};

use super::check_player::written_words;
use crate::table;

const HEADING: [&str; 9] = [
    "bar",
    "chorus",
    "chord",
    "scale",
    "because",
    "starts on",
    "variant",
    "join",
    "cost",
];

/// Prints every line over changes of a player.
pub fn print<'a>(
    sheets: impl Iterator<Item = (&'a SheetPlan, &'a Report)>,
    out: &mut impl Write,
) -> anyhow::Result<()> {
    for (plan, sheet) in sheets {
        let exercises = &sheet.exercises;
        let over = exercises
            .iter()
            .filter(|exercise| !exercise.statements.is_empty());
        for exercise in over {
            let key = written_words(plan);
            writeln!(out, "\n  {:02}, {key}, {}", plan.number, exercise.heading)?;
            let rows: Vec<[String; 9]> = exercise.statements.iter().map(row).collect();
            table::print(out, "  ", HEADING, &rows)?;
            let total: u32 = exercise.statements.iter().map(Statement::cost).sum();
            writeln!(out, "  in all: {total}")?;
            for fault in faults(&exercise.statements) {
                writeln!(out, "  {fault}")?;
            }
        }
    }
    Ok(())
}

fn row(statement: &Statement) -> [String; 9] {
    let join = match statement.join.map(|join| join.semitones) {
        None => "begins".to_owned(),
        Some(0) => "same note".to_owned(),
        Some(1) => "half step up".to_owned(),
        Some(-1) => "half step down".to_owned(),
        Some(up @ 2..) => format!("{up} half steps up"),
        Some(down) => format!("{} half steps down", -down),
    };
    let cost = match statement.join {
        Some(join) => format!("{} + {}", statement.own, join.cost),
        None => statement.own.to_string(),
    };
    [
        statement.bar.to_string(),
        statement.chorus.to_string(),
        statement.chord.to_string(),
        statement.scale.clone(),
        statement.rule.words().to_owned(),
        statement.start.to_string(),
        statement.variant.clone(),
        join,
        cost,
    ]
}

/// What of scales and chords doesn't agree, each once.
fn faults(statements: &[Statement]) -> Vec<String> {
    let mut faults: Vec<String> = Vec::new();
    for statement in statements {
        let (chord, scale) = (&statement.chord, &statement.scale);
        let missing = statement.missing.iter();
        let lacks = missing.map(|degree| format!("{scale} lacks {degree} of {chord}"));
        let clashes = statement.clashes.iter();
        let rubs = clashes.map(|degree| format!("{degree} of {scale} rubs against {chord}"));
        for fault in lacks.chain(rubs) {
            if !faults.contains(&fault) {
                faults.push(fault);
            }
        }
    }
    faults
}
