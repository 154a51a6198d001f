//! A picture of how far a horn reaches at a level, and how far a lesson goes:
//! a frame whose unit is a thousandth of its own staff space.

use theory::{Clef, Level, Pitch, PitchName, Range};

use crate::fonts::Style;
use crate::glyph::{self, Glyph};
use crate::mark::{Frame, Mark, Role, Shape, Tag};
use crate::note::{accidental_glyph, ledger_lines};
use crate::page::Page;
use crate::place::{Micrometres, Point, Sp};
use crate::signature;
use crate::text::{Anchor, Line};

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
    /// Whether that is of several lessons.
    pub several: bool,
}

impl RangeChart {
    fn lessons(&self) -> &'static str {
        match self.several {
            true => "these lessons",
            false => "this lesson",
        }
    }

    /// Puts it on a page with its left top corner at a point, so wide; gives
    /// its height.
    pub fn put(
        &self,
        page: &mut Page,
        x: Micrometres,
        y: Micrometres,
        width: Micrometres,
    ) -> Micrometres {
        let width = (i64::from(width) * 1000 / i64::from(SPACE)) as Sp;
        let (frame, height) = self.frame(width);
        page.place(frame, x, y, SPACE);
        (i64::from(height) * i64::from(SPACE) / 1000) as Micrometres
    }

    fn frame(&self, width: Sp) -> (Frame, Sp) {
        let marks = self.marks(width);
        let places = marks.iter().map(|mark| self.place(mark.pitch));
        let highest = places.clone().max().unwrap_or(0).max(TOP_OF_CLEF);
        let lowest = places.min().unwrap_or(0).min(FOOT_OF_CLEF);
        // A flat reaches not quite two spaces over its note.
        let bottom = (highest + 4) * 500;
        let height = |place: i32| bottom - place * 500;
        let names = height(lowest - 2) + NAME;
        let mut frame = Frame::new(Tag::Figure(self.spoken()));
        for line in 0..5 {
            let y = height(2 * line);
            frame.marks.push(rule((0, y), width));
        }
        let sign = signature::clef_glyph(self.clef);
        let line = 2 * (i32::from(self.clef.line) - 1);
        let sign = Mark::glyph(Role::Clef, sign, 500, height(line));
        frame.marks.push(sign);
        for pair in marks.windows(2) {
            if let [from, to] = pair {
                let at = |mark: &RangeMark| (mark.x, height(self.place(mark.pitch)));
                frame.marks.extend(self.way(from, to, at(from), at(to)));
            }
        }
        for mark in &marks {
            let place = self.place(mark.pitch);
            let left = mark.x - HEAD / 2;
            for line in ledger_lines(place) {
                let y = height(line);
                frame.marks.push(rule((left - 400, y), left + HEAD + 400));
            }
            let y = height(place);
            if let Some(sign) = accidental(mark.pitch) {
                let x = left
                    - sign.right
                    - 250
                    - if ledger_lines(place).count() > 0 {
                        300
                    } else {
                        0
                    };
                frame.marks.push(Mark::glyph(Role::Accidental, sign, x, y));
            }
            frame
                .marks
                .push(Mark::glyph(Role::Notehead, mark.head(), left, y));
            let line = Line::new().text(mark.style(), &name(mark.pitch)).size(NAME);
            let line = line.at(mark.x, names).anchor(Anchor::Middle);
            frame.marks.push(Mark::text(Role::Label, line));
        }
        self.legend(names + 3 * NAME / 2, &mut frame);
        (frame, names + 2 * NAME)
    }

    /// The line from one note towards the next, thick where the lesson goes.
    fn way(&self, from: &RangeMark, to: &RangeMark, begin: Point, end: Point) -> Option<Mark> {
        let gap = HEAD / 2 + 500;
        let signed = accidental(to.pitch).map_or(0, |_| 1500);
        let (left, right) = (begin.0 + gap, end.0 - gap - signed);
        if left + 1000 >= right {
            return None;
        }
        let run = i64::from(end.0 - begin.0).max(1);
        let at =
            |x: Sp| begin.1 + (i64::from(end.1 - begin.1) * i64::from(x - begin.0) / run) as Sp;
        let in_lesson =
            |mark: &RangeMark| self.lesson.is_some_and(|lesson| lesson.holds(mark.pitch));
        let played = in_lesson(from) && in_lesson(to);
        let half = if played { 125 } else { 42 };
        let (y, z) = (at(left), at(right));
        let corners = [
            (left, y - half),
            (right, z - half),
            (right, z + half),
            (left, y + half),
        ];
        Some(Mark::new(Role::Text, Shape::Beam(corners)))
    }

    fn legend(&self, y: Sp, frame: &mut Frame) {
        let range = format!("range, {}", self.level.word());
        let entries = [
            (&glyph::HEAD_HALF, range.as_str()),
            (&glyph::HEAD_BLACK, self.lessons()),
        ];
        let shown = if self.lesson.is_some() { 2 } else { 1 };
        let mut x = 0;
        for (head, text) in entries.into_iter().take(shown) {
            frame
                .marks
                .push(Mark::glyph(Role::Notehead, head, x, y - NAME / 4));
            let line = Line::new().italic(text).size(NAME);
            x += HEAD + 500;
            let after = line.width() + 2000;
            frame.marks.push(Mark::text(Role::Text, line.at(x, y)));
            x += after;
        }
    }

    fn spoken(&self) -> String {
        let span = |range: Range| format!("{} to {}", name(range.low), name(range.high));
        let lesson = self.lesson.map_or_else(String::new, |lesson| {
            let lesson = Range {
                low: plainly(lesson.low),
                high: plainly(lesson.high),
            };
            format!("; {}, {}", self.lessons(), span(lesson))
        });
        let level = self.level.word();
        format!("Written range, {level}: {}{lesson}", span(self.range))
    }

    /// Steps above the bottom line.
    fn place(&self, pitch: Pitch) -> i32 {
        i32::from(pitch.steps() - self.clef.bottom_line())
    }

    /// The notes to draw, from the left, each by its own pitch, no two nearer
    /// than their names allow.
    fn marks(&self, width: Sp) -> Vec<RangeMark> {
        let lesson = self
            .lesson
            .map(|lesson| [lesson.low, lesson.high].map(plainly));
        let mut marks: Vec<RangeMark> = lesson
            .into_iter()
            .flatten()
            .map(|pitch| (pitch, true))
            .chain([self.range.low, self.range.high].map(|pitch| (pitch, false)))
            .map(|(pitch, of_lesson)| RangeMark {
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
        let (left, right) = (6000, width - 3000);
        for mark in &mut marks {
            mark.x = left + (i32::from(mark.pitch.midi()) - low) * (right - left) / span;
        }
        part(&mut marks, right);
        marks
    }
}

/// A note out of its key: by its natural name, where it has one.
fn plainly(pitch: Pitch) -> Pitch {
    let naturals = (-1..=5).map(|fifths| PitchName::from_fifths(fifths).letter());
    let octaves = pitch.octave() - 1..=pitch.octave() + 1;
    let mut pitches =
        naturals.flat_map(|letter| octaves.clone().map(move |at| Pitch::new(letter, 0, at)));
    let natural = pitches.find(|natural| natural.midi() == pitch.midi());
    natural.unwrap_or(pitch)
}

/// Moves notes apart that would stand in each other's way: to the right, and
/// back from the edge.
fn part(marks: &mut [RangeMark], right: Sp) {
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
struct RangeMark {
    pitch: Pitch,
    of_lesson: bool,
    /// The middle of its head.
    x: Sp,
}

impl RangeMark {
    fn head(&self) -> &'static Glyph {
        if self.of_lesson {
            &glyph::HEAD_BLACK
        } else {
            &glyph::HEAD_HALF
        }
    }

    fn style(&self) -> Style {
        if self.of_lesson {
            Style::Bold
        } else {
            Style::Roman
        }
    }
}

/// The chart's own staff space.
const SPACE: Micrometres = 1_900;
/// Size of the notes' names.
const NAME: Sp = 1737;
/// Between the middles of two notes beside each other.
const ROOM: Sp = 4737;
/// Width of a head.
const HEAD: Sp = 1180;
/// The treble clef's reach, in steps over the bottom line.
const TOP_OF_CLEF: i32 = 11;
const FOOT_OF_CLEF: i32 = -4;

fn rule((left, y): Point, right: Sp) -> Mark {
    Mark::line(Role::Staff, (left, y), (right, y), 111)
}

/// `B♭3`, in scientific octaves.
fn name(pitch: Pitch) -> String {
    format!("{}{}", pitch.name().signs(), pitch.octave())
}

/// The sign before a note.
fn accidental(pitch: Pitch) -> Option<&'static Glyph> {
    (pitch.alteration() != 0).then(|| accidental_glyph(pitch.alteration()))
}

