//! Lines of text, measured and broken, in the carried fonts.

use crate::fonts::{CarriedFont, Style};
use crate::piece::{Piece, pieces, plain_width, width_of};
use crate::place::Ink;
use crate::sign::Sign;

/// Which of its points a line is placed by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs)]
pub enum Anchor {
    #[default]
    Start,
    Middle,
    End,
}

/// A line of text: stretches in a style each, one size, a place, all in the
/// unit of the frame it stands in.
///
/// What no font has but the music font, the double accidentals and the notes
/// of tempo marks (SMuFL U+ECA0 to U+ECB1, its dot U+ECB7), is drawn.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Line {
    stretches: Vec<(Style, String)>,
    size: i32,
    x: i32,
    y: i32,
    anchor: Anchor,
}

impl Line {
    /// An empty line of 4 mm at the page's corner.
    pub fn new() -> Line {
        Line {
            size: 4_000,
            ..Line::default()
        }
    }

    /// Goes on in a style.
    pub fn text(mut self, style: Style, text: &str) -> Line {
        self.stretches.push((style, text.to_owned()));
        self
    }

    /// Goes on upright.
    pub fn roman(self, text: &str) -> Line {
        self.text(Style::Roman, text)
    }

    /// Goes on slanted.
    pub fn italic(self, text: &str) -> Line {
        self.text(Style::Italic, text)
    }

    /// Goes on in bold.
    pub fn bold(self, text: &str) -> Line {
        self.text(Style::Bold, text)
    }

    /// The em, from the top of the tallest to the bottom of the deepest.
    pub fn size(mut self, size: i32) -> Line {
        self.size = size;
        self
    }

    /// Where the anchor stands on the baseline.
    pub fn at(mut self, x: i32, y: i32) -> Line {
        (self.x, self.y) = (x, y);
        self
    }

    /// Which point stands there; the start if not said.
    pub fn anchor(mut self, anchor: Anchor) -> Line {
        self.anchor = anchor;
        self
    }

    pub(crate) fn shift(&mut self, x: i32, y: i32) {
        self.x += x;
        self.y += y;
    }

    /// How wide it is.
    pub fn width(&self) -> i32 {
        if let [(style, text)] = &self.stretches[..] {
            return width(text, *style, self.size);
        }
        width_of(&self.pieces(), self.size)
    }

    /// The room from its tallest to its deepest letters: brackets are the
    /// tallest.
    pub fn ink(&self) -> Ink {
        let width = self.width();
        let left = self.left(width);
        Ink {
            left,
            top: self.y - self.size * 3 / 4,
            right: left.saturating_add(width),
            bottom: self.y + self.size / 4,
        }
    }

    /// What it says.
    pub fn said(&self) -> String {
        self.stretches
            .iter()
            .map(|(_, text)| text.as_str())
            .collect()
    }

    /// Its left edge, if it is so wide.
    pub(crate) fn left(&self, width: i32) -> i32 {
        match self.anchor {
            Anchor::Start => self.x,
            Anchor::Middle => self.x.saturating_sub(width / 2),
            Anchor::End => self.x.saturating_sub(width),
        }
    }

    pub(crate) fn baseline(&self) -> i32 {
        self.y
    }

    pub(crate) fn em(&self) -> i32 {
        self.size
    }

    pub(crate) fn pieces(&self) -> Vec<Piece<'_>> {
        pieces(&self.stretches, self.size)
    }
}

/// How wide a text is.
pub fn width(text: &str, style: Style, size: i32) -> i32 {
    plain_width(style, text, size)
        .unwrap_or_else(|| width_of(&pieces(&[(style, text)], size), size))
}

