//! Pages as PNG pictures in shades of grey, for a slide or a message.
#![allow(clippy::float_arithmetic)]

use std::collections::BTreeMap;

use rustybuzz::ttf_parser::{GlyphId, OutlineBuilder};
use tiny_skia::{FillRule, LineJoin, Mask, Path, PathBuilder, Rect, Stroke, Transform};

use crate::fonts::CarriedFont;
use crate::glyph::{Glyph, Segment};
use crate::mark::{Mark, Shape, TIP};
use crate::page::{Page, PlacedFrame};
use crate::piece::{Piece, width_of};
use crate::place::{Ink, Point};
use crate::sign::EM;
use crate::text::Line;

/// Dots to the inch that a picture may have: a page at the most is a picture
/// of some 35 million dots.
pub const RESOLUTIONS: std::ops::RangeInclusive<u16> = 20..=600;

/// Why there is no picture.
#[derive(Debug, thiserror::Error)]
pub enum PngError {
    /// Too few dots, or too many.
    #[error("{0} dots to the inch: say {lowest} to {highest}", lowest = RESOLUTIONS.start(), highest = RESOLUTIONS.end())]
    Resolution(u16),
    /// The picture can't be packed.
    #[error("the picture can't be written: {0}")]
    File(String),
}

/// A page on white, at so many dots to the inch.
///
/// # Errors
/// A resolution out of [`RESOLUTIONS`].
pub fn png(page: &Page, resolution: u16) -> Result<Vec<u8>, PngError> {
    let fault = PngError::Resolution(resolution);
    if !RESOLUTIONS.contains(&resolution) {
        return Err(fault);
    }
    let dots = |length: i32| (length.unsigned_abs() * u32::from(resolution) + 12_700) / 25_400;
    let (width, height) = (dots(page.paper.width()), dots(page.paper.height()));
    let mask = Mask::new(width, height).ok_or(fault)?;
    let mut painter = Painter {
        mask,
        dots: f32::from(resolution) / 25_400.0,
        glyphs: BTreeMap::new(),
        letters: BTreeMap::new(),
    };
    for placed in &page.frames {
        painter.frame(placed);
    }
    for dot in painter.mask.data_mut() {
        *dot = u8::MAX - *dot;
    }
    let packed = painter.mask.encode_png();
    packed.map_err(|why| PngError::File(why.to_string()))
}

/// Ink on a mask.
struct Painter {
    mask: Mask,
    /// Dots to the micrometre.
    dots: f32,
    glyphs: BTreeMap<u32, Option<Path>>,
    /// By font and glyph.
    letters: BTreeMap<(usize, u32), Option<Path>>,
}

impl Painter {
    fn frame(&mut self, placed: &PlacedFrame) {
        let scale = self.dots * placed.thousand as f32 / 1000.0;
        let to_page = Transform::from_row(
            scale,
            0.0,
            0.0,
            scale,
            placed.x as f32 * self.dots,
            placed.y as f32 * self.dots,
        );
        for mark in &placed.frame.marks {
            self.mark(mark, to_page);
        }
    }

    fn fill(&mut self, path: Option<&Path>, transform: Transform) {
        if let Some(path) = path {
            self.mask
                .fill_path(path, FillRule::Winding, true, transform);
        }
    }

