//! A line over changes: what may be played in each chord's time, and the
//! cheapest line through it all.
//!
//! `chord_span` is a chord's time; a `slot` that of a statement;
//! `layout` lays them out: `lay` parts the time, `cut` makes the figures
//! (`fitted_figure`) fit it in several `form`s with the `edges` they then have, `phrase`
//! says what each is in its phrase (its `role`), `way` how each slot can be played in any
//! key, `choice` lists and weighs what a horn can play there, `connect` weighs
//! how one leads to the next, `search` finds the line through a `graph` (with `lower_bound` telling it
//! what to leave out, and `peak` trying its high points), `line` asks it in the
//! order of the wishes, and `realize` puts what was found into passages.

mod choice;
mod chord_span;
mod connect;
mod cut;
mod edges;
mod fitted_figure;
mod form;
mod graph;
mod lay;
mod layout;
mod line;
mod lower_bound;
mod peak;
mod phrase;
mod realize;
mod role;
mod search;
mod slot;
mod state;
mod way;

pub use connect::Connection;
pub use role::PhrasePart;

pub(crate) use realize::{NoLine, OverContext, Realization, realize};
pub(crate) use slot::{OnChord, OverLine, times};