/// The text in lines no wider than `width`, broken at spaces, and inside of
/// what has none that would serve. Nothing for a text of nothing but spaces.
pub fn wrap(text: &str, style: Style, size: i32, width: i32) -> Vec<String> {
    let fits = |text: &str| self::width(text, style, size) <= width;
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if fits(&longer) {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        if fits(word) {
            word.clone_into(&mut line);
            continue;
        }
        let mut parts = parts(word, style, size, width);
        line = parts.pop().unwrap_or_default();
        lines.append(&mut parts);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// The same in as many lines, each as wide as it need be: so that none ends in
/// a word by itself.
pub(crate) fn wrap_evenly(text: &str, style: Style, size: i32, width: i32) -> Vec<String> {
    let lines = wrap(text, style, size, width);
    if lines.len() < 2 {
        return lines;
    }
    // The narrowest that takes no more lines.
    let (mut least, mut enough) = (0, width);
    while least + 1 < enough {
        let middle = least + (enough - least) / 2;
        if wrap(text, style, size, middle).len() > lines.len() {
            least = middle;
        } else {
            enough = middle;
        }
    }
    wrap(text, style, size, enough)
}

/// The text, or as much of its beginning as goes into `width` with `…` after
/// it.
pub fn shorten(text: &str, style: Style, size: i32, width: i32) -> String {
    if self::width(text, style, size) <= width {
        return text.to_owned();
    }
    let more = self::width("…", style, size);
    let parts = parts(text, style, size, width.saturating_sub(more));
    let first = parts.first().map_or("", String::as_str);
    // After a word, if that doesn't cost too much.
    let whole = first.rfind(' ').filter(|&at| 2 * at > first.len());
    format!("{}…", first[..whole.unwrap_or(first.len())].trim_end())
}

/// The text in `most` lines at the most, as [`wrap`] breaks it; what is left
/// over is told by `…`.
pub(crate) fn wrap_short(
    text: &str,
    style: Style,
    size: i32,
    width: i32,
    most: usize,
) -> Vec<String> {
    let mut lines = wrap(text, style, size, width);
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            *last = shorten(&format!("{last} …"), style, size, width);
        }
    }
    lines
}

/// The characters that can't be drawn, each once, in order.
pub fn missing(text: &str) -> Vec<char> {
    let mut missing: Vec<char> = text
        .chars()
        .filter(|&char| {
            !char.is_whitespace()
                && !char.is_control()
                && CarriedFont::with(char, Style::Roman).is_none()
                && Sign::of(char).is_none()
        })
        .collect();
    missing.sort_unstable();
    missing.dedup();
    missing
}

/// A word cut into what fits, a character at least and so many at most as no
/// line holds that is to be read.
fn parts(word: &str, style: Style, size: i32, width: i32) -> Vec<String> {
    let measured = |text: &str| self::width(text, style, size);
    let mut parts = Vec::new();
    let mut part = String::new();
    let (mut count, mut reach) = (0, 0);
    for char in word.chars() {
        let advance = measured(char.encode_utf8(&mut [0; 4]));
        part.push(char);
        count += 1;
        reach += advance;
        // Beside others a character may be wider or narrower than alone.
        let full = reach > width / 2 && measured(&part) > width;
        if (full && count > 1) || count > LONGEST {
            part.pop();
            parts.push(std::mem::replace(&mut part, char.to_string()));
            (count, reach) = (1, advance);
        }
    }
    parts.push(part);
    parts
}

const LONGEST: usize = 300;

#[cfg(test)]
mod tests {
    use super::*;

    const SIZE: i32 = 1_000;

    #[test]
    fn where_it_stands() {
        let line = |anchor: Anchor| {
            let line = Line::new().bold("E♭ ").roman("F𝄪 dorian").size(SIZE);
            line.at(10_000, 2_000).anchor(anchor).ink()
        };
        let width = line(Anchor::Start).right - 10_000;
        let edges = |anchor: Anchor| (line(anchor).left, line(anchor).right);
        assert_eq!(edges(Anchor::Start), (10_000, 10_000 + width));
        assert_eq!(edges(Anchor::End), (10_000 - width, 10_000));
        let (left, right) = edges(Anchor::Middle);
        assert_eq!((left, right - left), (10_000 - width / 2, width));
    }

