//! What an exercise plays, before any horn or key is thought of.
//!
//! `figure` are cells of moves on their count, `literal` a phrase that moves
//! note for note; `course` says which statements are asked, `line` is what they
//! sound, and `exercise` composes it. `statements` is when each note sounds (a
//! `timed_line`, which lines over changes come to as well), `timing` that in bars
//! (by `writing`), with the player's `breath`; `breaks` where systems begin.

pub(crate) mod breaks;
pub(crate) mod breath;
pub(crate) mod course;
pub(crate) mod exercise;
pub(crate) mod figure;
pub(crate) mod line;
pub(crate) mod literal;
pub(crate) mod statements;
pub(crate) mod timed_line;
pub(crate) mod timing;
pub(crate) mod writing;
