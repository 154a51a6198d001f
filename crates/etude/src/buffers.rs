//! What is left of sheets that are done with: a sheet's bars are many small
//! lists, and the next sheet has about as many.

use score::{Element, Measure, Score};

/// Lists to be filled again, all empty.
#[derive(Debug, Default)]
pub struct SheetBuffers {
    measures: Vec<Measure>,
    elements: Vec<Vec<Element>>,
}

impl SheetBuffers {
    /// None yet.
    pub const fn new() -> SheetBuffers {
        SheetBuffers {
            measures: Vec::new(),
            elements: Vec::new(),
        }
    }

    /// Takes apart a score that is done with.
    pub fn keep(&mut self, score: Score) {
        let mut measures = score.part.measures;
        let lists = measures.drain(..).map(|measure| measure.elements);
        self.elements.extend(lists.map(|mut list| {
            list.clear();
            list
        }));
        self.measures = measures;
    }

    /// For a sheet's measures.
    pub(crate) fn measures(&mut self) -> Vec<Measure> {
        std::mem::take(&mut self.measures)
    }

    /// For a bar's notes and rests.
    pub(crate) fn elements(&mut self) -> Vec<Element> {
        self.elements.pop().unwrap_or_default()
    }
}
