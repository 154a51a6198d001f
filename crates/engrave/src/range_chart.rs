//! A picture of how far a horn reaches at a level, and how far a lesson goes.

use std::fmt::{self, Write};

use theory::{Clef, ClefSign, Level, Pitch, Range};

use crate::escape::escape;
use crate::glyph::Glyph;
use crate::{Anchor, Hundredths, Line, Style};

/// What the picture shows, all in written pitch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RangeChart {
    /// The clef it is read in.
    pub clef: Clef,
    /// The player's level.
    pub level: Level,
    /// The horn's range at that level.
    pub range: Range,
    /// The lowest and the highest note of the lesson; none where no note is
    /// written out.
    pub lesson: Option<Range>,
}

impl RangeChart {
    /// Draws it with its left top corner at a point, so wide; gives its height.
    pub fn svg(
        &self,
        x: Hundredths,
        y: Hundredths,
        width: Hundredths,
        svg: &mut String,
    ) -> Hundredths {
        let marks = self.marks(x, width);
        let places = marks.iter().map(|mark| self.place(mark.pitch));
        let highest = places.clone().max().unwrap_or(0).max(TOP_OF_CLEF);
        let lowest = places.min().unwrap_or(0).min(FOOT_OF_CLEF);
        let staff = Staff {
            x,
            // A flat reaches not quite two spaces over its note.
            bottom: y + (highest + 4) * SPACE / 2,
            width,
        };
        let names = staff.height(lowest - 2) + NAME;
        let _ = self.write(svg, &staff, &marks, names);
        names + 2 * NAME - y
    }

    fn write(
        &self,
        svg: &mut String,
        staff: &Staff,
        marks: &[Mark],
        names: Hundredths,
    ) -> fmt::Result {
        let spoken = escape(&self.spoken());
        writeln!(svg, "<g role=\"img\" aria-label=\"{spoken}\">")?;
        staff.write(svg)?;
        let (sign, line) = clef(self.clef);
        let clef_at = staff.x + SPACE / 2;
        draw(svg, sign, clef_at, staff.height(2 * line))?;
        for pair in marks.windows(2) {
            if let [from, to] = pair {
                self.write_way(svg, staff, from, to)?;
            }
        }
        for mark in marks {
            self.write_mark(svg, staff, mark)?;
            Line::new()
                .text(mark.style(), &name(mark.pitch))
                .size(NAME)
                .at(mark.x, names)
                .anchor(Anchor::Middle)
                .svg(svg);
        }
        self.write_legend(svg, staff, names + 3 * NAME / 2)?;
        svg.push_str("</g>\n");
        Ok(())
    }

    /// The line from one note towards the next, thick where the lesson goes.
    fn write_way(&self, svg: &mut String, staff: &Staff, from: &Mark, to: &Mark) -> fmt::Result {
        let [(x1, y1), (x2, y2)] =
            [from, to].map(|mark| (mark.x, staff.height(self.place(mark.pitch))));
        let gap = HEAD / 2 + SPACE / 2;
        let signed = accidental(to.pitch).map_or(0, |_| SPACE * 6 / 5);
        let (begin, end) = (x1 + gap, x2 - gap - signed);
        if begin + SPACE >= end {
            return Ok(());
        }
        let at = |x: Hundredths| y1 + (y2 - y1) * (x - x1) / (x2 - x1);
        let in_lesson = |mark: &Mark| self.lesson.is_some_and(|lesson| lesson.holds(mark.pitch));
        let played = in_lesson(from) && in_lesson(to);
        let thickness = if played { SPACE / 4 } else { SPACE / 12 };
        writeln!(
            svg,
            "<path d=\"M{begin} {}L{end} {}\" stroke=\"#000\" stroke-width=\"{thickness}\" \
             stroke-linecap=\"round\"/>",
            at(begin),
            at(end),
        )
    }

    fn write_mark(&self, svg: &mut String, staff: &Staff, mark: &Mark) -> fmt::Result {
        let place = self.place(mark.pitch);
        let left = mark.x - HEAD / 2;
        for line in ledger_lines(place) {
            let y = staff.height(line);
            let (begin, end) = (left - SPACE * 2 / 5, left + HEAD + SPACE * 2 / 5);
            rule(svg, begin, end, y)?;
        }
        let y = staff.height(place);
        if let Some((sign, width)) = accidental(mark.pitch) {
            draw(svg, sign, left - width - SPACE / 4, y)?;
        }
        draw(svg, mark.head(), left, y)
    }

