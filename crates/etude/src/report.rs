//! What became of sheets: of each one (`gathering`), and of many (`survey`);
//! remarks are counted in `tally`, gathered over sheets in `over_sheets`, put in
//! words in `wording`.

pub(crate) mod gathering;
pub(crate) mod over_sheets;
pub(crate) mod survey;
pub(crate) mod tally;
mod wording;
