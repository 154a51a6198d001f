//! Lifting: a notated phrase in the words of a lesson file.
//!
//! The walk inside: what speaks for a key (`evidence`) → the scales that fit
//! (`fit`, `borrowed`, `ornament`), best first → `moves` and `count` in the
//! lesson's words, or note for note (`literal`, `over`) → who plays (`horn`) → the text (`lesson_file`), which is
//! read and composed again before anyone gets it (`proof`). It knows no XML
//! and no files.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod lift;

mod evidence;
mod tonic;

mod borrowed;
mod fit;
mod ornament;
mod request;
mod usual;

mod count;
mod moves;

mod horn;
mod lesson_file;
mod literal;
mod over;
mod part_horn;
mod proof;

pub use lift::{LiftedLesson, lift};
pub use request::{Fit, LiftError, LiftScale};
