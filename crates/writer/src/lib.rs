//! From a score to the bytes of a MusicXML 4.0 file. It decides no notation:
//! what it writes is already in the score.
//!
//! This crate doesn't know how a score was composed, and opens no file. The
//! markup stands in the code as it stands in the file, whole lines with their
//! indentation, so that a note costs a few copies of fixed text and no
//! allocation; the order of elements is the schema's (`xs:sequence`).
#![deny(missing_docs)]

mod credit;
mod direction;
mod harmony;
mod head;
mod measure;
mod musicxml;
mod mxl;
mod note;
mod page;
mod part_list;
mod sink;
mod words;

#[cfg(test)]
mod tests;

pub use musicxml::{musicxml, musicxml_parts};
pub use mxl::mxl;
