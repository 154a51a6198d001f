//! From a lesson to its sheets: the figure's forms, the line they make, its
//! place on a horn, its spelling, and its notation.
//!
//! The walk inside: `figure` cells → `compose`d line (its statements a
//! `course`, its time a `timing`) → `place`d line (`turn`, `jump`,
//! `scale_run`, `through` the keys) → `spell`ed line → `notate`d measures. It knows no TOML, no
//! XML and no files.
#![deny(missing_docs)]

mod composer;
mod plan;
mod report;

mod figure;
mod heights;

mod breath;
mod compose;
mod course;
mod timing;

mod jump;
mod place;
mod scale_run;
mod through;
mod turn;

mod spell;

mod accidental;
mod blank;
mod breaks;
mod heading;
mod label;
mod marks;
mod notate;
mod note_name;

#[cfg(test)]
mod sample;

pub use composer::Composer;
pub use plan::SheetPlan;
pub use report::{ExerciseReport, LeftOut, Report, Sheet};
