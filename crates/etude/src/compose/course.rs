//! Which statements a line makes, in order.

use lesson::{Direction, Span};
use theory::Form;

/// Which rungs the statements are begun on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum StatementCourse {
    /// Once from the root, or from the root above, or both.
    Once(Direction),
    /// On every rung of so many octaves.
    Octaves(i32, Direction),
    /// On every rung that fits.
    WholeHorn(Direction),
}

/// How long a line has become: statements (or, in a scale, notes) on the way
/// up and on the way down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Extent {
    pub ups: u16,
    pub downs: u16,
}

/// One statement: the rung its root stands on, and the form it is said in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Statement {
    pub base: i32,
    pub form: Form,
    /// Whether it is the second, fourth … of its way.
    pub second: bool,
}

/// Which statements a line makes: `ups` from rung 0 upward, then `downs` from
/// `turn` downward, then the closing root.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Plan {
    pub ups: i32,
    pub downs: i32,
    pub turn: i32,
    pub closing: Option<i32>,
}

impl Plan {
    /// What a course asks for on a scale of so many rungs, whatever the horn;
    /// none for the whole horn, which only the horn can say.
    pub fn full(course: StatementCourse, size: i32, closes: bool) -> Option<Plan> {
        let (top, direction) = match course {
            StatementCourse::WholeHorn(_) => return None,
            StatementCourse::Octaves(octaves, direction) => (octaves * size, direction),
            StatementCourse::Once(direction) => {
                let (ups, downs) = match direction {
                    Direction::Up => (1, 0),
                    Direction::Down => (0, 1),
                    Direction::UpAndDown => (1, 1),
                };
                return Some(Plan {
                    ups,
                    downs,
                    turn: size,
                    closing: None,
                });
            }
        };
        let (ups, downs, closing) = match direction {
            Direction::Up => (top + 1, 0, top),
            Direction::Down => (0, top + 1, 0),
            Direction::UpAndDown => (top + 1, top + 1, 0),
        };
        Some(Plan {
            ups,
            downs,
            turn: top,
            closing: closes.then_some(closing),
        })
    }

    pub fn statements(self) -> impl ExactSizeIterator<Item = Statement> {
        (0..self.ups + self.downs).map(move |place| {
            if place < self.ups {
                Statement {
                    base: place,
                    form: Form::Rising,
                    second: place % 2 == 1,
                }
            } else {
                Statement {
                    base: self.turn - (place - self.ups),
                    form: Form::Falling,
                    second: (place - self.ups) % 2 == 1,
                }
            }
        })
    }

    pub fn extent(self) -> Extent {
        let count = |statements: i32| u16::try_from(statements).unwrap_or(u16::MAX);
        Extent {
            ups: count(self.ups),
            downs: count(self.downs),
        }
    }
}

/// The octaves of a span; none for the whole horn.
pub(crate) fn octaves(span: Span) -> Option<i32> {
    match span {
        Span::OneOctave => Some(1),
        Span::TwoOctaves => Some(2),
        Span::WholeHorn => None,
    }
}

/// The span of so many octaves, or of the whole horn.
pub(crate) fn span(octaves: Option<i32>) -> Span {
    match octaves {
        None => Span::WholeHorn,
        Some(1) => Span::OneOctave,
        Some(_) => Span::TwoOctaves,
    }
}
