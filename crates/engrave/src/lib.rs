//! Draws scores as pages for the music stand, and pages as SVG, PDF and PNG.
//!
//! Only with the feature `sheets`, since the engraving library is C++ and takes
//! long to compile; without it this crate is empty.
#![deny(missing_docs)]
#![cfg(feature = "sheets")]

mod book;
mod contents;
mod copy;
mod cover;
mod decimal;
mod drawing;
mod drawn;
mod engraver;
mod error;
mod escape;
mod fonts;
mod foot;
mod glyph;
mod head;
mod heading;
mod ink;
mod page;
mod pdf;
mod png;
mod range_chart;
mod set;
mod sheet;
mod sign;
mod stack;
mod text;

pub use book::{Book, Bound, Chapter, Section};
pub use cover::Cover;
use decimal::decimal;
pub use engraver::Engravers;
pub use error::EngraveError;
pub use escape::escape;
pub use fonts::{Style, database};
pub use foot::{FOOT, Foot};
pub use page::{Hundredths, Page, Paper};
pub use pdf::{About, Bookmark, Link, PdfError, pdf};
pub use png::{PngError, RESOLUTIONS, png};
pub use range_chart::RangeChart;
/// What reads a page back, for whoever measures or compares what is on it.
pub use resvg;
pub use sheet::DrawnSheet;
pub use text::{Anchor, Line, missing, shorten, width, wrap};