    #[test]
    fn broken_into_lines() {
        let check = |text: &str, width: i32, expected: &[&str]| {
            assert_eq!(wrap(text, Style::Roman, SIZE, width), expected, "{text}");
        };
        check("", 5_000, &[]);
        check("  \n ", 5_000, &[]);
        check("Lantern Stairs", 20_000, &["Lantern Stairs"]);
        check(
            "Lantern  Stairs\nby night",
            5_000,
            &["Lantern", "Stairs by", "night"],
        );
        check("mmmmmmmm", 2_500, &["mmm", "mmm", "mm"]);
        check("a mmmm b", 2_500, &["a", "mmm", "m b"]);
        check("ab", 0, &["a", "b"]);
    }

    #[test]
    fn no_line_is_too_wide() {
        let long = "Of the seventeen steps down to the ferry B♭ F♯ 𝄪 中文中文中文中文 ".repeat(8);
        for style in [Style::Roman, Style::Bold] {
            let lines = wrap(&long, style, 350, 6_000);
            assert!(lines.iter().all(|line| width(line, style, 350) <= 6_000));
            let words = |text: &str| text.split_whitespace().collect::<String>();
            assert_eq!(words(&lines.concat()), words(&long));
        }
    }

    proptest::proptest! {
        #[test]
        fn any_text_can_be_set(texts in proptest::collection::vec((0..4_usize, ".{0,12}|[ -~♭♯ØfiTé\u{301}𝄪△ςжאבلاسع中☐🎷]{0,12}"), 0..5)) {
            const STYLES: [Style; 4] = [Style::Roman, Style::Italic, Style::Bold, Style::BoldItalic];
            let line = texts.iter().fold(Line::new().size(SIZE), |line, (style, text)| {
                line.text(STYLES[*style], text)
            });
            proptest::prop_assert!(line.width() >= 0);
            for (_, text) in &texts {
                let lines = wrap(text, Style::Bold, SIZE, 3_000);
                assert!(lines.iter().all(|line| line.chars().count() == 1 || width(line, Style::Bold, SIZE) <= 3_000));
            }
        }
    }

    #[test]
    fn lines_are_even() {
        let check = |text: &str, expected: &[&str]| {
            let lines = wrap_evenly(text, Style::Roman, SIZE, 9_000);
            assert_eq!(lines, expected);
        };
        check("", &[]);
        check("Lantern Stairs", &["Lantern Stairs"]);
        check(
            "Seventeen lantern stairs in",
            &["Seventeen", "lantern stairs in"],
        );
    }

    #[test]
    fn cut_short() {
        let check = |text: &str, width: i32, expected: &str| {
            assert_eq!(shorten(text, Style::Roman, SIZE, width), expected);
        };
        check("Lantern Stairs", 20_000, "Lantern Stairs");
        check("Lantern Stairs", 4_500, "Lantern…");
        check("mmmmmmmm", 3_600, "mmm…");
        check("Seventeen Lantern Stairs", 8_000, "Seventeen…");
        check("of Seventeen", 4_500, "of Seven…");
        let lines = wrap_short("one two three four", Style::Roman, SIZE, 3_500, 2);
        assert_eq!(lines, ["one two", "three …"]);
        let lines = wrap_short("one two", Style::Roman, SIZE, 3_500, 2);
        assert_eq!(lines, ["one two"]);
    }

    #[test]
    fn what_no_font_has() {
        let check = |text: &str, expected: &str| {
            assert_eq!(missing(text).into_iter().collect::<String>(), expected);
        };
        check("B♭7♯9 △ ø ° 𝄪 𝄫 \u{ECA5}\n", "");
        check("Žluťoučký ŁÓDŹ Ελλάδα Привет שלום", "");
        check("歌と歌\u{10FFFF}", "と歌\u{10FFFF}");
    }
}
