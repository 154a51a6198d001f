//! Frames drawn on a PDF's page.
#![allow(clippy::float_arithmetic)]

use std::collections::BTreeMap;
use std::num::NonZeroU16;
use std::sync::LazyLock;

use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::graphic::Graphic;
use krilla::paint::{Fill, LineJoin, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Node, SpanTag, Tag as Kind, TagGroup, TagKind,
};
use krilla::text::{Font, GlyphId, KrillaGlyph};

use crate::fonts::font_files;
use crate::glyph::{Glyph, Segment};
use crate::mark::{Mark, Shape, TIP, Tag};
use crate::page::PlacedFrame;
use crate::piece::{Piece, Stretch, width_of};
use crate::place::{Ink, Micrometres};
use crate::png::sides;
use crate::sign::EM;
use crate::text::Line;

/// The carried fonts, read once in a process.
static FONTS: LazyLock<Vec<Option<Font>>> = LazyLock::new(|| {
    font_files()
        .map(|file| Font::new(file.bytes.into(), 0))
        .collect()
});

/// A page being drawn.
pub(super) struct Draw<'a, 'b> {
    pub(super) surface: Surface<'a>,
    pub(super) outlines: &'b mut BTreeMap<u32, Graphic>,
}

impl Draw<'_, '_> {
    pub(super) fn finish(self) {
        self.surface.finish();
    }

    /// Draws a frame; gives its place in the tree of tags.
    pub(super) fn frame(&mut self, placed: &PlacedFrame) -> Option<Node> {
        let kind: TagKind = match &placed.frame.tag {
            Tag::Artifact => {
                let artifact = Artifact::with_kind(ArtifactType::Other);
                self.surface.start_tagged(ContentTag::Artifact(artifact));
                self.marks(placed);
                self.surface.end_tagged();
                return None;
            }
            Tag::Title(title) => Kind::Hn(NonZeroU16::MIN, Some(title.clone())).into(),
            Tag::Heading(title) => {
                let second = NonZeroU16::MIN.saturating_add(1);
                Kind::Hn(second, Some(title.clone())).into()
            }
            Tag::Paragraph => Kind::P.into(),
            Tag::Figure(shown) => Kind::Figure(Some(shown.clone())).into(),
        };
        let own = match placed.frame.tag {
            Tag::Figure(_) => ContentTag::Other,
            _ => ContentTag::Span(SpanTag::empty()),
        };
        let identifier = self.surface.start_tagged(own);
        self.marks(placed);
        self.surface.end_tagged();
        Some(TagGroup::with_children(kind, vec![Node::Leaf(identifier)]).into())
    }

    fn marks(&mut self, placed: &PlacedFrame) {
        let scale = points(placed.thousand) / 1000.0;
        self.surface.push_transform(&Transform::from_row(
            scale,
            0.0,
            0.0,
            scale,
            points(placed.x),
            points(placed.y),
        ));
        self.surface.set_fill(Some(Fill::default()));
        self.lines(placed);
        for mark in &placed.frame.marks {
            self.mark(mark);
        }
        self.surface.pop();
    }

    /// All lines and beams as one path.
    fn lines(&mut self, placed: &PlacedFrame) {
        let mut path = PathBuilder::new();
        for mark in &placed.frame.marks {
            match &mark.shape {
                Shape::Line { .. } => rectangle(&mut path, mark.ink()),
                Shape::Frame { ink, thick } => {
                    for side in sides(*ink, *thick) {
                        rectangle(&mut path, side);
                    }
                }
                Shape::Beam(corners) => {
                    for (place, corner) in corners.iter().enumerate() {
                        let (x, y) = (corner.0 as f32, corner.1 as f32);
                        if place == 0 {
                            path.move_to(x, y);
                        } else {
                            path.line_to(x, y);
                        }
                    }
                    path.close();
                }
                _ => (),
            }
        }
        if let Some(path) = path.finish() {
            self.surface.draw_path(&path);
        }
    }

    fn mark(&mut self, mark: &Mark) {
        match &mark.shape {
            Shape::Line { .. } | Shape::Frame { .. } | Shape::Beam(_) => (),
            Shape::Glyph(glyph, (x, y)) => {
                self.glyph(glyph, Transform::from_translate(*x as f32, *y as f32));
            }
            Shape::Bow { .. } => {
                if let Some(path) = bow(&mark.shape) {
                    self.surface.set_stroke(Some(Stroke {
                        width: TIP as f32,
                        line_join: LineJoin::Round,
                        ..Stroke::default()
                    }));
                    self.surface.draw_path(&path);
                    self.surface.set_stroke(None);
                }
            }
            Shape::Dots {
                from,
                to,
                step,
                thick,
            } => {
                let mut path = PathBuilder::new();
                let half = thick / 2;
                let mut x = from.0;
                while x <= *to {
                    circle(&mut path, x, from.1, half);
                    x += (*step).max(1);
                }
                if let Some(path) = path.finish() {
                    self.surface.draw_path(&path);
                }
            }
            Shape::Text(line) => self.line(line),
        }
    }