    fn mark(&mut self, mark: &Mark, to_page: Transform) {
        match &mark.shape {
            Shape::Glyph(glyph, (x, y)) => {
                let at = to_page.pre_translate(*x as f32, *y as f32);
                self.glyph(glyph, at);
            }
            Shape::Line { .. } => self.fill(rectangle(mark.ink()).as_ref(), to_page),
            Shape::Beam(corners) => {
                let mut path = PathBuilder::new();
                for (place, corner) in corners.iter().enumerate() {
                    let (x, y) = float(*corner);
                    if place == 0 {
                        path.move_to(x, y);
                    } else {
                        path.line_to(x, y);
                    }
                }
                path.close();
                self.fill(path.finish().as_ref(), to_page);
            }
            Shape::Bow {
                from,
                outer,
                inner,
                to,
            } => {
                let path = bow(*from, *outer, *inner, *to);
                let stroke = Stroke {
                    width: TIP as f32,
                    line_join: LineJoin::Round,
                    ..Stroke::default()
                };
                let edge = path.as_ref().and_then(|path| path.stroke(&stroke, 1.0));
                self.fill(path.as_ref(), to_page);
                self.fill(edge.as_ref(), to_page);
            }
            Shape::Frame { ink, thick } => {
                let sides = sides(*ink, *thick);
                for side in sides {
                    self.fill(rectangle(side).as_ref(), to_page);
                }
            }
            Shape::Dots {
                from,
                to,
                step,
                thick,
            } => {
                let radius = *thick as f32 / 2.0;
                let mut x = from.0;
                while x <= *to {
                    let (x0, y0) = float((x, from.1));
                    let dot = PathBuilder::from_circle(x0, y0, radius);
                    self.fill(dot.as_ref(), to_page);
                    x += (*step).max(1);
                }
            }
            Shape::Text(line) => self.line(line, to_page),
        }
    }

    fn glyph(&mut self, glyph: &Glyph, at: Transform) {
        let path = self.glyphs.entry(glyph.code);
        let path = path.or_insert_with(|| outline(glyph)).clone();
        self.fill(path.as_ref(), at);
    }

    fn line(&mut self, line: &Line, to_page: Transform) {
        let pieces = line.pieces();
        let em = line.em();
        let mut x = line.left(width_of(&pieces, em));
        for piece in &pieces {
            match piece {
                Piece::Sign(sign) => {
                    let scale = em as f32 * sign.scale as f32 / 100.0 / EM as f32;
                    let at = to_page
                        .pre_translate(
                            x as f32 + em as f32 * sign.room[0] as f32 / 1000.0,
                            line.baseline() as f32 - em as f32 * sign.lift as f32 / 1000.0,
                        )
                        .pre_scale(scale, scale);
                    self.glyph(sign.glyph, at);
                }
                Piece::Text(stretch) => {
                    let font = stretch.font;
                    let scale = font.sized(em) as f32 / font.em() as f32;
                    let y = line.baseline() - stretch.lift;
                    let at = to_page
                        .pre_translate(x as f32, y as f32)
                        .pre_scale(scale, -scale);
                    let mut pen = 0;
                    for glyph in &font.shape(&stretch.text).glyphs {
                        let place = (pen + glyph.x, glyph.y);
                        self.letter(
                            font,
                            glyph.id,
                            at.pre_translate(place.0 as f32, place.1 as f32),
                        );
                        pen += glyph.advance;
                    }
                }
            }
            x = x.saturating_add(piece.width(em));
        }
    }

    fn letter(&mut self, font: &'static CarriedFont, id: u32, at: Transform) {
        let path = self.letters.entry((font.place, id));
        let path = path.or_insert_with(|| {
            let mut outline = Outline(PathBuilder::new());
            let id = GlyphId(u16::try_from(id).unwrap_or_default());
            font.face().outline_glyph(id, &mut outline);
            outline.0.finish()
        });
        let path = path.clone();
        self.fill(path.as_ref(), at);
    }
}

fn float((x, y): Point) -> (f32, f32) {
    (x as f32, y as f32)
}

fn rectangle(ink: Ink) -> Option<Path> {
    let [left, top, right, bottom] =
        [ink.left, ink.top, ink.right, ink.bottom].map(|edge| edge as f32);
    Some(PathBuilder::from_rect(Rect::from_ltrb(
        left, top, right, bottom,
    )?))
}

