//! A line of text as SVG, in the carried fonts.

use std::fmt::{self, Write};

use crate::Hundredths;
use crate::escape::escape;
use crate::fonts::{Carried, FAMILY, Style};
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

/// A line of text: stretches in a style each, one size, a place.
///
/// What no font has but the music font, the double accidentals and the notes
/// of tempo marks (SMuFL U+ECA0 to U+ECB1, its dot U+ECB7), is drawn.
#[derive(Debug, Clone, Default)]
pub struct Line {
    stretches: Vec<(Style, String)>,
    size: Hundredths,
    x: Hundredths,
    y: Hundredths,
    anchor: Anchor,
}

impl Line {
    /// An empty line of 4 mm at the page's corner.
    pub fn new() -> Line {
        Line {
            size: 400,
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
    pub fn size(mut self, size: Hundredths) -> Line {
        self.size = size;
        self
    }

    /// Where the anchor stands on the baseline.
    pub fn at(mut self, x: Hundredths, y: Hundredths) -> Line {
        (self.x, self.y) = (x, y);
        self
    }

    /// Which point stands there; the start if not said.
    pub fn anchor(mut self, anchor: Anchor) -> Line {
        self.anchor = anchor;
        self
    }

    /// How wide it is.
    pub fn width(&self) -> Hundredths {
        width_of(&self.pieces(), self.size)
    }

    /// Draws it.
    pub fn svg(&self, svg: &mut String) {
        // Writing to a string can't fail.
        let _ = self.write(svg);
    }

    fn write(&self, svg: &mut String) -> fmt::Result {
        let pieces = self.pieces();
        let drawn = pieces.iter().any(|piece| matches!(piece, Piece::Sign(_)));
        // Whoever sets the text shapes a line whole in each of its fonts and
        // puts the results together, which goes wrong where they don't agree
        // on what belongs together.
        let joining = pieces.len() > 1 && pieces.iter().any(Piece::joins);
        if !drawn && !joining {
            return self.write_text(svg, &pieces, self.x, self.anchor);
        }
        if drawn {
            let spoken: String = pieces.iter().map(Piece::spoken).collect();
            let spoken = escape(&spoken);
            write!(svg, "<g role=\"img\" aria-label=\"{spoken}\">")?;
        }
        let width = width_of(&pieces, self.size);
        let mut x = match self.anchor {
            Anchor::Start => self.x,
            Anchor::Middle => self.x.saturating_sub(width / 2),
            Anchor::End => self.x.saturating_sub(width),
        };
        let alike =
            |a: &Piece, b: &Piece| !joining && matches!((a, b), (Piece::Text(_), Piece::Text(_)));
        for together in pieces.chunk_by(alike) {
            match together {
                [Piece::Sign(sign)] => self.write_sign(svg, sign, x)?,
                texts => self.write_text(svg, texts, x, Anchor::Start)?,
            }
            x = x.saturating_add(width_of(together, self.size));
        }
        if drawn {
            svg.push_str("</g>\n");
        }
        Ok(())
    }

    fn write_text(
        &self,
        svg: &mut String,
        pieces: &[Piece],
        x: Hundredths,
        anchor: Anchor,
    ) -> fmt::Result {
        if pieces.is_empty() {
            return Ok(());
        }
        let anchor = match anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let (y, size) = (self.y, self.size);
        write!(
            svg,
            "<text x=\"{x}\" y=\"{y}\" font-family=\"'{FAMILY}', serif\" \
             font-size=\"{size}\"{anchor} xml:space=\"preserve\">",
        )?;
        let mut lifted = 0;
        for piece in pieces {
            lifted = piece.write(svg, size, lifted)?;
        }
        svg.push_str("</text>\n");
        Ok(())
    }

    fn write_sign(&self, svg: &mut String, sign: &Sign, x: Hundredths) -> fmt::Result {
        let em = i64::from(self.size);
        let x = i64::from(x) + em * i64::from(sign.room[0]) / 1000;
        let y = i64::from(self.y) - em * i64::from(sign.lift) / 1000;
        sign.glyph.write(svg, x, y, em * i64::from(sign.scale))
    }

    fn pieces(&self) -> Vec<Piece> {
        let mut pieces: Vec<Piece> = Vec::new();
        for (style, text) in &self.stretches {
            for char in text.chars() {
                if let Some(sign) = Sign::of(char) {
                    pieces.push(Piece::Sign(sign));
                    continue;
                }
                let Some(font) = font(char, *style, pieces.last()) else {
                    continue;
                };
                let lift = lift(char, font, self.size);
                match pieces.last_mut() {
                    Some(Piece::Text(last))
                        if std::ptr::eq(last.font, font) && last.lift == lift =>
                    {
                        last.text.push(char);
                    }
                    _ => pieces.push(Piece::Text(Stretch {
                        font,
                        text: char.to_string(),
                        lift,
                    })),
                }
            }
        }
        pieces
    }
}

/// How wide a text is.
pub fn width(text: &str, style: Style, size: Hundredths) -> Hundredths {
    Line::new().text(style, text).size(size).width()
}

/// The text in lines no wider than `width`, broken at spaces, and inside of
/// what has none that would serve. Nothing for a text of nothing but spaces.
pub fn wrap(text: &str, style: Style, size: Hundredths, width: Hundredths) -> Vec<String> {
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

/// The text, or as much of its beginning as goes into `width` with `…` after
/// it.
pub fn shorten(text: &str, style: Style, size: Hundredths, width: Hundredths) -> String {
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
    size: Hundredths,
    width: Hundredths,
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
                && Carried::with(char, Style::Roman).is_none()
                && Sign::of(char).is_none()
        })
        .collect();
    missing.sort_unstable();
    missing.dedup();
    missing
}

/// A word cut into what fits, a character at least and so many at most as no
/// line holds that is to be read.
fn parts(word: &str, style: Style, size: Hundredths, width: Hundredths) -> Vec<String> {
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

/// What a line is set from.
enum Piece {
    Text(Stretch),
    Sign(Sign),
}

/// Text in one font.
struct Stretch {
    font: &'static Carried,
    text: String,
    /// How far it is lifted off the baseline.
    lift: Hundredths,
}

impl Piece {
    fn width(&self, size: Hundredths) -> Hundredths {
        match self {
            Piece::Text(stretch) => stretch.font.width(&stretch.text, size),
            Piece::Sign(sign) => {
                let width = i64::from(sign.advance()) * i64::from(size) / 1000;
                i32::try_from(width).unwrap_or(i32::MAX)
            }
        }
    }

    /// Whether its characters may join others, or change their order.
    fn joins(&self) -> bool {
        match self {
            Piece::Text(stretch) => !stretch.text.chars().all(stands_alone),
            Piece::Sign(_) => false,
        }
    }

    fn spoken(&self) -> String {
        match self {
            Piece::Text(stretch) => stretch.text.clone(),
            Piece::Sign(sign) => format!(" {}", sign.name),
        }
    }

    /// `lifted` is how far the piece before it is; gives how far this one is.
    fn write(
        &self,
        svg: &mut String,
        size: Hundredths,
        lifted: Hundredths,
    ) -> Result<Hundredths, fmt::Error> {
        let Piece::Text(Stretch { font, text, lift }) = self else {
            return Ok(lifted);
        };
        let text = escape(text);
        let mut attributes = String::new();
        if *lift != lifted {
            write!(attributes, " dy=\"{}\"", lifted - lift)?;
        }
        if font.family != FAMILY {
            write!(attributes, " font-family=\"'{}'\"", font.family)?;
        }
        if font.weight != 400 {
            write!(attributes, " font-weight=\"{}\"", font.weight)?;
        }
        if font.italic {
            attributes.push_str(" font-style=\"italic\"");
        }
        if font.sized(size) != size {
            write!(attributes, " font-size=\"{}\"", font.sized(size))?;
        }
        if attributes.is_empty() {
            svg.push_str(&text);
        } else {
            write!(svg, "<tspan{attributes}>{text}</tspan>")?;
        }
        Ok(*lift)
    }
}

/// Sharps and naturals are cut to hang below the baseline; among text they
/// stand in the middle of the capitals.
fn lift(char: char, font: &Carried, size: Hundredths) -> Hundredths {
    match char {
        '♯' | '♮' if font.family != FAMILY => size / 11,
        _ => 0,
    }
}

fn width_of(pieces: &[Piece], size: Hundredths) -> Hundredths {
    pieces
        .iter()
        .map(|piece| piece.width(size))
        .fold(0, Hundredths::saturating_add)
}

/// The font for a character: what is put on top of another goes with it; what
/// no font has is left as the style's empty box.
fn font(char: char, style: Style, before: Option<&Piece>) -> Option<&'static Carried> {
    if let Some(Piece::Text(Stretch { font, .. })) = before
        && is_mark(char)
        && font.has(char)
    {
        return Some(font);
    }
    Carried::with(char, style).or_else(|| Carried::of(style))
}

/// Latin, Greek and Cyrillic letters, figures, punctuation and signs: every
/// font sets them one by one from left to right, but for a few ligatures.
fn stands_alone(char: char) -> bool {
    let control =
        matches!(char, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}');
    matches!(char, ' '..='\u{2ff}' | '\u{370}'..='\u{482}' | '\u{48a}'..='\u{58f}' | '\u{1e00}'..='\u{2bff}')
        && !control
        && !is_mark(char)
}

/// Combining marks (Unicode's blocks of them).
fn is_mark(char: char) -> bool {
    matches!(char, '\u{300}'..='\u{36f}' | '\u{1ab0}'..='\u{1aff}' | '\u{1dc0}'..='\u{1dff}' | '\u{20d0}'..='\u{20ff}' | '\u{fe20}'..='\u{fe2f}')
}

#[cfg(test)]
#[allow(clippy::float_arithmetic)]
mod tests {
    use resvg::usvg::Node;

