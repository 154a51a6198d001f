//! Pages as SVG: presentation by attributes only, each outline once, every id
//! beginning with the page's name, so that pages can stand in one document.

mod put;

use std::collections::BTreeSet;
use std::fmt::Write;

use crate::escape::escape;
use crate::fonts::FAMILY;
use crate::glyph::{self, Glyph};
use crate::mark::{Frame, Mark, NotePlace, Role, Shape, TIP};
use crate::page::{Page, PlacedFrame};
use crate::piece::{Piece, Stretch, width_of};
use crate::sign::{EM, Sign};
use crate::text::Line;
use put::{Area, Code, Decimal, Drawn, EscapedText, put};

/// What every text of a page takes from the `<svg>` it stands in: its font,
/// and that its spaces count.
pub const SETTING: &str = "font-family=\"'Libertinus Serif', serif\" xml:space=\"preserve\"";

impl Page {
    /// The page as an SVG document of its own, with ids that begin with a name
    /// (letters, figures and hyphens; all else becomes a hyphen). Text is text
    /// in it.
    pub fn svg(&self, name: &str) -> String {
        let plain = |char: char| {
            if char.is_ascii_alphanumeric() {
                char
            } else {
                '-'
            }
        };
        let name: String = name.chars().map(plain).collect();
        let mut svg = String::with_capacity(96 * 1024);
        self.write(&name, &mut svg);
        svg
    }

    /// What stands on the page, without its outlines, for a document that has
    /// those of [`outlines`] under the same name, in an `<svg>` with [`SETTING`].
    /// Places are
    /// [`Micrometres`](crate::Micrometres) from the page's upper left.
    pub fn marks(&self, name: &str) -> String {
        let mut svg = String::with_capacity(64 * 1024);
        for placed in &self.frames {
            write_frame(placed, name, &mut svg);
        }
        svg
    }

    fn write(&self, name: &str, svg: &mut String) {
        let (width, height) = (self.paper.width(), self.paper.height());
        let title = escape(&self.title);
        // Writing to a string can't fail.
        let _ = writeln!(
            svg,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" {SETTING} role=\"img\" aria-labelledby=\"{name}-title\" \
             width=\"{}.{}mm\" height=\"{}.{}mm\" viewBox=\"0 0 {width} {height}\">\n\
             <title id=\"{name}-title\">{title}</title>",
            width / 1000,
            width % 1000 / 100,
            height / 1000,
            height % 1000 / 100,
        );
        svg.push_str("<defs>\n");
        write_outlines(&self.codes(), name, svg);
        put!(
            svg,
            "</defs>\n<rect width=\"",
            width,
            "\" height=\"",
            height
        );
        svg.push_str("\" fill=\"#fff\"/>\n");
        for placed in &self.frames {
            write_frame(placed, name, svg);
        }
        svg.push_str("</svg>\n");
    }

    fn codes(&self) -> BTreeSet<u32> {
        let marks = self.frames.iter().flat_map(|placed| &placed.frame.marks);
        marks
            .filter_map(|mark| match mark.shape {
                Shape::Glyph(glyph, _) => Some(glyph.code),
                _ => None,
            })
            .collect()
    }
}

/// The outlines that pages in one document share, each once: what stands in its
/// `<defs>`.
pub fn outlines<'a>(pages: impl IntoIterator<Item = &'a Page>, name: &str) -> String {
    let codes = pages.into_iter().flat_map(Page::codes).collect();
    let mut svg = String::new();
    write_outlines(&codes, name, &mut svg);
    svg
}

fn write_outlines(codes: &BTreeSet<u32>, name: &str, svg: &mut String) {
    for code in codes {
        if let Some(glyph) = glyph::ALL.iter().find(|glyph| glyph.code == *code) {
            put!(
                svg,
                "<path id=\"",
                name,
                "-",
                Code(*code),
                "\" d=\"",
                glyph.svg,
                "\"/>\n"
            );
        }
    }
}

fn write_frame(placed: &PlacedFrame, name: &str, svg: &mut String) {
    let PlacedFrame {
        x,
        y,
        thousand,
        frame,
    } = placed;
    if *thousand == 1000 {
        put!(svg, "<g transform=\"translate(", *x, " ", *y, ")\">\n");
    } else {
        let is_system = frame.marks.iter().any(|mark| mark.role == Role::Barline);
        let class = if is_system { " class=\"system\"" } else { "" };
        put!(
            svg,
            "<g",
            class,
            " transform=\"translate(",
            *x,
            " ",
            *y,
            ") scale("
        );
        put!(svg, Decimal(i64::from(*thousand), 3), ")\">\n");
    }
    write_marks(frame, name, svg);
    svg.push_str("</g>\n");
}

/// What belongs to nobody first, then note by note.
fn write_marks(frame: &Frame, name: &str, svg: &mut String) {
    let mut order: Vec<&Mark> = frame.marks.iter().collect();
    order.sort_by_key(|mark| mark.note.map_or(0, |note| note + 1));
    for group in order.chunk_by(|one, other| one.note == other.note) {
        let note = group.first().and_then(|mark| mark.note);
        let place = note.and_then(|note| frame.notes.get(note));
        if let Some(place) = place {
            write_place(place, svg);
        }
        for mark in group {
            write_mark(mark, name, svg);
        }
        if place.is_some() {
            svg.push_str("</g>\n");
        }
    }
}

