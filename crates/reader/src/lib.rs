//! From the bytes of a MusicXML file to plain [`lesson::Changes`] or a
//! [`lesson::Phrase`].
#![deny(missing_docs)]

mod asked;
mod place;
mod reading;

mod limit;
mod shown;
mod time;

mod archive;
mod element;
mod encoding;
mod walker;

mod chord_degree;
mod chord_kind;
mod chord_match;

pub use asked::{Asked, Bars, BarsParseError};
pub use place::Place;
pub use reading::{ReadError, Reading, Warning};