    use super::*;
    use crate::{Page, Paper, drawing};

    const SIZE: Hundredths = 1_000;

    /// Left and right of all text on a page, as it is set.
    fn set(line: &Line) -> (i32, i32) {
        let mut page = Page {
            paper: Paper::A4,
            title: String::new(),
            body: String::new(),
        };
        line.svg(&mut page.body);
        let tree = drawing::tree(&page).unwrap();
        let mut edges = Vec::new();
        gather(tree.root().children(), &mut edges);
        // The tree counts in 96ths of an inch.
        let hundredths = |dots: f32| (dots * 2_540.0 / 96.0).round();
        let left = edges.iter().map(|edge| edge.0).fold(f32::MAX, f32::min);
        let right = edges.iter().map(|edge| edge.1).fold(f32::MIN, f32::max);
        (hundredths(left) as i32, hundredths(right) as i32)
    }

    fn gather(nodes: &[Node], edges: &mut Vec<(f32, f32)>) {
        for node in nodes {
            match node {
                Node::Group(group) => gather(group.children(), edges),
                Node::Text(text) => {
                    let area = text.abs_bounding_box();
                    edges.push((area.left(), area.right()));
                }
                _ => {}
            }
        }
    }

    #[test]
    fn a_line_is_as_wide_as_it_is_set() {
        let check = |line: Line| {
            let line = line.size(SIZE).at(1_000, 2_000);
            let (left, right) = set(&line);
            let width = right - left;
            assert!(
                (width - line.width()).abs() <= 4,
                "{line:?}: {width} set, {} told",
                line.width()
            );
        };
        check(Line::new().roman("Lantern Stairs"));
        check(Line::new().italic("AVAST Toffee fjord"));
        check(Line::new().bold("B♭ and F♯ major, 96 – 120"));
        check(
            Line::new()
                .roman("Written ")
                .bold("A♭")
                .roman(" · concert ")
                .italic("C♭, waltz"),
        );
        check(Line::new().roman("Ωμέγα Жук אבג"));
        check(Line::new().roman("e\u{301}tude"));
        check(Line::new().bold("☐ ع 中文"));
    }