fn write_place(place: &NotePlace, svg: &mut String) {
    let class = if place.silence { "silence" } else { "note" };
    put!(svg, "<g class=\"", class, "\"");
    if let Some(part) = place.part {
        put!(svg, " data-part=\"", part, "\"");
    }
    put!(svg, " data-exercise=\"", place.exercise);
    put!(svg, "\" data-bar=\"", place.bar);
    put!(svg, "\" data-onset=\"", place.onset);
    put!(svg, "\" data-length=\"", place.length, "\">\n");
}

fn write_mark(mark: &Mark, name: &str, svg: &mut String) {
    let class = mark.role.class();
    match &mark.shape {
        Shape::Glyph(Glyph { code, .. }, at) => {
            put!(svg, "<use class=\"", class, "\" href=\"#", name, "-");
            put!(svg, Code(*code), "\" x=\"", at.0, "\" y=\"", at.1, "\"/>\n");
        }
        Shape::Line { .. } => {
            put!(svg, "<rect class=\"", class, "\"", Area(mark.ink()), "/>\n");
        }
        Shape::Beam([a, b, c, d]) => {
            put!(svg, "<path class=\"", class, "\" d=\"M", *a, "L", *b);
            put!(svg, "L", *c, "L", *d, "z\"/>\n");
        }
        Shape::Bow {
            from,
            outer: [a, b],
            inner: [c, d],
            to,
        } => {
            put!(
                svg,
                "<path class=\"",
                class,
                "\" d=\"M",
                *from,
                "C",
                *a,
                " ",
                *b,
                " ",
                *to
            );
            put!(svg, "C", *d, " ", *c, " ", *from, "z\"", Drawn(TIP));
            put!(svg, " stroke-linejoin=\"round\"/>\n");
        }
        Shape::Frame { ink, thick } => {
            put!(
                svg,
                "<rect class=\"",
                class,
                "\"",
                Area(*ink),
                " fill=\"none\""
            );
            put!(svg, Drawn(*thick), "/>\n");
        }
        Shape::Dots {
            from,
            to,
            step,
            thick,
        } => {
            put!(
                svg,
                "<path class=\"",
                class,
                "\" d=\"M",
                *from,
                "H",
                *to,
                "\""
            );
            put!(svg, Drawn(*thick), " stroke-linecap=\"round\"");
            put!(svg, " stroke-dasharray=\"0 ", *step, "\"/>\n");
        }
        Shape::Text(line) => write_line(line, class, svg),
    }
}

/// A line of text; where signs are drawn in it, in pieces, and spoken whole.
fn write_line(line: &Line, class: &str, svg: &mut String) {
    let pieces = line.pieces();
    let drawn = pieces.iter().any(|piece| matches!(piece, Piece::Sign(_)));
    let mut width = width_of(&pieces, line.em());
    let mut x = line.left(width);
    if !drawn {
        write_text(line, class, (x, width), &pieces, svg);
        return;
    }
    let spoken: String = pieces.iter().map(Piece::spoken).collect();
    put!(svg, "<g class=\"", class, "\" role=\"img\" aria-label=\"");
    put!(svg, EscapedText(&spoken), "\">\n");
    let alike = |a: &Piece<'_>, b: &Piece<'_>| matches!((a, b), (Piece::Text(_), Piece::Text(_)));
    for together in pieces.chunk_by(alike) {
        width = width_of(together, line.em());
        match together {
            [Piece::Sign(sign)] => write_sign(line, sign, x, svg),
            texts => write_text(line, class, (x, width), texts, svg),
        }
        x = x.saturating_add(width);
    }
    svg.push_str("</g>\n");
}

/// A label of so many letters is about as wide in any font, and there are
/// hundreds on a page.
const SHORT: usize = 2;

