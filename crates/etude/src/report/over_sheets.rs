//! What is remarked on several sheets at once.

use crate::plan::SheetPlan;
use crate::report::gathering::Report;
use crate::report::tally::CountedRemark;

/// A remark on an exercise, and the sheets it holds for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RemarkOnSheets<'a> {
    /// The exercise's heading.
    pub heading: &'a str,
    /// The remark.
    pub remark: &'a CountedRemark,
    /// Which sheets, in order; never none.
    pub sheets: Vec<&'a SheetPlan>,
}

/// What is remarked on sheets, each thing once, in the order in which it first
/// comes.
pub fn remarks_on<'a>(
    sheets: impl Iterator<Item = (&'a SheetPlan, &'a Report)>,
) -> Vec<RemarkOnSheets<'a>> {
    let mut found: Vec<RemarkOnSheets> = Vec::new();
    for (plan, report) in sheets {
        for exercise in &report.exercises {
            for remark in &exercise.remarks {
                let heading = exercise.heading.as_str();
                let known = found
                    .iter_mut()
                    .find(|known| known.heading == heading && known.remark == remark);
                match known {
                    Some(known) => known.sheets.push(plan),
                    None => found.push(RemarkOnSheets {
                        heading,
                        remark,
                        sheets: vec![plan],
                    }),
                }
            }
        }
    }
    found
}