/// The four sides of a frame.
pub(crate) fn sides(ink: Ink, thick: i32) -> [Ink; 4] {
    let half = thick / 2;
    let outer = ink.grown(half);
    let inner = ink.grown(-half);
    [
        Ink::new(outer.left, outer.top, outer.right, inner.top),
        Ink::new(outer.left, inner.bottom, outer.right, outer.bottom),
        Ink::new(outer.left, inner.top, inner.left, inner.bottom),
        Ink::new(inner.right, inner.top, outer.right, inner.bottom),
    ]
}

fn bow(from: Point, outer: [Point; 2], inner: [Point; 2], to: Point) -> Option<Path> {
    let mut path = PathBuilder::new();
    let [(x0, y0), (x3, y3)] = [from, to].map(float);
    let [(x1, y1), (x2, y2)] = outer.map(float);
    path.move_to(x0, y0);
    path.cubic_to(x1, y1, x2, y2, x3, y3);
    let [(x1, y1), (x2, y2)] = inner.map(float);
    path.cubic_to(x2, y2, x1, y1, x0, y0);
    path.close();
    path.finish()
}

fn outline(glyph: &Glyph) -> Option<Path> {
    let mut path = PathBuilder::new();
    for segment in glyph.outline {
        match *segment {
            Segment::Move(x, y) => path.move_to(x as f32, y as f32),
            Segment::Line(x, y) => path.line_to(x as f32, y as f32),
            Segment::Curve(a, b, c, d, e, f) => {
                let [a, b, c, d, e, f] = [a, b, c, d, e, f].map(|place| place as f32);
                path.cubic_to(a, b, c, d, e, f);
            }
            Segment::Close => path.close(),
        }
    }
    path.finish()
}

struct Outline(PathBuilder);

impl OutlineBuilder for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to(x, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to(x, y);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.0.quad_to(x1, y1, x, y);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.0.cubic_to(x1, y1, x2, y2, x, y);
    }

    fn close(&mut self) {
        self.0.close();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mark::{Frame, Role, Tag};
    use crate::page::Paper;

    fn page() -> Page {
        let mut frame = Frame::new(Tag::Paragraph);
        let line = Line::new().roman("Lantern").size(20_000);
        frame
            .marks
            .push(Mark::text(Role::Text, line.at(25_400, 50_800)));
        let mut page = Page::new(Paper::Letter, "");
        page.put(frame, 0, 0);
        page
    }

    /// 8½ by 11 inches.
    #[test]
    fn as_many_dots_as_asked() {
        let check = |resolution: u16, width: u32, height: u32| {
            let picture = Mask::decode_png(&png(&page(), resolution).unwrap()).unwrap();
            assert_eq!((picture.width(), picture.height()), (width, height));
        };
        check(20, 170, 220);
        check(100, 850, 1_100);
        check(150, 1_275, 1_650);
    }

    #[test]
    fn black_on_white() {
        let picture = Mask::decode_png(&png(&page(), 100).unwrap()).unwrap();
        let dark = |x: usize, y: usize| picture.data()[y * 850 + x] < 128;
        let rows: Vec<usize> = (0..1_100)
            .filter(|&y| (0..850).any(|x| dark(x, y)))
            .collect();
        let columns: Vec<usize> = (0..850)
            .filter(|&x| (0..1_100).any(|y| dark(x, y)))
            .collect();
        // An inch from the left; standing on a baseline two inches from the top.
        assert!((99..106).contains(&columns[0]), "{columns:?}");
        assert!((198..204).contains(rows.last().unwrap()), "{rows:?}");
    }

    #[test]
    fn same_bytes() {
        assert_eq!(png(&page(), 60).unwrap(), png(&page(), 60).unwrap());
    }

    #[test]
    fn resolutions_out_of_reach() {
        for resolution in [0, 19, 601, u16::MAX] {
            let fault = png(&page(), resolution).unwrap_err().to_string();
            let expected = format!("{resolution} dots to the inch: say 20 to 600");
            assert_eq!(fault, expected);
        }
    }
}