/// `textLength` keeps the line as wide as it was measured where another font
/// has to stand in.
fn write_text(
    line: &Line,
    class: &str,
    (x, width): (i32, i32),
    pieces: &[Piece<'_>],
    svg: &mut String,
) {
    if width <= 0 {
        return;
    }
    let size = line.em();
    put!(svg, "<text class=\"", class, "\" x=\"", x);
    put!(
        svg,
        "\" y=\"",
        line.baseline(),
        "\" font-size=\"",
        size,
        "\""
    );
    let letters = pieces.iter().map(|piece| match piece {
        Piece::Text(stretch) => stretch.text.chars().count(),
        Piece::Sign(_) => 0,
    });
    if letters.sum::<usize>() > SHORT {
        put!(
            svg,
            " textLength=\"",
            width,
            "\" lengthAdjust=\"spacingAndGlyphs\""
        );
    }
    svg.push('>');
    let mut lifted = 0;
    for piece in pieces {
        if let Piece::Text(stretch) = piece {
            write_stretch(stretch, size, lifted, svg);
            lifted = stretch.lift;
        }
    }
    svg.push_str("</text>\n");
}

/// `lifted` is how far the piece before it is.
fn write_stretch(stretch: &Stretch<'_>, size: i32, lifted: i32, svg: &mut String) {
    let font = stretch.font;
    let plain = font.file.family == FAMILY && font.file.weight == 400 && !font.file.italic;
    if plain && stretch.lift == lifted {
        put!(svg, EscapedText(&stretch.text));
        return;
    }
    svg.push_str("<tspan");
    if stretch.lift != lifted {
        put!(svg, " dy=\"", lifted - stretch.lift, "\"");
    }
    if font.file.family != FAMILY {
        put!(svg, " font-family=\"'", font.file.family, "'\"");
    }
    if font.file.weight != 400 {
        put!(svg, " font-weight=\"", font.file.weight, "\"");
    }
    if font.file.italic {
        svg.push_str(" font-style=\"italic\"");
    }
    if font.sized(size) != size {
        put!(svg, " font-size=\"", font.sized(size), "\"");
    }
    put!(svg, ">", EscapedText(&stretch.text), "</tspan>");
}

fn write_sign(line: &Line, sign: &Sign, x: i32, svg: &mut String) {
    let em = i64::from(line.em());
    let x = i64::from(x) + em * i64::from(sign.room[0]) / 1000;
    let y = i64::from(line.baseline()) - em * i64::from(sign.lift) / 1000;
    // To five places.
    let scale = em * i64::from(sign.scale) * 1000 / i64::from(EM);
    put!(
        svg,
        "<path transform=\"translate(",
        x,
        " ",
        y,
        ") scale(",
        Decimal(scale, 5)
    );
    put!(svg, ")\" d=\"", sign.glyph.svg, "\"/>\n");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mark::Tag;
    use crate::page::Paper;

    fn page(line: Line) -> Page {
        let mut frame = Frame::new(Tag::Paragraph);
        frame.marks.push(Mark::text(Role::Text, line));
        frame
            .marks
            .push(Mark::glyph(Role::Clef, &glyph::G_CLEF, 3, 4));
        let mut page = Page::new(Paper::A4, "Rise & fall");
        page.put(frame, 0, 0);
        page
    }

    /// Pages stand in one document without disturbing each other or it.
    #[test]
    fn nothing_but_attributes_and_own_names() {
        let svg = page(Line::new().roman("B♭ and F𝄪")).svg("alto/01-a.page 2");
        for word in ["<style", "style=", "<script", "class=\"note\""] {
            assert!(!svg.contains(word), "{word}");
        }
        let ids: Vec<&str> = svg.split("id=\"").skip(1).collect();
        assert!(ids.len() > 1 && ids.iter().all(|id| id.starts_with("alto-01-a-page-2-")));
        assert!(svg.contains("href=\"#alto-01-a-page-2-E050\" x=\"3\" y=\"4\""));
        assert!(svg.contains("<title id=\"alto-01-a-page-2-title\">Rise &amp; fall</title>"));
        assert!(svg.contains("width=\"210.0mm\" height=\"297.0mm\" viewBox=\"0 0 210000 297000\""));
    }

    fn written(line: Line) -> String {
        let mut svg = String::new();
        write_line(&line.at(10, 20), "text", &mut svg);
        svg
    }

    #[test]
    fn text_stays_text() {
        assert_eq!(written(Line::new()), "");
        assert_eq!(written(Line::new().roman("")), "");
        let width = Line::new().roman("Rise & fall ").width();
        assert_eq!(
            written(Line::new().roman("Rise & fall ")),
            format!(
                "<text class=\"text\" x=\"10\" y=\"20\" font-size=\"4000\" textLength=\"{width}\" \
                 lengthAdjust=\"spacingAndGlyphs\">Rise &amp; fall </text>\n"
            )
        );
        let svg = written(Line::new().bold("F♯ B♭").size(1_100));
        let (_, inside) = svg.split_once("Glyphs\">").unwrap();
        assert_eq!(
            inside,
            "<tspan font-weight=\"700\">F</tspan>\
             <tspan dy=\"-100\" font-family=\"'Twelvefold Accidentals'\" font-weight=\"700\" font-size=\"968\">♯</tspan>\
             <tspan dy=\"100\" font-weight=\"700\"> B</tspan>\
             <tspan font-family=\"'Twelvefold Accidentals'\" font-weight=\"700\" font-size=\"968\">♭</tspan></text>\n"
        );
    }

    #[test]
    fn drawn_signs_are_spoken() {
        let check = |text: &str, expected: &str| {
            let svg = written(Line::new().roman(text));
            let start = format!("<g class=\"text\" role=\"img\" aria-label=\"{expected}\">");
            assert!(svg.starts_with(&start), "{svg}");
            assert!(!svg.contains('𝄪') && !svg.contains('\u{ECA5}'), "{svg}");
        };
        check("F𝄪", "F double sharp");
        check("\u{ECA5}\u{ECB7} = 96", " quarter note dot = 96");
    }
}
