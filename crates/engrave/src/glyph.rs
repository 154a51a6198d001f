//! Outlines of musical signs, out of Bravura, named by their place in SMuFL
//! 1.4. Everything is in thousandths of a staff space, y downwards, the origin
//! on the baseline: for heads and signs on a staff the middle of their line or
//! space.

use crate::place::Ink;

/// A sign.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Glyph {
    /// Its place in SMuFL.
    pub(crate) code: u32,
    /// How far to go for what follows.
    pub(crate) advance: i32,
    pub(crate) left: i32,
    pub(crate) top: i32,
    pub(crate) right: i32,
    pub(crate) bottom: i32,
    /// Where a stem going up meets a head: its right edge.
    pub(crate) stem_up: Option<(i32, i32)>,
    /// Where a stem going down meets a head: its left edge.
    pub(crate) stem_down: Option<(i32, i32)>,
    /// The outline as SVG's path data.
    pub(crate) svg: &'static str,
    pub(crate) outline: &'static [Segment],
}

/// A part of an outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Segment {
    Move(i32, i32),
    Line(i32, i32),
    /// Two handles and the end.
    Curve(i32, i32, i32, i32, i32, i32),
    Close,
}

impl Glyph {
    /// Where its ink is when its origin is at a point.
    pub(crate) fn ink(&self, x: i32, y: i32) -> Ink {
        Ink {
            left: x + self.left,
            top: y + self.top,
            right: x + self.right,
            bottom: y + self.bottom,
        }
    }

    pub(crate) fn width(&self) -> i32 {
        self.right - self.left
    }
}

include!(concat!(env!("OUT_DIR"), "/glyph_table.rs"));

/// A number in the digits of meters.
pub(crate) fn meter_digits(number: u16) -> Vec<&'static Glyph> {
    const DIGITS: [&Glyph; 10] = [
        &METER_0, &METER_1, &METER_2, &METER_3, &METER_4, &METER_5, &METER_6, &METER_7, &METER_8,
        &METER_9,
    ];
    digits(number, DIGITS)
}

/// A number in the digits of tuplets.
pub(crate) fn tuplet_digits(number: u16) -> Vec<&'static Glyph> {
    const DIGITS: [&Glyph; 10] = [
        &TUPLET_0, &TUPLET_1, &TUPLET_2, &TUPLET_3, &TUPLET_4, &TUPLET_5, &TUPLET_6, &TUPLET_7,
        &TUPLET_8, &TUPLET_9,
    ];
    digits(number, DIGITS)
}

fn digits(number: u16, glyphs: [&'static Glyph; 10]) -> Vec<&'static Glyph> {
    let text = number.to_string();
    text.bytes()
        .filter_map(|digit| glyphs.get(usize::from(digit - b'0')).copied())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// From the font's table of boxes and anchors: 250 units to a staff space.
    #[test]
    fn boxes_and_anchors() {
        assert_eq!((HEAD_BLACK.advance, HEAD_BLACK.width()), (1180, 1180));
        assert_eq!((HEAD_BLACK.top, HEAD_BLACK.bottom), (-500, 500));
        assert_eq!(HEAD_BLACK.stem_up, Some((1180, -170)));
        assert_eq!(HEAD_BLACK.stem_down, Some((0, 170)));
        assert_eq!((G_CLEF.top, G_CLEF.bottom), (-4392, 2632));
        assert_eq!(FLAT.width(), 904);
    }

    /// Outlines lie inside of their boxes, but for a curve's handles.
    #[test]
    fn outlines_fill_their_boxes() {
        for glyph in ALL {
            let mut ink: Option<Ink> = None;
            for segment in glyph.outline {
                let (x, y) = match *segment {
                    Segment::Move(x, y) | Segment::Line(x, y) => (x, y),
                    Segment::Curve(.., x, y) => (x, y),
                    Segment::Close => continue,
                };
                let point = Ink::new(x, y, x, y);
                ink = Some(ink.map_or(point, |ink| ink.with(point)));
            }
            let ink = ink.unwrap();
            let around = glyph.ink(0, 0).grown(8);
            assert_eq!(ink.with(around), around, "{:04X}", glyph.code);
            assert!(glyph.svg.starts_with('M') && glyph.svg.ends_with('z'));
        }
    }
}