#[cfg(test)]
mod tests {
    use theory::Instrument;

    use super::*;
    use crate::page::Paper;

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
            several: false,
        }
    }

    #[test]
    fn notes_have_their_natural_names() {
        for (typed, expected) in [
            ("Cb6", "B5"),
            ("B#3", "C4"),
            ("Fb4", "E4"),
            ("E#4", "F4"),
            ("F##4", "G4"),
            ("Bb2", "Bb2"),
            ("F#5", "F#5"),
        ] {
            let pitch: Pitch = typed.parse().unwrap();
            assert_eq!(plainly(pitch), expected.parse().unwrap(), "{typed}");
        }
    }

    #[test]
    fn what_is_marked() {
        let check = |lesson: Option<Range>, expected: &str| {
            let marks = chart("alto saxophone", Level::Intermediate, lesson).marks(52_000);
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

    /// B♭3 to F6 is 31 half steps, and B4 the 13th of them; a space each.
    #[test]
    fn notes_stand_where_they_sound() {
        let chart = chart(
            "alto saxophone",
            Level::Intermediate,
            Some(range("B4", "F6")),
        );
        let marks = chart.marks(31 * 1000 + 9000);
        let found: Vec<i32> = marks.iter().map(|mark| mark.x - 6000).collect();
        assert_eq!(found, [0, 13 * 1000, 31 * 1000]);
    }

    #[test]
    fn what_a_screen_reader_says() {
        let check = |lesson: Option<Range>, expected: &str| {
            let said = chart("trombone", Level::Beginner, lesson).spoken();
            assert_eq!(said, expected);
        };
        check(None, "Written range, beginner: A2 to C4");
        check(
            Some(range("Bb2", "B3")),
            "Written range, beginner: A2 to C4; this lesson, B♭2 to B3",
        );
    }

    #[test]
    fn every_horns_picture_keeps_to_its_place() {
        let [x, y, width] = [30_000, 40_000, 90_000];
        for instrument in Instrument::catalogue() {
            for level in Level::ALL {
                let wide = Range {
                    low: instrument.extreme.low,
                    high: instrument.extreme.high,
                };
                for lesson in [None, Some(instrument.range(level)), Some(wide)] {
                    let chart = chart(&instrument.id, level, lesson);
                    let mut page = Page::new(Paper::A4, "");
                    let height = chart.put(&mut page, x, y, width);
                    for seen in page.seen() {
                        let ink = seen.ink;
                        assert!(ink.left >= x && ink.right <= x + width, "{seen:?}");
                        assert!(ink.top >= y && ink.bottom <= y + height, "{seen:?}");
                    }
                }
            }
        }
    }
}
