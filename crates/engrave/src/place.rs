//! Places: whole numbers from a frame's left top corner, y downwards. In a
//! system they are thousandths of a staff space, on a page micrometres.

/// A thousandth of the staff space: the unit inside of a system.
pub(crate) type Sp = i32;

/// A thousandth of a millimetre: the unit on a page.
pub type Micrometres = i32;

/// A point.
pub(crate) type Point = (i32, i32);

/// A box around something drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Ink {
    /// Its left edge.
    pub left: i32,
    /// Its upper edge.
    pub top: i32,
    /// Its right edge.
    pub right: i32,
    /// Its lower edge.
    pub bottom: i32,
}

impl Ink {
    pub(crate) fn new(left: i32, top: i32, right: i32, bottom: i32) -> Ink {
        Ink {
            left,
            top,
            right,
            bottom,
        }
    }

    /// Around points.
    pub(crate) fn around(points: impl IntoIterator<Item = Point>) -> Option<Ink> {
        points.into_iter().fold(None, |ink: Option<Ink>, (x, y)| {
            let point = Ink::new(x, y, x, y);
            Some(ink.map_or(point, |ink| ink.with(point)))
        })
    }

    /// Around both.
    pub(crate) fn with(self, other: Ink) -> Ink {
        Ink {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// Wider and higher by so much on every side.
    pub(crate) fn grown(self, by: i32) -> Ink {
        Ink {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    /// Moved.
    pub(crate) fn moved(self, x: i32, y: i32) -> Ink {
        Ink {
            left: self.left + x,
            top: self.top + y,
            right: self.right + x,
            bottom: self.bottom + y,
        }
    }

    /// Whether the two share more than an edge.
    pub fn meets(&self, other: &Ink) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// The highest and the lowest ink between two edges.
pub(crate) fn reach(inks: &[Ink], left: i32, right: i32) -> Option<(i32, i32)> {
    inks.iter()
        .filter(|ink| ink.left < right && ink.right > left)
        .map(|ink| (ink.top, ink.bottom))
        .reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)))
}