    fn write_legend(&self, svg: &mut String, staff: &Staff, y: Hundredths) -> fmt::Result {
        let range = format!("range, {}", self.level.word());
        let entries = [(OPEN, range.as_str()), (FILLED, "this lesson")];
        let shown = if self.lesson.is_some() { 2 } else { 1 };
        let mut x = staff.x;
        for (head, text) in &entries[..shown] {
            draw(svg, *head, x, y - NAME / 4)?;
            let line = Line::new().italic(text).size(NAME);
            x += HEAD + SPACE / 2;
            let after = line.width() + 2 * SPACE;
            line.at(x, y).svg(svg);
            x += after;
        }
        Ok(())
    }

    fn spoken(&self) -> String {
        let span = |range: Range| format!("{} to {}", name(range.low), name(range.high));
        let lesson = self.lesson.map_or_else(String::new, |lesson| {
            format!("; this lesson, {}", span(lesson))
        });
        let level = self.level.word();
        format!("Written range, {level}: {}{lesson}", span(self.range))
    }

    /// Steps above the bottom line.
    fn place(&self, pitch: Pitch) -> i32 {
        i32::from(pitch.steps()) - bottom_line(self.clef)
    }

    /// The notes to draw, from the left, each by its own pitch, no two nearer
    /// than their names allow.
    fn marks(&self, x: Hundredths, width: Hundredths) -> Vec<Mark> {
        let lesson = self.lesson.map(|lesson| [lesson.low, lesson.high]);
        let mut marks: Vec<Mark> = lesson
            .into_iter()
            .flatten()
            .map(|pitch| (pitch, true))
            .chain([self.range.low, self.range.high].map(|pitch| (pitch, false)))
            .map(|(pitch, of_lesson)| Mark {
                pitch,
                of_lesson,
                x: 0,
            })
            .collect();
        // Stable, so that of two that sound alike the lesson's is kept.
        marks.sort_by_key(|mark| mark.pitch.midi());
        marks.dedup_by_key(|mark| mark.pitch.midi());
        let (Some(first), Some(last)) = (marks.first(), marks.last()) else {
            return marks;
        };
        let low = i32::from(first.pitch.midi());
        let span = (i32::from(last.pitch.midi()) - low).max(1);
        let (left, right) = (x + 6 * SPACE, x + width - 3 * SPACE);
        for mark in &mut marks {
            mark.x = left + (i32::from(mark.pitch.midi()) - low) * (right - left) / span;
        }
        part(&mut marks, right);
        marks
    }
}

/// Moves notes apart that would stand in each other's way: to the right, and
/// back from the edge.
fn part(marks: &mut [Mark], right: Hundredths) {
    for place in 1..marks.len() {
        let least = marks[place - 1].x + ROOM;
        marks[place].x = marks[place].x.max(least);
    }
    let mut edge = right;
    for mark in marks.iter_mut().rev() {
        mark.x = mark.x.min(edge);
        edge = mark.x - ROOM;
    }
}

/// One note of the picture.
#[derive(Debug, Clone, Copy)]
struct Mark {
    pitch: Pitch,
    of_lesson: bool,
    /// The middle of its head.
    x: Hundredths,
}

impl Mark {
    fn head(&self) -> char {
        if self.of_lesson { FILLED } else { OPEN }
    }

    fn style(&self) -> Style {
        if self.of_lesson {
            Style::Bold
        } else {
            Style::Roman
        }
    }
}

/// Five lines.
struct Staff {
    x: Hundredths,
    bottom: Hundredths,
    width: Hundredths,
}

impl Staff {
    /// Where a place of so many steps over the bottom line is on the page.
    fn height(&self, place: i32) -> Hundredths {
        self.bottom - place * SPACE / 2
    }

    fn write(&self, svg: &mut String) -> fmt::Result {
        for line in 0..5 {
            rule(svg, self.x, self.x + self.width, self.height(2 * line))?;
        }
        Ok(())
    }
}

