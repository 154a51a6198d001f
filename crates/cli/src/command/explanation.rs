//! `check --explain`: how each line over changes came about, statement by
//! statement.

use std::io::Write;

use etude::{PhrasePart, Report, SheetPlan, Statement};

use super::check_player::written_words;
use crate::table;

const HEADING: [&str; 10] = [
    "bar",
    "chorus",
    "chord",
    "scale",
    "because",
    "starts on",
    "part",
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
            let rows: Vec<[String; 10]> = exercise.statements.iter().map(row).collect();
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

fn row(statement: &Statement) -> [String; 10] {
    let bar = match statement.shift {
        0 => statement.bar.to_string(),
        early @ ..0 => format!(
            "{}, {}",
            statement.bar,
            eighths(early.unsigned_abs(), "early")
        ),
        late => format!(
            "{}, {}",
            statement.bar,
            eighths(late.unsigned_abs(), "late")
        ),
    };
    [
        bar,
        statement.chorus.to_string(),
        statement.chord.to_string(),
        statement.scale.clone(),
        statement.rule.words().to_owned(),
        statement.start.to_string(),
        statement.part.map_or("", PhrasePart::word).to_owned(),
        statement.variant.clone(),
        join(statement),
        cost(statement),
    ]
}

fn eighths(number: u8, when: &str) -> String {
    match number {
        1 => format!("an eighth {when}"),
        number => format!("{number} eighths {when}"),
    }
}

/// How it is reached: `half step up, enclosed`.
fn join(statement: &Statement) -> String {
    let Some(join) = statement.join else {
        return "begins".to_owned();
    };
    let way = match join.semitones {
        0 => "same note".to_owned(),
        1 => "half step up".to_owned(),
        -1 => "half step down".to_owned(),
        up @ 2.. => format!("{up} half steps up"),
        down => format!("{} half steps down", -down),
    };
    match join.led {
        Some(led) => format!("{way}, {led}"),
        None => way,
    }
}

/// Its own, its join's, and those of what its phrase and the high point wish.
fn cost(statement: &Statement) -> String {
    let wishes = statement.phrase + statement.high_point.unwrap_or(0);
    let join = statement.join.map(|join| join.cost);
    let parts = [Some(statement.own), join, (wishes > 0).then_some(wishes)];
    let parts: Vec<String> = parts.iter().flatten().map(u32::to_string).collect();
    parts.join(" + ")
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
