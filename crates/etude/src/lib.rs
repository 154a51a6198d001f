//! From a lesson to its sheets: the figure's forms, the line they make, its
//! place on a horn, its spelling, and its notation.
//!
//! The walk inside: `figure` cells → `compose`d line (its statements a
//! `course`, its time a `timing`) → `place`d line (`turn`, `jump`,
//! `scale_run`, `through` the keys) → `spell`ed line → `notate`d measures. It knows no TOML, no
//! XML and no files.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod composer;
mod plan;
mod remark;
mod report;
mod room;
mod spare;
mod survey;

mod figure;
mod heights;
mod horn;
mod line;
mod literal;
mod placed;
mod print;
mod ticks;

mod breath;
mod compose;
mod course;
mod timing;

mod jump;
mod place;
mod scale_run;
mod through;
mod turn;

mod over;

mod spell;

mod accidental;
mod blank;
mod breaks;
mod clash;
mod cue;
mod heading;
mod label;
mod marks;
mod notate;
mod note_name;
mod sentence;

#[cfg(test)]
mod sample;

pub use composer::Composer;
pub use over::{Connection, PhrasePart};
pub use plan::SheetPlan;
pub use remark::Remark;
pub use report::{ExerciseReport, Join, LeftOut, Report, Sheet, Statement};
pub use room::{NoRooms, Room, RoomPitch, rooms};
pub use spare::Spare;
pub use survey::{Outcome, Surprise, Surprising, hardest, surprises};
