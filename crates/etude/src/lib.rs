//! From a lesson to its sheets: the figure's forms, the line they make, its
//! place on a horn, its spelling, and its notation.
//!
//! The walk inside: [`figure`] cells → [`compose`]d line → [`place`]d line →
//! [`spell`]ed line → [`notate`]d score. It knows no TOML, no XML and no files.
#![deny(missing_docs)]

mod composer;
mod report;

pub use composer::{Composer, SheetPlan};
pub use report::{ExerciseReport, LeftOut, Report, Sheet};
