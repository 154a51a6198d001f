//! A line over changes: what may be played in each chord's time, and the
//! cheapest line through it all.
//!
//! `bars` are its bars, `span` a chord's time; `slot` parts that into
//! statements, `fitted` cuts the figures to them, `way` says how each slot can
//! be played in any key, `choice` lists and weighs what a horn can play there, `search`
//! finds the line (with `ahead` telling it what to leave out), `realize` puts
//! it into passages.

mod ahead;
mod bars;
mod choice;
mod fitted;
mod realize;
mod search;
mod slot;
mod span;
mod way;

pub(crate) use bars::Bars;
pub(crate) use realize::{Hall, Realized, realize};
pub(crate) use slot::{OverLine, times};
