//! Broken lines: each is told in the teacher's words, then set aside, so that
//! the rest of the file can be read and nothing is said twice.
//!
//! A line set aside keeps its key with an empty value where the key can still
//! be read, so that it doesn't count as missing.

use std::ops::Range;

use toml::de::DeTable;

use crate::limit;
use crate::lines::broken_lines;
use crate::lines::fault::Fault;
use crate::mistakes::report::Report;
use crate::mistakes::within::on_characters;

/// A file whose broken lines are set aside.
#[derive(Debug)]
pub(crate) struct MendedText<'s> {
    source: &'s str,
    /// Text without broken syntax.
    pub text: String,
    lines: Vec<Line>,
}

/// One line of the file.
#[derive(Debug)]
struct Line {
    /// Bytes in the file, without the line's end.
    typed: Range<usize>,
    /// Where it begins in the mended text.
    mended_start: usize,
    /// What stands there instead, if it is set aside.
    aside: Option<String>,
}

impl<'s> MendedText<'s> {
    /// Sets aside what is broken, noting a mistake for each.
    pub(crate) fn new(source: &'s str, report: &mut Report<'_>) -> MendedText<'s> {
        let mut mended = MendedText {
            source,
            text: source.to_owned(),
            lines: lines(source),
        };
        for _ in 0..limit::BROKEN_LINES {
            let Some((fault, faults)) = first_fault(&mended.text) else {
                return mended;
            };
            let span = mended.in_file(&fault.span);
            let lines: Vec<_> = mended
                .lines
                .iter()
                .map(|line| (line.typed.clone(), line.aside.is_none()))
                .collect();
            let broken = broken_lines::broken_lines(
                source,
                &lines,
                &Fault {
                    span,
                    said: fault.said,
                },
            );
            report.note(broken.mistake);
            report.lost |= broken.lost;
            if faults > limit::FAULTS || !mended.set_aside(broken.aside) {
                break;
            }
        }
        if first_fault(&mended.text).is_some() {
            // Past mending: nothing can be concluded from the rest.
            report.lost = true;
            mended.text.clear();
        }
        mended
    }

    /// The span in the file of a span in the mended text.
    pub(crate) fn in_file(&self, mended: &Range<usize>) -> Range<usize> {
        on_characters(
            self.source,
            &(self.typed(mended.start)..self.typed(mended.end)),
        )
    }

    /// Whether a span of the file lies on a line set aside, or crosses one.
    pub(crate) fn touches_aside(&self, span: &Range<usize>) -> bool {
        let first = self
            .lines
            .partition_point(|line| line.typed.end < span.start);
        self.lines[first..]
            .iter()
            .take_while(|line| line.typed.start <= span.start || line.typed.start < span.end)
            .any(|line| line.aside.is_some())
    }

    fn typed(&self, mended: usize) -> usize {
        let after = self
            .lines
            .partition_point(|line| line.mended_start <= mended);
        match self.lines.get(after.saturating_sub(1)) {
            Some(line) => {
                let along = line.typed.start + mended.saturating_sub(line.mended_start);
                // What stands instead may be longer than what was typed.
                if line.aside.is_some() {
                    along.min(line.typed.end)
                } else {
                    along
                }
            }
            None => 0,
        }
    }

    /// Sets lines aside; false where they already stood so.
    fn set_aside(&mut self, aside: Vec<(usize, String)>) -> bool {
        let mut changed = false;
        for (number, instead) in aside {
            if let Some(line) = self.lines.get_mut(number) {
                changed |= line.aside.as_deref() != Some(&instead);
                line.aside = Some(instead);
            }
        }
        self.rebuild();
        changed
    }

    fn rebuild(&mut self) {
        let source = self.source;
        self.text.clear();
        let mut end = 0;
        for line in &mut self.lines {
            self.text.push_str(&source[end..line.typed.start]);
            line.mended_start = self.text.len();
            self.text
                .push_str(line.aside.as_deref().unwrap_or(&source[line.typed.clone()]));
            end = line.typed.end;
        }
        self.text.push_str(&source[end..]);
    }
}

/// The first fault that the parser finds, and how many there are.
fn first_fault(text: &str) -> Option<(Fault, usize)> {
    let (_, errors) = DeTable::parse_recoverable(text);
    let first = errors
        .iter()
        .min_by_key(|error| error.span().map_or(0, |span| span.start))?;
    let fault = Fault {
        span: first.span().unwrap_or(0..0),
        said: first.message().to_owned(),
    };
    Some((fault, errors.len()))
}

/// The lines of a file, ends left out. A byte order mark is no part of the
/// first.
fn lines(source: &str) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut start = if source.starts_with('\u{feff}') { 3 } else { 0 };
    for end in source
        .match_indices('\n')
        .map(|(at, _)| at)
        .chain([source.len()])
    {
        let line = source.get(start..end).unwrap_or_default();
        let typed = start..start + line.strip_suffix('\r').unwrap_or(line).len();
        lines.push(Line {
            mended_start: typed.start,
            typed,
            aside: None,
        });
        start = end + 1;
    }
    lines
}
