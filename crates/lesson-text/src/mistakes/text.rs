//! Words in quotes, and where each part of them stands.

use std::ops::Range;

use crate::mistakes::report::Report;
use crate::mistakes::saying::Spanned;
use crate::mistakes::within;

/// Words in quotes: what they say, and the bytes of the file they stand at,
/// quotes included.
pub(crate) type Text = Spanned<String>;

impl Text {
    /// Where a part of the words stands in the file.
    pub(crate) fn part(&self, report: &Report<'_>, part: &Range<usize>) -> Range<usize> {
        within::within(report.source, &self.span, &self.value, part)
    }
}
