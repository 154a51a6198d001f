//! Where ink is, in boxes.

use crate::Hundredths;

/// A box around something drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Ink {
    pub(crate) left: Hundredths,
    pub(crate) top: Hundredths,
    pub(crate) right: Hundredths,
    pub(crate) bottom: Hundredths,
}

impl Ink {
    /// Around points.
    pub(crate) fn around(points: impl IntoIterator<Item = (i32, i32)>) -> Option<Ink> {
        points.into_iter().fold(None, |ink: Option<Ink>, (x, y)| {
            let point = Ink {
                left: x,
                top: y,
                right: x,
                bottom: y,
            };
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
    pub(crate) fn grown(self, by: Hundredths) -> Ink {
        Ink {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    /// Every edge through a scale.
    pub(crate) fn map(self, scale: impl Fn(i32) -> i32) -> Ink {
        Ink {
            left: scale(self.left),
            top: scale(self.top),
            right: scale(self.right),
            bottom: scale(self.bottom),
        }
    }
}

/// The top of all ink over a stretch; none where there is none.
pub(crate) fn top(inks: &[Ink], left: Hundredths, right: Hundredths) -> Option<Hundredths> {
    over(inks, left, right).map(|ink| ink.top).min()
}

/// The bottom of all ink under a stretch; none where there is none.
pub(crate) fn bottom(inks: &[Ink], left: Hundredths, right: Hundredths) -> Option<Hundredths> {
    over(inks, left, right).map(|ink| ink.bottom).max()
}

fn over(inks: &[Ink], left: Hundredths, right: Hundredths) -> impl Iterator<Item = &Ink> {
    inks.iter()
        .filter(move |ink| ink.left <= right && ink.right >= left)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ink_over_and_under_a_stretch() {
        let boxed = |left, top, right, bottom| Ink {
            left,
            top,
            right,
            bottom,
        };
        let inks = [boxed(0, 50, 100, 90), boxed(80, 20, 120, 140)];
        let check = |left, right, expected: Option<(i32, i32)>| {
            let found = top(&inks, left, right).zip(bottom(&inks, left, right));
            assert_eq!(found, expected, "{left} {right}");
        };
        check(0, 70, Some((50, 90)));
        check(70, 80, Some((20, 140)));
        check(121, 300, None);
        assert_eq!(Ink::around([(3, 9), (1, 4)]), Some(boxed(1, 4, 3, 9)));
        assert_eq!(Ink::around([]), None);
        assert_eq!(boxed(1, 4, 3, 9).grown(1), boxed(0, 3, 4, 10));
    }
}