/// Between two lines of the staff.
const SPACE: Hundredths = 190;
/// Size of the notes' names.
const NAME: Hundredths = 330;
/// Between the middles of two notes beside each other.
const ROOM: Hundredths = 900;
/// Width of a head: 314 units of the music font's 250 to a space.
const HEAD: Hundredths = SPACE * 314 / 250;
/// The treble clef's reach, in steps over the bottom line.
const TOP_OF_CLEF: i32 = 11;
const FOOT_OF_CLEF: i32 = -4;
const FILLED: char = '\u{E0A4}';
const OPEN: char = '\u{E0A3}';

fn draw(svg: &mut String, place: char, x: Hundredths, y: Hundredths) -> fmt::Result {
    let em = 4 * i64::from(SPACE) * 100;
    match Glyph::at(place) {
        Some(glyph) => glyph.write(svg, i64::from(x), i64::from(y), em),
        None => Ok(()),
    }
}

fn rule(svg: &mut String, begin: Hundredths, end: Hundredths, y: Hundredths) -> fmt::Result {
    let thickness = SPACE / 9;
    writeln!(
        svg,
        "<path d=\"M{begin} {y}H{end}\" stroke=\"#000\" stroke-width=\"{thickness}\"/>",
    )
}

/// `B♭3`, in scientific octaves.
fn name(pitch: Pitch) -> String {
    format!("{}{}", pitch.name().signs(), pitch.octave())
}

/// The bottom line's steps above C0.
fn bottom_line(clef: Clef) -> i32 {
    let on_its_line = match clef.sign {
        ClefSign::G => 4 * 7 + 4,
        ClefSign::F => 3 * 7 + 3,
        ClefSign::C => 4 * 7,
    };
    on_its_line - 2 * (i32::from(clef.line) - 1) + 7 * i32::from(clef.octave_change)
}

/// A clef's sign, and its line counted from 0.
fn clef(clef: Clef) -> (char, i32) {
    let sign = match (clef.sign, clef.octave_change) {
        (ClefSign::G, ..=-2) => '\u{E051}',
        (ClefSign::G, -1) => '\u{E052}',
        (ClefSign::G, 0) => '\u{E050}',
        (ClefSign::G, 1) => '\u{E053}',
        (ClefSign::G, 2..) => '\u{E054}',
        (ClefSign::F, ..=-2) => '\u{E063}',
        (ClefSign::F, -1) => '\u{E064}',
        (ClefSign::F, 0) => '\u{E062}',
        (ClefSign::F, 1) => '\u{E065}',
        (ClefSign::F, 2..) => '\u{E066}',
        (ClefSign::C, ..=-1) => '\u{E05D}',
        (ClefSign::C, 0..) => '\u{E05C}',
    };
    (sign, i32::from(clef.line) - 1)
}

/// The sign before a note, and how wide it is.
fn accidental(pitch: Pitch) -> Option<(char, Hundredths)> {
    let sign = match pitch.alteration() {
        ..=-2 => '\u{E264}',
        -1 => '\u{E260}',
        0 => return None,
        1 => '\u{E262}',
        2.. => '\u{E263}',
    };
    let units = Glyph::at(sign)?.advance;
    Some((sign, SPACE * units / 250))
}

/// The lines outside of the staff that a note at a place needs.
fn ledger_lines(place: i32) -> impl Iterator<Item = i32> {
    let below = (place..=-2).filter(|line| line % 2 == 0);
    let above = (10..=place).filter(|line| line % 2 == 0);
    below.chain(above)
}

#[cfg(test)]
#[allow(clippy::float_arithmetic)]
mod tests {
    use resvg::usvg::Node;
    use theory::Instrument;

    use super::*;
    use crate::{Page, Paper, drawing};

    fn range(low: &str, high: &str) -> Range {
        Range {
            low: low.parse().unwrap(),
            high: high.parse().unwrap(),
        }
    }

    fn chart(instrument: &str, level: Level, lesson: Option<Range>) -> RangeChart {
        let instrument = Instrument::named(instrument).unwrap();
        RangeChart {
            clef: instrument.clef,
            level,
            range: instrument.range(level),
            lesson,
        }
    }

    /// The clefs' bottom lines (common practice).
    #[test]
    fn bottom_lines() {
        let check = |instrument: &str, bottom: &str| {
            let clef = Instrument::named(instrument).unwrap().clef;
            let bottom: Pitch = bottom.parse().unwrap();
            assert_eq!(bottom_line(clef), i32::from(bottom.steps()), "{instrument}");
        };
        check("oboe", "E4");
        check("bassoon", "G2");
        check("viola", "F3");
        check("tenor", "E3");
    }

