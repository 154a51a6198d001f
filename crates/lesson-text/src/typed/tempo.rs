//! The tempo: a number, or a ladder of them.

use lesson::Tempo;

use crate::language::known_table;
use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::tables::tree::{Node, Table, Value};
use crate::tables::value::as_number;
use crate::tables::walk::Walk;

/// Reads the tempo of a lesson or an exercise.
pub(crate) fn tempo(walk: &Walk<'_>, report: &mut Report<'_>) -> Saying<Tempo> {
    walk.read("tempo", |node| match &node.value {
        Value::Table(table) => ladder(table, report),
        _ => one(node, report),
    })
}

fn one(node: &Node, report: &mut Report<'_>) -> Option<Tempo> {
    let beats = as_number("tempo", node, limit::TEMPO, report)?;
    Some(Tempo::At(u16::try_from(beats).ok()?))
}

fn ladder(table: &Table, report: &mut Report<'_>) -> Option<Tempo> {
    let walk = Walk::open(table, known_table::TEMPO, report);
    for key in known_table::TEMPO.keys {
        if walk.lacks(key) {
            let help = "write { from = 72, to = 120, by = 8 }";
            report.missing(&table.span, format!("the tempo doesn't say {key}"), help);
        }
    }
    let from = walk.number("from", report);
    let to = walk.number("to", report);
    let by = walk.number("by", report);
    let (from, to, by) = (from.said()?, to.said()?, by.said()?);
    if from.value >= to.value {
        let help = format!(
            "let from be less than {}, or write tempo = {}",
            to.value, to.value
        );
        report.mistake(
            &from.span,
            format!("the tempo climbs from {} to {}", from.value, to.value),
            help,
        );
        return None;
    }
    if by.value > to.value - from.value {
        let help = format!("let by be at most {}", to.value - from.value);
        report.mistake(
            &by.span,
            format!("a step of {} leaps over the whole ladder", by.value),
            help,
        );
        return None;
    }
    let short = |number: i64| u16::try_from(number).ok();
    Some(Tempo::Ladder {
        from: short(from.value)?,
        to: short(to.value)?,
        by: short(by.value)?,
    })
}
