//! What became of sheets: of each one (`gathering`), and of many (`survey`).

pub(crate) mod gathering;
pub(crate) mod survey;