    #[test]
    fn where_it_stands() {
        let check = |line: Line, anchor: Anchor, expected: (i32, i32)| {
            let line = line.size(SIZE).at(10_000, 2_000).anchor(anchor);
            let (left, right) = set(&line);
            let near = |a: i32, b: i32| (a - b).abs() <= 4;
            assert!(
                near(left, expected.0) && near(right, expected.1),
                "{left} {right} {expected:?}"
            );
        };
        let line = || Line::new().bold("E♭ ").roman("dorian");
        let width = line().size(SIZE).width();
        check(line(), Anchor::Start, (10_000, 10_000 + width));
        check(
            line(),
            Anchor::Middle,
            (10_000 - width / 2, 10_000 + width / 2),
        );
        check(line(), Anchor::End, (10_000 - width, 10_000));

        let drawn = || Line::new().roman("F𝄪 = G");
        let width = drawn().size(SIZE).width();
        check(drawn(), Anchor::Start, (10_000, 10_000 + width));
        check(
            drawn(),
            Anchor::Middle,
            (10_000 - width / 2, 10_000 + width / 2),
        );
        check(drawn(), Anchor::End, (10_000 - width, 10_000));
    }

    #[test]
    fn what_is_written() {
        let check = |line: Line, expected: &str| {
            let mut svg = String::new();
            line.at(10, 20).svg(&mut svg);
            assert_eq!(svg, expected);
        };
        const TEXT: &str = "font-family=\"'Libertinus Serif', serif\" font-size=\"400\"";
        check(Line::new(), "");
        check(Line::new().roman(""), "");
        check(
            Line::new().roman("Rise & fall "),
            &format!(
                "<text x=\"10\" y=\"20\" {TEXT} xml:space=\"preserve\">Rise &amp; fall </text>\n"
            ),
        );
        check(
            Line::new().roman("to ").bold("E").anchor(Anchor::End),
            &format!(
                "<text x=\"10\" y=\"20\" {TEXT} text-anchor=\"end\" xml:space=\"preserve\">\
                 to <tspan font-weight=\"700\">E</tspan></text>\n"
            ),
        );
        check(
            Line::new().italic("B♭"),
            &format!(
                "<text x=\"10\" y=\"20\" {TEXT} xml:space=\"preserve\">\
                 <tspan font-style=\"italic\">B</tspan>\
                 <tspan font-family=\"'NewComputerModern Math'\" font-size=\"352\">♭</tspan></text>\n"
            ),
        );
    }

