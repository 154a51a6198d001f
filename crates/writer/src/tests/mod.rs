//! The crate's tests: sheets built by hand, read back by a plain XML reader
//! that knows nothing of how they were written.

mod building;
mod documents;
mod measures;
mod own_words;
mod round_trip;
pub(crate) mod sheets;
pub(crate) mod tree;
