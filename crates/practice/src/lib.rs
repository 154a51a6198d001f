//! Sheets to practise with: what a sheet sounds like as events for a small
//! player of our own ([`events`]), and a page of its own for a player with all
//! sheets in it ([`page`]): one HTML file, without a request to any network.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod events;
mod page;

pub use events::events;
pub use page::{PracticePage, PracticeSheet, PracticeWeek, page};

/// The player, a module of plain JavaScript: `strike`, `Clock`, `Player`.
pub const PLAYER: &str = include_str!("../page/sound.js");
