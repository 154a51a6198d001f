//! A line over changes: what may be played in each chord's time, and the
//! cheapest line through it all.
//!
//! `slot` lays the chords out in time, `choice` lists and weighs what a horn
//! can play in each of them, `search` finds the line, `realize` puts it into
//! passages.

mod choice;
mod realize;
mod search;
mod slot;

pub(crate) use realize::{Hall, Realized, realize};
pub(crate) use slot::{OverLine, times};
