//! One module to each command.

pub mod check;
mod check_course;
mod check_json;
mod check_player;
pub mod desk;
mod explanation;
pub mod lift;
pub mod list;
pub mod man;
pub mod schema;
pub mod spell;
pub mod start;
pub mod write;
