//! Outlines of single signs out of the engraver's own music font (Leipzig),
//! named by their place in SMuFL 1.4.

use std::collections::BTreeMap;
use std::fmt::{self, Write};
use std::sync::LazyLock;

use crate::decimal;

/// Units to the em, which is four staff spaces.
pub(crate) const EM: i32 = 1000;

/// An outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Glyph {
    /// SVG path data in units, y upwards, the origin on the baseline, which
    /// for notes and signs on a staff is the middle of its line or space.
    pub(crate) path: &'static str,
    /// How far to go for what follows, in units.
    pub(crate) advance: i32,
    /// Left, bottom, width and height of what is drawn, in units.
    pub(crate) bounds: [i32; 4],
}

impl Glyph {
    /// By its place; none if the font lacks it or draws nothing there.
    pub(crate) fn at(place: char) -> Option<Glyph> {
        let &(advance, bounds) = BOXES.get(&place)?;
        let file = format!("{FONT}/{:04X}.xml", u32::from(place));
        let text = verovio_data::DATA.get_file(file)?.contents_utf8()?;
        let path = between(text, " d=\"", "\"")?;
        Some(Glyph {
            path,
            advance,
            bounds,
        })
    }

    /// Draws it with its origin at a point, the em `size` hundredths of a
    /// hundredth of a millimetre.
    pub(crate) fn write(&self, svg: &mut String, x: i64, y: i64, size: i64) -> fmt::Result {
        let scale = decimal(size, i64::from(EM) * 100);
        let path = self.path;
        writeln!(
            svg,
            "<path transform=\"translate({x} {y}) scale({scale} -{scale})\" d=\"{path}\"/>",
        )
    }
}

const FONT: &str = "Leipzig";

type Box = (i32, [i32; 4]);

/// Advance and bounds of every glyph, from the font's table of boxes.
static BOXES: LazyLock<BTreeMap<char, Box>> = LazyLock::new(|| {
    let table = verovio_data::DATA
        .get_file("Leipzig.xml")
        .and_then(|file| file.contents_utf8())
        .unwrap_or_default();
    table.split("<g ").skip(1).filter_map(read_box).collect()
});

fn read_box(element: &str) -> Option<(char, Box)> {
    let value = |name: &str| between(element, name, "\"");
    let whole = |name: &str| value(name)?.split('.').next()?.parse::<i32>().ok();
    let code = u32::from_str_radix(value("c=\"")?, 16).ok()?;
    let bounds = [
        whole(" x=\"")?,
        whole(" y=\"")?,
        whole(" w=\"")?,
        whole(" h=\"")?,
    ];
    Some((char::from_u32(code)?, (whole(" h-a-x=\"")?, bounds)))
}

fn between<'a>(text: &'a str, before: &str, after: &str) -> Option<&'a str> {
    let (_, rest) = text.split_once(before)?;
    Some(rest.split_once(after)?.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// From the font's table of boxes.
    #[test]
    fn boxes_and_outlines() {
        let check = |place: char, advance: i32, bounds: [i32; 4], start: &str| {
            let glyph = Glyph::at(place).unwrap();
            assert_eq!(
                (glyph.advance, glyph.bounds),
                (advance, bounds),
                "{place:?}"
            );
            assert!(glyph.path.starts_with(start), "{}", glyph.path);
        };
        check('\u{E0A4}', 314, [0, -133, 314, 266], "M0 -39c0 68");
        check('\u{E264}', 388, [0, -175, 388, 644], "M280 106c");
        check('\u{E050}', 646, [-1, -655, 647, 1738], "M441 -245c");
    }

    #[test]
    fn what_the_font_lacks() {
        for place in ['A', '\u{E0A5}', '\u{F000}'] {
            assert_eq!(Glyph::at(place), None, "{place:?}");
        }
    }
}
