//! From a lesson to its sheets: the figure's forms, the line they make, its
//! place on a horn, its spelling, and its notation.
//!
//! The walk inside, a folder each: `compose` what an exercise plays and when,
//! `place` it on a horn, or choose a line `over` changes there, `spell` it,
//! `notate` it in measures, `report` what became of it. `composer` holds what a
//! lesson's sheets share, `on_sheet` an exercise on one of them, `above` what
//! stands above it, `draft` a sheet while they are put on it, `sheet` the whole.
//! It knows no TOML, no XML and no files.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod above;
mod composer;
mod draft;
mod on_sheet;
mod plan;
mod room;
mod sheet;

mod compose;
mod notate;
mod over;
mod place;
mod report;
mod spell;

mod bars;
mod buffers;
mod heights;
mod print;
mod remark;
mod ticks;

#[cfg(test)]
mod sample;

pub use buffers::SheetBuffers;
pub use composer::Composer;
pub use over::{Connection, PhrasePart};
pub use plan::SheetPlan;
pub use remark::{PrintGap, Remark, Shortfall, UnmetWish};
pub use report::gathering::{ExerciseReport, Join, LeftOut, Report, Sheet, Statement};
pub use report::over_sheets::{RemarkOnSheets, remarks_on};
pub use report::survey::{Outcome, Surprise, Surprising, hardest, surprises};
pub use report::tally::CountedRemark;
pub use room::{NoRooms, Room, RoomPitch, rooms};
