//! A figure changed by hand: its counts, and where its notes lie.

use rhythm::{Count, Fraction, NoWords};

use super::document::Document;
use super::figure::{Figure, way};
use super::grid::{self, Cell, Division, State};
use super::marks::{NoteChange, renumbered};
use super::refusal::{Refusal, nothing_there};
use super::set;
use super::step::Step;
use super::value::Value;
use crate::language::known_table;

fn unclear() -> Refusal {
    Refusal("the figure has a mistake: mend it in the text first".to_owned())
}

/// A count that becomes something else.
pub(super) fn count(
    document: &Document<'_>,
    index: usize,
    at: Fraction,
    state: Option<State>,
    division: Division,
) -> Result<String, Refusal> {
    let mut figure = Figure::read(document, index).ok_or_else(unclear)?;
    let mut cells = grid::of(&figure, Some(division)).cells;
    let cell = cells
        .iter_mut()
        .find(|cell| cell.at == at)
        .ok_or_else(nothing_there)?;
    let before = cell.state;
    let state = state.unwrap_or(cell.next);
    cell.state = state;
    let said = aloud(&figure, &cells)?;
    let number = cells
        .iter()
        .filter(|cell| cell.at < at && cell.state == State::Note)
        .count();
    let ladder = figure.ladder.as_ref();
    let lines = [Some(&mut figure.line), figure.flipped.as_mut()];
    let changed = match (before == State::Note, state == State::Note) {
        (false, true) => {
            for line in lines.into_iter().flatten() {
                line.insert(number)?;
            }
            Some(NoteChange::Added(number + 1))
        }
        (true, false) => {
            for line in lines.into_iter().flatten() {
                line.remove(number, ladder)?;
            }
            Some(NoteChange::Removed(number + 1))
        }
        _ => None,
    };
    let (said, read) = within_length(said, &figure)?;
    let silent: Vec<bool> = read.slots.iter().map(|slot| slot.silent).collect();
    let mut text = Writing::new(document.text, index);
    text.says("count", said)?;
    text.says(figure.key, figure.line.over(&silent))?;
    if let Some(flipped) = &figure.flipped {
        text.says("flipped", flipped.over(&silent))?;
    }
    if let Some(changed) = changed {
        text.renumbered(changed)?;
    }
    Ok(text.text)
}

/// The count of a row of cells.
fn aloud(figure: &Figure, cells: &[Cell]) -> Result<String, Refusal> {
    let sounds = grid::sounds(cells);
    Count::aloud(&sounds, &figure.meter).map_err(|fault| match fault {
        NoWords::Mixed(_) => Refusal("thirds and halves can't be counted in one beat".to_owned()),
        NoWords::Between(_) | NoWords::NoFigure => no_words(),
    })
}

/// The count as the figure's own length has it. A count said aloud goes on in
/// silence to its bar line, which a length in beats cuts off.
fn within_length(said: String, figure: &Figure) -> Result<(String, Count), Refusal> {
    let length = figure.length.as_deref();
    let read = |said: &str| Count::read(said, &figure.meter, length);
    if let Ok(count) = read(&said) {
        return Ok((said, count));
    }
    let sounds = said.rfind(" (").filter(|_| said.ends_with(')'));
    let short = sounds.map(|end| said[..end].trim_end_matches([' ', '|']).to_owned());
    short
        .and_then(|short| Some((short.clone(), read(&short).ok()?)))
        .ok_or_else(|| {
            Refusal("the figure's length leaves no room for this: change it in the text".to_owned())
        })
}

fn no_words() -> Refusal {
    Refusal("this has no words in the count: change it in the text".to_owned())
}

/// A note that goes elsewhere on its scale.
pub(super) fn shift(
    document: &Document<'_>,
    index: usize,
    note: usize,
    rungs: i32,
    octaves: i32,
) -> Result<String, Refusal> {
    let mut figure = Figure::read(document, index).ok_or_else(unclear)?;
    let ladder = figure.ladder()?.clone();
    let note = note.checked_sub(1).ok_or_else(nothing_there)?;
    figure.line.shift(note, rungs, octaves, &ladder)?;
    let silent: Vec<bool> = figure.count.slots.iter().map(|slot| slot.silent).collect();
    let mut text = Writing::new(document.text, index);
    text.says(figure.key, figure.line.over(&silent))?;
    Ok(text.text)
}

/// A text that takes one change after another.
struct Writing {
    text: String,
    figure: usize,
}

impl Writing {
    fn new(text: &str, figure: usize) -> Writing {
        Writing {
            text: text.to_owned(),
            figure,
        }
    }

    fn at(&self, key: &str) -> Vec<Step> {
        let mut at = way(self.figure).to_vec();
        at.push(Step::from(key));
        at
    }

    fn says(&mut self, key: &str, value: String) -> Result<(), Refusal> {
        let document = Document::read(&self.text);
        self.text = set::set(&document, &self.at(key), &Value::Text(value))?;
        Ok(())
    }

    /// The marks go with their notes.
    fn renumbered(&mut self, changed: NoteChange) -> Result<(), Refusal> {
        for key in known_table::FIGURE
            .keys
            .iter()
            .filter(|key| super::marks::numbers_notes(key))
        {
            let document = Document::read(&self.text);
            let Some((table, _)) = document.table(&way(self.figure)) else {
                continue;
            };
            let Some(Value::Text(said)) = document
                .entry(table, key)
                .map(|entry| Value::of(&entry.node.value))
            else {
                continue;
            };
            let new = renumbered(&said, changed);
            self.text = if new.is_empty() {
                set::unset(&document, &self.at(key))?
            } else if new == said {
                continue;
            } else {
                set::set(&document, &self.at(key), &Value::Text(new))?
            };
        }
        Ok(())
    }
}