    #[test]
    fn sharps_are_lifted() {
        let mut svg = String::new();
        Line::new().roman("F♯ B♭").size(1_100).svg(&mut svg);
        let (_, inside) = svg.split_once("\"preserve\">").unwrap();
        assert_eq!(
            inside,
            "F<tspan dy=\"-100\" font-family=\"'NewComputerModern Math'\" font-size=\"968\">♯</tspan>\
             <tspan dy=\"100\"> B</tspan>\
             <tspan font-family=\"'NewComputerModern Math'\" font-size=\"968\">♭</tspan></text>\n"
        );
    }

    #[test]
    fn drawn_signs_are_spoken() {
        let check = |text: &str, expected: &str| {
            let mut svg = String::new();
            Line::new().roman(text).svg(&mut svg);
            let start = format!("<g role=\"img\" aria-label=\"{expected}\">");
            assert!(svg.starts_with(&start), "{svg}");
            assert!(!svg.contains('𝄪') && !svg.contains('\u{ECA5}'), "{svg}");
        };
        check("F𝄪", "F double sharp");
        check("\u{ECA5}\u{ECB7} = 96", " quarter note dot = 96");
    }

    #[test]
    fn broken_into_lines() {
        let check = |text: &str, width: Hundredths, expected: &[&str]| {
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
            let mut page = Page {
                paper: Paper::A4,
                title: texts.iter().map(|(_, text)| text.as_str()).collect(),
                body: String::new(),
            };
            line.svg(&mut page.body);
            drawing::tree(&page).unwrap();
            for (_, text) in &texts {
                let lines = wrap(text, Style::Bold, SIZE, 3_000);
                assert!(lines.iter().all(|line| line.chars().count() == 1 || width(line, Style::Bold, SIZE) <= 3_000));
            }
        }
    }

    #[test]
    fn cut_short() {
        let check = |text: &str, width: Hundredths, expected: &str| {
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
