//! What stands in rows over and under a staff, clear of all ink: bar number,
//! chord symbols, headings; labels.

use theory::ChordSymbol;

use crate::fonts::Style;
use crate::heading::Heading;
use crate::mark::{Frame, Mark, Role, Tag};
use crate::place::{Ink, Sp, reach};
use crate::text::{Anchor, Line, width, wrap};

/// Sizes, in thousandths of a staff space.
const CHORD: Sp = 2400;
const LABEL: Sp = 1880;
const HEADING: Sp = 2000;
const NUMBER: Sp = 1440;
const CUE: Sp = 1700;
/// Between ink and what is set over or under it.
const CLEAR: Sp = 640;
/// From the staff to the nearest chord symbol's baseline, and to the nearest
/// label's top.
const OVER: Sp = 1800;
const UNDER: Sp = 1200;
/// The least between two chord symbols, and two labels.
pub(crate) const CHORD_GAP: Sp = 900;
pub(crate) const LABEL_GAP: Sp = 600;

/// How wide a chord symbol is.
pub(crate) fn chord_width(symbol: &ChordSymbol) -> Sp {
    width(&symbol.signs(), Style::Bold, CHORD)
}

fn chord_line(symbol: &ChordSymbol) -> Line {
    Line::new().bold(&symbol.signs()).size(CHORD)
}

/// How wide a label is.
pub(crate) fn label_width(label: &str) -> Sp {
    width(label, Style::Roman, LABEL)
}

/// A chord symbol and where it begins.
#[derive(Debug)]
pub(crate) struct PlacedChord<'a> {
    pub(crate) left: Sp,
    pub(crate) symbol: &'a ChordSymbol,
}

/// A label, its row, the middle of the note it stands under, and that note.
#[derive(Debug)]
pub(crate) struct PlacedLabel<'a> {
    pub(crate) row: usize,
    pub(crate) middle: Sp,
    pub(crate) text: &'a str,
    pub(crate) note: usize,
}

/// Over the clef.
pub(crate) fn number(number: &str, inks: &mut Vec<Ink>) -> Mark {
    let line = Line::new().italic(number).size(NUMBER);
    let over = reach(inks, 0, line.width()).map_or(0, |(top, _)| top.min(0));
    let mark = Mark::text(Role::Number, line.at(0, over - 320));
    inks.push(mark.ink());
    mark
}

/// In one row.
pub(crate) fn chords(chords: &[PlacedChord<'_>], width: Sp, inks: &mut Vec<Ink>) -> Vec<Mark> {
    let lines: Vec<(Line, Sp)> = chords
        .iter()
        .map(|chord| {
            let line = chord_line(chord.symbol);
            let left = chord.left.min(width - line.width()).max(0);
            (line, left)
        })
        .collect();
    let tops = lines.iter().filter_map(|(line, left)| {
        let reached = reach(inks, left - CLEAR / 2, left + line.width() + CLEAR / 2);
        reached.map(|(top, _)| top)
    });
    let over = tops.min().unwrap_or(0);
    // Brackets and slashes reach a quarter of the size under the baseline.
    let baseline = (over - CLEAR - CHORD / 4).min(-OVER);
    let marks: Vec<Mark> = lines
        .into_iter()
        .map(|(line, left)| Mark::text(Role::Chord, line.at(left, baseline)))
        .collect();
    inks.extend(marks.iter().map(Mark::ink));
    marks
}

/// In rows under everything else, each under its note.
pub(crate) fn labels(labels: &[PlacedLabel<'_>], inks: &mut Vec<Ink>) -> Vec<Mark> {
    let lines: Vec<(Line, &PlacedLabel<'_>)> = labels
        .iter()
        .map(|label| (Line::new().roman(label.text).size(LABEL), label))
        .collect();
    let bottoms = lines.iter().filter_map(|(line, label)| {
        let half = line.width() / 2 + CLEAR / 2;
        let reached = reach(inks, label.middle - half, label.middle + half);
        reached.map(|(_, bottom)| bottom)
    });
    let under = bottoms.max().unwrap_or(0);
    let top = (under + CLEAR).max(4000 + UNDER);
    let mut rows: Vec<usize> = labels.iter().map(|label| label.row).collect();
    rows.sort_unstable();
    rows.dedup();
    let mut marks = Vec::with_capacity(labels.len());
    for (line, label) in lines {
        let place = rows.iter().position(|row| *row == label.row).unwrap_or(0) as Sp;
        // Capitals and figures rise less than brackets do.
        let baseline = top + LABEL * 68 / 100 + place * LABEL * 118 / 100;
        let line = line.at(label.middle, baseline).anchor(Anchor::Middle);
        marks.push(Mark::text(Role::Label, line).of(label.note));
    }
    inks.extend(marks.iter().map(Mark::ink));
    marks
}

/// Words over a place, each over all that stands there.
pub(crate) fn cues(cues: &[(Sp, &str)], width: Sp, inks: &mut Vec<Ink>) -> Vec<Mark> {
    let mut marks = Vec::with_capacity(cues.len());
    for (left, words) in cues {
        let mut lines = wrap(words, Style::Italic, CUE, width.max(CUE));
        lines.reverse();
        for line in lines {
            let line = Line::new().italic(&line).size(CUE);
            let left = (*left).min(width - line.width()).max(0);
            let over = reach(inks, left - CLEAR / 2, left + line.width() + CLEAR / 2);
            let over = over.map_or(0, |(top, _)| top.min(0));
            let mark = Mark::text(Role::Text, line.at(left, over - CLEAR / 2 - CUE / 4));
            inks.push(mark.ink());
            marks.push(mark);
        }
    }
    marks
}

/// Over everything else that stands there; a frame of its own for its words,
/// and one for its tempo and feel.
pub(crate) fn heading(heading: &Heading, left: Sp, right: Sp, inks: &mut Vec<Ink>) -> Vec<Frame> {
    let lines = heading.lines(left, right, HEADING);
    let Some(far) = lines.iter().map(|line| line.right).max() else {
        return Vec::new();
    };
    let over = reach(inks, left, far).map_or(0, |(top, _)| top.min(0));
    let step = HEADING * 135 / 100;
    let mut baseline = over - CLEAR - HEADING * 32 / 100;
    let tag = heading.opens.clone().map_or(Tag::Paragraph, Tag::Heading);
    let mut words = Frame::new(tag);
    let mut pace = Frame::new(Tag::Paragraph);
    for line in lines.iter().rev() {
        let (said, paced) = line.marks(baseline, HEADING);
        words.marks.splice(0..0, said);
        pace.marks.splice(0..0, paced);
        inks.push(Ink::new(
            left,
            baseline - HEADING * 95 / 100,
            line.right,
            baseline + HEADING * 30 / 100,
        ));
        baseline -= step;
    }
    [words, pace]
        .into_iter()
        .filter(|frame| !frame.marks.is_empty())
        .collect()
}
