//! From a score to the bytes of a MusicXML 4.0 file. It decides no notation:
//! what it writes is already in the score.
#![deny(missing_docs)]

mod musicxml;
mod mxl;

pub use musicxml::musicxml;
pub use mxl::mxl;
