//! Edits of a lesson's text: what a control changes is written where a
//! teacher would write it, and everything else stays as it was typed —
//! comments, order, layout, even mistakes elsewhere.
//!
//! [`values`] gives what a text says as plain values, [`grid`] a figure's
//! counts one by one, [`edit`] the text with one thing changed. Spans are
//! the parser's own; nothing is formatted anew.

mod block;
mod change;
mod document;
mod figure;
mod figure_change;
mod figure_words;
mod grid;
mod line;
mod list;
mod marks;
mod refusal;
mod set;
mod step;
mod value;
mod word;

#[cfg(test)]
mod tests;

pub use change::{Edit, edit};
pub use document::values;
pub use grid::{Cell, Division, Grid, State, grid};
pub use refusal::Refusal;
pub use step::Step;
pub use value::Value;
pub use word::{Takes, Word, kinds, words_of};
