//! Draws scores as pages for the music stand, and pages as SVG, PDF and PNG.
//!
//! Only with the feature `sheets`, since the engraving library is C++ and takes
//! long to compile; without it this crate is empty.
#![deny(missing_docs)]
#![cfg(feature = "sheets")]

mod copy;
mod engraver;
mod error;
mod page;

pub use engraver::Engravers;
pub use error::EngraveError;
pub use page::{Hundredths, Page, Paper};
