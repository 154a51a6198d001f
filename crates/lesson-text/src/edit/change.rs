//! One change of a text.

use super::document::Document;
use super::grid::{Division, State};
use super::refusal::{Refusal, by_hand};
use super::step::Step;
use super::value::Value;
use super::{block, figure_change, set};

/// One change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Edit {
    /// A key says this value, whether or not it was said before. A heading
    /// that it needs is written too.
    Set {
        /// Where: tables, numbers in lists, and the key itself.
        at: Vec<Step>,
        /// What it says.
        value: Value,
    },
    /// A key is said no more.
    Unset {
        /// Where.
        at: Vec<Step>,
    },
    /// Another table of a kind that there may be several of, as `[[exercise]]`.
    Add {
        /// Its kind.
        table: String,
        /// How many stand before it.
        index: usize,
        /// What it says.
        says: Vec<(String, Value)>,
    },
    /// One of several tables is taken out.
    Remove {
        /// Its kind.
        table: String,
        /// Which, from 0.
        index: usize,
    },
    /// One of several tables goes elsewhere among them.
    Move {
        /// Its kind.
        table: String,
        /// Which, from 0.
        from: usize,
        /// Which it is afterwards, from 0.
        to: usize,
    },
    /// A count of a figure becomes a note, a silence, or holds what came
    /// before.
    Count {
        /// Which figure, from 0.
        figure: usize,
        /// Quarters from the figure's first bar line.
        at: rhythm::Fraction,
        /// What it becomes; unsaid, what a click makes of it.
        state: Option<State>,
        /// How finely the row is counted.
        division: Division,
    },
    /// A note of a figure moves along its scale, and no other does.
    Shift {
        /// Which figure, from 0.
        figure: usize,
        /// Which note, the first that sounds being 1.
        note: usize,
        /// Rungs up, or down where negative.
        rungs: i32,
        /// Octaves up or down.
        octaves: i32,
    },
}

/// The text with one thing changed.
///
/// # Errors
/// Where there is nothing of that kind, or it is written in a way that only a
/// person should touch. The text is then as good as before.
pub fn edit(text: &str, edit: &Edit) -> Result<String, Refusal> {
    if text.len() > crate::limit::LESSON_BYTES {
        return Err(Refusal("the text is too long for a lesson".to_owned()));
    }
    let document = Document::read(text);
    let edited = match edit {
        Edit::Set { at, value } => set::set(&document, at, value),
        Edit::Unset { at } => set::unset(&document, at),
        Edit::Add { table, index, says } => block::add(&document, table, *index, says),
        Edit::Remove { table, index } => block::remove(&document, table, *index),
        Edit::Move { table, from, to } => block::move_to(&document, table, *from, *to),
        Edit::Count {
            figure,
            at,
            state,
            division,
        } => figure_change::count(&document, *figure, *at, *state, *division),
        Edit::Shift {
            figure,
            note,
            rungs,
            octaves,
        } => figure_change::shift(&document, *figure, *note, *rungs, *octaves),
    }?;
    if Document::read(&edited).faults() > document.faults() {
        return Err(by_hand());
    }
    Ok(edited)
}
