//! Note values as they are written, and how long they last.

use crate::Fraction;

/// The plain value of a note or rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum ValueKind {
    SixtyFourth,
    ThirtySecond,
    Sixteenth,
    Eighth,
    Quarter,
    Half,
    Whole,
    Breve,
}

impl ValueKind {
    /// Its length in quarters.
    pub fn quarters(self) -> Fraction {
        // Each lasts twice as long as the one before.
        Fraction::new(1 << (self as u32), 16)
    }
}

/// A written value: plain, dotted, or a tuplet's.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct NoteValue {
    /// Its plain value.
    pub kind: ValueKind,
    /// Augmentation dots.
    pub dots: u8,
    /// The tuplet it belongs to, if any.
    pub tuplet: Option<Tuplet>,
}

impl NoteValue {
    /// Its length in quarters. Dots past the eighth add nothing.
    pub fn quarters(self) -> Fraction {
        /// Dots that any value of use can have, and more.
        const MOST_DOTS: u8 = 8;
        // Each dot adds half of what the last one added.
        let last = Fraction::new(1, 1 << self.dots.min(MOST_DOTS));
        let dotted = self.kind.quarters() * (Fraction::from(2) - last);
        match self.tuplet {
            Some(tuplet) => dotted * i64::from(tuplet.normal) / i64::from(tuplet.actual.max(1)),
            None => dotted,
        }
    }
}

/// A tuplet's ratio: `actual` notes in the time of `normal` of `unit`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Tuplet {
    /// Notes in it: 3 for a triplet.
    pub actual: u16,
    /// Notes whose time they take: 2 for a triplet.
    pub normal: u16,
    /// The value counted by both numbers.
    pub unit: ValueKind,
}

/// Where a note stands in its tuplet, for the bracket.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TupletEdge {
    /// First note; whether the bracket shows (hidden under one unbroken beam).
    Start {
        /// Whether the bracket shows.
        bracket: bool,
    },
    /// Last note.
    Stop,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_in_quarters() {
        let check = |kind, dots, tuplet: Option<(u16, u16)>, expected: (i64, i64)| {
            let value = NoteValue {
                kind,
                dots,
                tuplet: tuplet.map(|(actual, normal)| Tuplet {
                    actual,
                    normal,
                    unit: kind,
                }),
            };
            let expected = Fraction::new(expected.0, expected.1);
            assert_eq!(value.quarters(), expected, "{value:?}");
        };
        // Common practice.
        check(ValueKind::Quarter, 0, None, (1, 1));
        check(ValueKind::Quarter, 1, None, (3, 2));
        check(ValueKind::Half, 2, None, (7, 2));
        check(ValueKind::SixtyFourth, 0, None, (1, 16));
        check(ValueKind::ThirtySecond, 0, None, (1, 8));
        check(ValueKind::Sixteenth, 1, None, (3, 8));
        check(ValueKind::Whole, 0, None, (4, 1));
        check(ValueKind::Breve, 0, None, (8, 1));
        check(ValueKind::Eighth, 255, None, (511, 512));
        check(ValueKind::Eighth, 0, Some((3, 2)), (1, 3));
        check(ValueKind::Quarter, 1, Some((2, 3)), (9, 4));
        check(ValueKind::Quarter, 0, Some((0, 2)), (2, 1));
    }
}