    #[test]
    fn ledger_lines_of_places() {
        let check = |place: i32, expected: &[i32]| {
            assert_eq!(ledger_lines(place).collect::<Vec<_>>(), expected, "{place}");
        };
        check(-1, &[]);
        check(-2, &[-2]);
        check(-5, &[-4, -2]);
        check(0, &[]);
        check(9, &[]);
        check(10, &[10]);
        check(13, &[10, 12]);
    }

    #[test]
    fn what_is_marked() {
        let check = |lesson: Option<Range>, expected: &str| {
            let marks = chart("alto saxophone", Level::Intermediate, lesson).marks(0, 10_000);
            let said: Vec<String> = marks
                .iter()
                .map(|mark| {
                    format!(
                        "{}{}",
                        name(mark.pitch),
                        if mark.of_lesson { "*" } else { "" }
                    )
                })
                .collect();
            assert_eq!(said.join(" "), expected);
            assert!(marks.windows(2).all(|pair| pair[1].x - pair[0].x >= ROOM));
        };
        check(None, "B♭3 F6");
        check(Some(range("C4", "D6")), "B♭3 C4* D6* F6");
        check(Some(range("A#3", "F6")), "A♯3* F6*");
        check(Some(range("G4", "G4")), "B♭3 G4* F6");
        check(Some(range("A3", "F#6")), "A3* B♭3 F6 F♯6*");
    }

    /// B♭3 to F6 is 31 half steps, and B4 the 13th of them; a millimetre each.
    #[test]
    fn notes_stand_where_they_sound() {
        let chart = chart(
            "alto saxophone",
            Level::Intermediate,
            Some(range("B4", "F6")),
        );
        let marks = chart.marks(0, 31 * 100 + 9 * SPACE);
        let found: Vec<i32> = marks.iter().map(|mark| mark.x - 6 * SPACE).collect();
        assert_eq!(found, [0, 13 * 100, 31 * 100]);
    }

    #[test]
    fn what_a_screen_reader_says() {
        let check = |lesson: Option<Range>, expected: &str| {
            let mut svg = String::new();
            chart("trombone", Level::Beginner, lesson).svg(0, 0, 9_000, &mut svg);
            let start = format!("<g role=\"img\" aria-label=\"{expected}\">");
            assert!(svg.starts_with(&start), "{svg}");
        };
        check(None, "Written range, beginner: A2 to C4");
        check(
            Some(range("Bb2", "B3")),
            "Written range, beginner: A2 to C4; this lesson, B♭2 to B3",
        );
    }

    #[test]
    fn every_horns_picture_keeps_to_its_place() {
        let [x, y, width] = [3_000, 4_000, 9_000];
        for instrument in Instrument::catalogue() {
            for level in Level::ALL {
                let wide = Range {
                    low: instrument.extreme.low,
                    high: instrument.extreme.high,
                };
                for lesson in [None, Some(instrument.range(level)), Some(wide)] {
                    let chart = chart(&instrument.id, level, lesson);
                    let mut page = Page {
                        paper: Paper::A4,
                        title: String::new(),
                        body: String::new(),
                    };
                    let height = chart.svg(x, y, width, &mut page.body);
                    let tree = drawing::tree(&page).unwrap();
                    let mut edges = [f32::MAX, f32::MAX, f32::MIN, f32::MIN];
                    gather(tree.root().children(), &mut edges);
                    let [left, top, right, bottom] =
                        edges.map(|edge| (edge * 2_540.0 / 96.0).round() as i32);
                    let told = [x, y, x + width, y + height];
                    assert!(
                        left >= x && top >= y && right <= x + width && bottom <= y + height,
                        "{} {level:?} {lesson:?}: {left} {top} {right} {bottom} in {told:?}",
                        instrument.id
                    );
                }
            }
        }
    }

    /// The page's own white ground left out.
    fn gather(nodes: &[Node], edges: &mut [f32; 4]) {
        for node in nodes {
            if let Node::Group(group) = node {
                gather(group.children(), edges);
                continue;
            }
            let area = node.abs_stroke_bounding_box();
            if area.left() > 0.0 {
                *edges = [
                    edges[0].min(area.left()),
                    edges[1].min(area.top()),
                    edges[2].max(area.right()),
                    edges[3].max(area.bottom()),
                ];
            }
        }
    }
}