    /// An outline is in the file once, and drawn wherever it is wanted.
    fn glyph(&mut self, glyph: &'static Glyph, at: Transform) {
        if !self.outlines.contains_key(&glyph.code) {
            let mut builder = self.surface.stream_builder();
            let mut surface = builder.surface();
            surface.set_fill(Some(Fill::default()));
            if let Some(path) = outline(glyph) {
                surface.draw_path(&path);
            }
            surface.finish();
            let graphic = Graphic::new(builder.finish(), false);
            self.outlines.insert(glyph.code, graphic);
        }
        if let Some(graphic) = self.outlines.get(&glyph.code) {
            self.surface.push_transform(&at);
            self.surface.draw_graphic(graphic.clone());
            self.surface.pop();
        }
    }

    fn line(&mut self, line: &Line) {
        let pieces = line.pieces();
        let em = line.em();
        let mut x = line.left(width_of(&pieces, em));
        for piece in &pieces {
            match piece {
                Piece::Sign(sign) => {
                    let scale = em as f32 * sign.scale as f32 / 100.0 / EM as f32;
                    let at = Transform::from_row(
                        scale,
                        0.0,
                        0.0,
                        scale,
                        x as f32 + em as f32 * sign.room[0] as f32 / 1000.0,
                        line.baseline() as f32 - em as f32 * sign.lift as f32 / 1000.0,
                    );
                    self.glyph(sign.glyph, at);
                }
                Piece::Text(stretch) => {
                    let y = line.baseline() - stretch.lift;
                    self.stretch(stretch, em, x, y);
                }
            }
            x = x.saturating_add(piece.width(em));
        }
    }

    fn stretch(&mut self, stretch: &Stretch<'_>, em: i32, x: i32, y: i32) {
        let Some(Some(font)) = FONTS.get(stretch.font.place) else {
            return;
        };
        let units = stretch.font.em() as f32;
        let shaped = stretch.font.shape(&stretch.text);
        let glyphs: Vec<KrillaGlyph> = shaped
            .glyphs
            .iter()
            .map(|glyph| {
                KrillaGlyph::new(
                    GlyphId::new(glyph.id),
                    glyph.advance as f32 / units,
                    glyph.x as f32 / units,
                    glyph.y as f32 / units,
                    0.0,
                    glyph.text.clone(),
                    None,
                )
            })
            .collect();
        self.surface.draw_glyphs(
            Point::from_xy(x as f32, y as f32),
            &glyphs,
            font.clone(),
            &stretch.text,
            stretch.font.sized(em) as f32,
            false,
        );
    }
}

fn rectangle(path: &mut PathBuilder, ink: Ink) {
    let [left, top, right, bottom] =
        [ink.left, ink.top, ink.right, ink.bottom].map(|edge| edge as f32);
    if let Some(area) = Rect::from_ltrb(left, top, right, bottom) {
        path.push_rect(area);
    }
}

/// Of four curves, their handles at 0.5523 of the radius.
fn circle(path: &mut PathBuilder, x: i32, y: i32, radius: i32) {
    let [x, y, r] = [x, y, radius].map(|length| length as f32);
    let k = r * 0.5523;
    path.move_to(x + r, y);
    path.cubic_to(x + r, y + k, x + k, y + r, x, y + r);
    path.cubic_to(x - k, y + r, x - r, y + k, x - r, y);
    path.cubic_to(x - r, y - k, x - k, y - r, x, y - r);
    path.cubic_to(x + k, y - r, x + r, y - k, x + r, y);
    path.close();
}

fn bow(shape: &Shape) -> Option<Path> {
    let Shape::Bow {
        from,
        outer: [a, b],
        inner: [c, d],
        to,
    } = shape
    else {
        return None;
    };
    let float = |(x, y): (i32, i32)| (x as f32, y as f32);
    let [from, a, b, c, d, to] = [*from, *a, *b, *c, *d, *to].map(float);
    let mut path = PathBuilder::new();
    path.move_to(from.0, from.1);
    path.cubic_to(a.0, a.1, b.0, b.1, to.0, to.1);
    path.cubic_to(d.0, d.1, c.0, c.1, from.0, from.1);
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

/// In points, 72 to the inch, which the file counts in.
pub(super) fn points(length: Micrometres) -> f32 {
    length as f32 * 72.0 / 25_400.0
}
