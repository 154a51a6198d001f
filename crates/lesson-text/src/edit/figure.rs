//! A figure as a lesson's text says it, ready to be changed.

use rhythm::{Count, Meter};
use theory::{Ladder, Scale};

use super::document::Document;
use super::line::{Line, no_scale};
use super::refusal::Refusal;
use super::step::Step;
use super::value::Value;
use crate::language::known_table;
use crate::mistakes::report::Report;
use crate::tables::walk::Walk;
use crate::typed::figures::figure::figures;
use crate::typed::figures::wording::Wording;
use crate::typed::scale::scales;

/// A figure as the text says it, ready to be changed.
pub(super) struct Figure {
    pub name: Option<String>,
    pub meter: Meter,
    pub count: Count,
    pub line: Line,
    /// The key that says the line.
    pub key: &'static str,
    pub length: Option<String>,
    pub flipped: Option<Line>,
    /// The lesson's first scale, laid out; of a literal phrase all twelve.
    pub ladder: Option<Ladder>,
}

impl Figure {
    pub(super) fn read(document: &Document<'_>, index: usize) -> Option<Figure> {
        let mut report = Report::new(document.text);
        let walk = Walk::open(&document.root, known_table::LESSON, &mut report);
        let figure = figures(&walk, &mut report)?.into_iter().nth(index)?;
        let cell = figure.cell?;
        let ladder = match &cell.literal {
            Some(_) => Scale::named("chromatic").ok(),
            None => scale(&walk, &mut report),
        };
        let ladder = ladder.map(|scale| Ladder::new(&scale));
        let says = |key: &str| {
            let (table, _) = document.table(&way(index))?;
            document.entry(table, key)
        };
        let key = ["moves", "degrees", "rungs"]
            .into_iter()
            .find(|key| says(key).is_some())?;
        let length = says("length").and_then(|entry| match Value::of(&entry.node.value) {
            Value::Text(length) => Some(length),
            _ => None,
        });
        Some(Figure {
            length,
            name: figure.name.said().map(|said| said.value.clone()),
            meter: cell.meter,
            count: cell.count,
            line: Line::of(&cell.wording, document.text),
            key,
            flipped: cell
                .flipped
                .map(|moves| Line::of(&Wording::Moves(moves), document.text)),
            ladder,
        })
    }

    pub(super) fn ladder(&self) -> Result<&Ladder, Refusal> {
        self.ladder.as_ref().ok_or_else(no_scale)
    }
}

/// The scale that a figure is laid out on.
fn scale(walk: &Walk<'_>, report: &mut Report<'_>) -> Option<Scale> {
    scales(walk, false, report)
        .and_then(|scales| scales.into_iter().next()?.scale)
        .map(|scale| scale.scale)
        // Changes bring a scale for each chord, most of them like this one.
        .or_else(|| Scale::named("major").ok().filter(|_| walk.has("changes")))
}

/// The way to a figure in the text.
pub(super) fn way(figure: usize) -> [Step; 2] {
    [Step::from("figure"), Step::Item(figure)]
}
