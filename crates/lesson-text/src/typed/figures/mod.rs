//! A figure as it is said: its moves, its count, its marks.

pub(crate) mod agree;
pub(crate) mod figure;
pub(crate) mod figure_marks;
pub(crate) mod literal;
pub(crate) mod mismatch;
pub(crate) mod moves;
pub(crate) mod no_move;
pub(crate) mod note_words;
pub(crate) mod wording;
