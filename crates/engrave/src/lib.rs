//! Draws scores as pages for the music stand, and pages as SVG, PDF and PNG.
//!
//! A score's parts become staves (columns of placed marks), staves a system,
//! systems pages; the three outputs draw the same marks and decide nothing.
//! Music is measured in thousandths of a staff space, pages in micrometres;
//! no floats decide a place. Rules without a source beside them are common
//! practice, from memory.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod escape;
mod event;
mod glyph;
mod mark;
mod place;
mod placed;

mod fonts;
mod piece;
mod sign;
mod text;

mod note;
mod rest;
mod signature;
mod slide;
mod stem;
mod voice;

mod line;
mod setting;
mod spacing;

mod articulation;
mod beam;
mod staff;
mod tie;
mod tuplet;

mod breaks;
mod heading;
mod rows;
mod system;

mod head;
mod page;
mod sheet;
mod stack;

mod pdf;
mod png;
mod svg;

mod binding;
mod book;
mod book_body;
mod bound_book;
mod contents;
mod cover;
mod flow;
mod foot;
mod foreword;
mod range_chart;

mod bound_packet;
mod packet;
mod packet_opening;

pub use book::{Book, Chapter, Key, KeyPlace, Section};
pub use bound_book::BoundBook;
pub use bound_packet::BoundPacket;
pub use cover::Cover;
pub use escape::escape;
pub use fonts::{FAMILY, FontFile, Style, font_files};
pub use foot::Foot;
pub use mark::{Frame, Mark, NotePlace, Role, Tag};
pub use packet::{Packet, Task, TaskKey};
pub use page::{MarkOnPage, Page, Paper, PlacedFrame};
pub use pdf::{Bookmark, Link, PdfError, PdfFile, PdfInfo, pdf};
pub use place::{Ink, Micrometres};
pub use png::{PngError, RESOLUTIONS, png};
pub use range_chart::RangeChart;
pub use sheet::{DrawnSheet, room, sheet};
pub use svg::{SETTING, outlines};
pub use text::{Anchor, Line, missing, shorten, width, wrap};
