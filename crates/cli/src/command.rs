//! One module to each command.

pub mod check;
pub mod list;
pub mod spell;
pub mod start;
pub mod write;
