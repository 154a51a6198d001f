//! From what was typed to what it means.

pub(crate) mod assignment;
pub(crate) mod exercise_maker;
pub(crate) mod exercise_numbers;
pub(crate) mod material;
pub(crate) mod named;
pub(crate) mod over;
pub(crate) mod phrase;
pub(crate) mod players;
pub(crate) mod progression;
pub(crate) mod resolve;
pub(crate) mod setting;
pub(crate) mod student;
pub(crate) mod whole;
