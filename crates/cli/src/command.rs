//! One module to each command.

pub mod check;
pub mod desk;
mod explanation;
pub mod lift;
pub mod list;
pub mod spell;
pub mod start;
pub mod write;
