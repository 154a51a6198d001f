//! A program that draws nothing.

use std::collections::BTreeSet;

use etude::{Composer, SheetPlan};
use score::Score;

use crate::compilation::Compilation;
use crate::error::CopyError;
use crate::options::Options;
use crate::refusal::Refusal;
use crate::stop::Stop;

/// Nothing to draw.
#[derive(Debug)]
pub struct Pictures;

impl Pictures {
    /// For options without pictures.
    ///
    /// # Errors
    /// That pictures are asked for.
    pub fn new(options: &Options) -> Result<Pictures, Refusal> {
        match options.formats.iter().find(|format| format.is_picture()) {
            None => Ok(Pictures),
            Some(format) => Err(Refusal::new(
                format!(
                    "{} can't be written: this program was built without the part that draws sheets",
                    format.ending()
                ),
                "build it with that part: cargo build --release --features sheets (needs a C++ \
                 compiler and, once, about ten minutes)",
            )),
        }
    }

    /// No page.
    ///
    /// # Errors
    /// None.
    pub fn sheet(&self, _: &Score) -> Result<Vec<(String, Vec<u8>)>, CopyError> {
        Ok(Vec::new())
    }

    /// No book.
    ///
    /// # Errors
    /// None.
    pub fn book(
        &self,
        _: &Composer<'_>,
        _: usize,
        _: &[SheetPlan],
        _: bool,
        _: &Stop,
    ) -> Result<Option<Vec<u8>>, CopyError> {
        Ok(None)
    }

    /// No books.
    pub(crate) fn books(
        &self,
        _: &Composer<'_>,
        _: &[SheetPlan],
        _: &[String],
        _: bool,
        _: &Stop,
    ) -> Result<Vec<Compilation>, CopyError> {
        Ok(Vec::new())
    }

    /// Nothing is missing.
    pub(crate) fn missing(&self) -> BTreeSet<char> {
        BTreeSet::new()
    }
}
