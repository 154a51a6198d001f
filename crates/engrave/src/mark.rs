//! What is drawn: marks at their places, gathered in frames. The three outputs
//! draw the same marks and decide nothing.

use rhythm::Fraction;
use score::MeasureLabel;

use crate::glyph::Glyph;
use crate::place::{Ink, Point};
use crate::text::Line;

/// What a mark is for; in SVG its class.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Role {
    Staff,
    Barline,
    Bracket,
    Clef,
    Signature,
    Meter,
    Notehead,
    Slash,
    Stem,
    Flag,
    Beam,
    Accidental,
    Dot,
    Rest,
    Ledger,
    Tie,
    Slur,
    Tuplet,
    Mark,
    Breath,
    Dynamic,
    Chord,
    Label,
    Number,
    Letter,
    Tempo,
    Text,
    Name,
}

impl Role {
    /// Its name as a class.
    pub fn class(self) -> &'static str {
        match self {
            Role::Staff => "staff",
            Role::Barline => "barline",
            Role::Bracket => "bracket",
            Role::Clef => "clef",
            Role::Signature => "signature",
            Role::Meter => "meter",
            Role::Notehead => "notehead",
            Role::Slash => "slash",
            Role::Stem => "stem",
            Role::Flag => "flag",
            Role::Beam => "beam",
            Role::Accidental => "accidental",
            Role::Dot => "dot",
            Role::Rest => "rest",
            Role::Ledger => "ledger",
            Role::Tie => "tie",
            Role::Slur => "slur",
            Role::Tuplet => "tuplet",
            Role::Mark => "mark",
            Role::Breath => "breath",
            Role::Dynamic => "dynamic",
            Role::Chord => "chord",
            Role::Label => "label",
            Role::Number => "number",
            Role::Letter => "letter",
            Role::Tempo => "tempo",
            Role::Text => "text",
            Role::Name => "name",
        }
    }
}

/// Something drawn.
#[derive(Debug, Clone)]
pub struct Mark {
    /// What it is for.
    pub role: Role,
    /// The note or rest it belongs to: a place in the frame's list.
    pub note: Option<usize>,
    pub(crate) shape: Shape,
}

/// How it is drawn.
#[derive(Debug, Clone)]
pub(crate) enum Shape {
    /// A musical sign; the frame's unit is a thousandth of its staff space.
    Glyph(&'static Glyph, Point),
    /// A straight line with square ends.
    Line { from: Point, to: Point, thick: i32 },
    /// A filled figure of four corners.
    Beam([Point; 4]),
    /// A bow that is thicker in its middle: the outer and the inner curve's
    /// handles between two tips.
    Bow {
        from: Point,
        outer: [Point; 2],
        inner: [Point; 2],
        to: Point,
    },
    /// A frame around its text, or a box to tick.
    Frame { ink: Ink, thick: i32 },
    /// Dots from one end to the other.
    Dots {
        from: Point,
        to: i32,
        step: i32,
        thick: i32,
    },
    /// A line of text.
    Text(Line),
}

/// How thick a bow is at its tips, in thousandths of a staff space.
pub(crate) const TIP: i32 = 100;

impl Mark {
    pub(crate) fn new(role: Role, shape: Shape) -> Mark {
        Mark {
            role,
            note: None,
            shape,
        }
    }

    pub(crate) fn glyph(role: Role, glyph: &'static Glyph, x: i32, y: i32) -> Mark {
        Mark::new(role, Shape::Glyph(glyph, (x, y)))
    }

    pub(crate) fn line(role: Role, from: Point, to: Point, thick: i32) -> Mark {
        Mark::new(role, Shape::Line { from, to, thick })
    }

    pub(crate) fn text(role: Role, line: Line) -> Mark {
        Mark::new(role, Shape::Text(line))
    }

    /// The same for a note.
    pub(crate) fn of(mut self, note: usize) -> Mark {
        self.note = Some(note);
        self
    }

    /// Moved.
    pub(crate) fn moved(mut self, x: i32, y: i32) -> Mark {
        self.shift(x, y);
        self
    }

