//! A program that draws nothing.

use std::collections::BTreeSet;

use etude::{Composer, SheetPlan};
use score::Score;

use crate::args::WriteArgs;
use crate::bound::Bound;
use crate::choice::Refusal;

/// Nothing to draw.
#[derive(Debug)]
pub struct Pictures;

impl Pictures {
    /// Refused where pictures are asked for.
    pub fn asked(args: &WriteArgs) -> Result<Pictures, Refusal> {
        match args.formats.iter().find(|format| format.is_picture()) {
            None => Ok(Pictures),
            Some(format) => Err((
                format!(
                    "{} can't be written: this program was built without the part that draws sheets",
                    format.ending()
                ),
                "build it with that part: cargo build --release --features sheets (needs a C++ \
                 compiler and, once, about ten minutes)"
                    .to_owned(),
            )),
        }
    }

    /// No page.
    pub fn sheet(&self, _: &Score) -> anyhow::Result<Vec<(String, Vec<u8>)>> {
        Ok(Vec::new())
    }

    /// No book.
    pub fn books(
        &self,
        _: &Composer<'_>,
        _: &[SheetPlan],
        _: &[String],
        _: bool,
    ) -> anyhow::Result<Vec<Bound>> {
        Ok(Vec::new())
    }

    /// Nothing is missing.
    pub fn missing(&self) -> BTreeSet<char> {
        BTreeSet::new()
    }
}
