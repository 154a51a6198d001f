//! From the bytes of a MusicXML file to plain [`lesson::Changes`] or a
//! [`lesson::Phrase`], with a warning for each thing guessed or the one thing
//! that cannot be read.
//!
//! The walk inside: bytes → `file` (unpacked by `archive`, decoded by
//! `encoding`) → marks (`walker`, `element`) → `document` with its parts
//! (`part_reader`; notes, chords and bar lines at exact times) → the `grid` of
//! bars → chords at their places and `section`s, or a `line`. It opens nothing:
//! no file, no address, no entity.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod changes;
mod phrase;
mod place;
mod reading;
mod selection;

mod archive;
mod encoding;
mod file;

mod element;
mod walker;

mod choice;
mod document;
mod part;
mod part_reader;

mod bar_line;
mod direction;
mod duration;
mod key;
mod meter;
mod note;
mod pitch;

mod chord_degree;
mod chord_kind;
mod chord_match;
mod chord_text;
mod harmony;
mod symbol_kind;

mod around;
mod chord_place;
mod grid;
mod line;
mod route;
mod section;
mod sign;
mod voice;

mod limit;
mod shown;
mod time;
mod warnings;

pub use changes::changes;
pub use phrase::phrase;
pub use place::Place;
pub use reading::{ReadError, Reading, Warning};
pub use selection::{Bars, BarsParseError, Selection};