    /// Moves it.
    pub(crate) fn shift(&mut self, x: i32, y: i32) {
        let by = |point: &mut Point| *point = (point.0 + x, point.1 + y);
        match &mut self.shape {
            Shape::Glyph(_, at) => by(at),
            Shape::Line { from, to, .. } => {
                by(from);
                by(to);
            }
            Shape::Beam(corners) => corners.iter_mut().for_each(by),
            Shape::Bow {
                from,
                outer,
                inner,
                to,
            } => {
                by(from);
                by(to);
                outer.iter_mut().chain(inner).for_each(by);
            }
            Shape::Frame { ink, .. } => *ink = ink.moved(x, y),
            Shape::Dots { from, to, .. } => {
                by(from);
                *to += x;
            }
            Shape::Text(line) => line.shift(x, y),
        }
    }

    /// Where its ink is: of a bow the points that it passes, of text the room
    /// from the tallest to the deepest letters.
    pub fn ink(&self) -> Ink {
        match &self.shape {
            Shape::Glyph(glyph, (x, y)) => glyph.ink(*x, *y),
            Shape::Line { from, to, thick } => {
                let half = thick / 2;
                let (across, down) = if from.1 == to.1 { (0, half) } else { (half, 0) };
                let ink = Ink::new(
                    from.0.min(to.0),
                    from.1.min(to.1),
                    from.0.max(to.0),
                    from.1.max(to.1),
                );
                Ink::new(
                    ink.left - across,
                    ink.top - down,
                    ink.right + across,
                    ink.bottom + down,
                )
            }
            Shape::Beam(corners) => corners_ink(corners),
            Shape::Bow {
                from, outer, to, ..
            } => {
                let points = (0..=8).map(|step| bezier(*from, *outer, *to, step * 125));
                Ink::around(points).map_or(Ink::new(0, 0, 0, 0), |ink| ink.grown(TIP / 2))
            }
            Shape::Frame { ink, thick } => ink.grown(thick / 2),
            Shape::Dots {
                from, to, thick, ..
            } => Ink::new(from.0, from.1, *to, from.1).grown(thick / 2),
            Shape::Text(line) => line.ink(),
        }
    }
}

fn corners_ink(corners: &[Point; 4]) -> Ink {
    Ink::around(corners.iter().copied()).unwrap_or(Ink::new(0, 0, 0, 0))
}

/// A curve's point at so many thousandths of its way.
pub(crate) fn bezier(from: Point, handles: [Point; 2], to: Point, at: i64) -> Point {
    let rest = 1000 - at;
    let weights = [
        rest * rest * rest,
        3 * rest * rest * at,
        3 * rest * at * at,
        at * at * at,
    ];
    let sum = |of: fn(Point) -> i32| {
        let points = [from, handles[0], handles[1], to];
        let sum: i64 = points
            .iter()
            .zip(weights)
            .map(|(point, weight)| i64::from(of(*point)) * weight)
            .sum();
        (sum / 1_000_000_000) as i32
    };
    (sum(|point| point.0), sum(|point| point.1))
}

/// Where a note or rest is in the music.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotePlace {
    /// Whether it is a rest.
    pub silence: bool,
    /// The part it is in, of several, from 0.
    pub part: Option<usize>,
    /// The exercise it is in, from 0.
    pub exercise: u16,
    /// The measure's number, `X1` for a pickup inside of a sheet.
    pub bar: MeasureLabel,
    /// Quarters from its bar's beginning.
    pub onset: Fraction,
    /// Quarters.
    pub length: Fraction,
}

/// What a frame is to somebody who can't see it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Tag {
    /// Nothing: a rule, a page's number.
    #[default]
    Artifact,
    /// The sheet's title.
    Title(String),
    /// An exercise's heading.
    Heading(String),
    /// Words.
    Paragraph,
    /// A picture, and what it shows.
    Figure(String),
}

/// Marks that belong together.
#[derive(Debug, Clone, Default)]
pub struct Frame {
    /// What it is.
    pub tag: Tag,
    /// In the order they are drawn in.
    pub marks: Vec<Mark>,
    /// The notes and rests that marks belong to.
    pub notes: Vec<NotePlace>,
}

impl Frame {
    /// An empty frame.
    pub fn new(tag: Tag) -> Frame {
        Frame {
            tag,
            ..Frame::default()
        }
    }
}
