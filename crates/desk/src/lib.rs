//! The desk: a page in the browser over a folder of lessons.
//!
//! A lesson's text is the one truth. What is clicked becomes an edit of the
//! text, what is typed shows in what can be clicked, and both give a new
//! sheet; see `look`. The page itself (`page/`) is plain HTML, CSS and
//! modules, inside the binary.
//!
//! It knows no music theory: what scales, instruments and kinds there are it
//! asks of those who know, and passes their words on. It listens on this
//! machine only; who may ask is decided in one place, `guard`, before anything
//! else is looked at.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod called;
mod error;
mod serve;

mod guard;
mod token;

mod answer;
mod api;
mod assets;
mod turns;

mod folder;
mod hold;
mod lessons;
mod version;

mod choices;
mod figure_staff;
mod json;
mod look;
mod sheet;

mod play;
mod writing;

mod browser;

pub use error::DeskError;
pub use serve::{Desk, run};
