//! How a note is slid into, falls away or is bent upward: curves of ours beside
//! the head, a space and a quarter wide.

use crate::mark::{Mark, Role, Shape};
use crate::place::{Point, Sp};

const WIDE: Sp = 1250;
const HIGH: Sp = 1000;
/// How much thicker the middle is than the ends.
const THICKER: Sp = 120;

/// From below into a head at a height; ends at `x`.
pub(crate) fn scoop(x: Sp, y: Sp) -> Mark {
    let from = (x - WIDE, y + HIGH);
    curve(from, [(x - WIDE, y + HIGH / 2), (x - WIDE / 2, y)], (x, y))
}

/// Away from a head, downward; begins at `x`.
pub(crate) fn fall(x: Sp, y: Sp) -> Mark {
    away(x, y, HIGH)
}

/// Away from a head, upward; begins at `x`.
pub(crate) fn doit(x: Sp, y: Sp) -> Mark {
    away(x, y, -HIGH)
}

fn away(x: Sp, y: Sp, by: Sp) -> Mark {
    let to = (x + WIDE, y + by);
    curve((x, y), [(x + WIDE / 2, y), (x + WIDE, y + by / 2)], to)
}

fn curve(from: Point, outer: [Point; 2], to: Point) -> Mark {
    let inner = outer.map(|(x, y)| (x, y + THICKER));
    Mark::new(
        Role::Mark,
        Shape::Bow {
            from,
            outer,
            inner,
            to,
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 to 1.5 spaces, on the side where they are read.
    #[test]
    fn as_wide_as_a_head() {
        for mark in [scoop(0, 0), fall(0, 0), doit(0, 0)] {
            let ink = mark.ink();
            assert!((1000..=1500).contains(&(ink.right - ink.left)), "{ink:?}");
            assert!((1000..=1500).contains(&(ink.bottom - ink.top)), "{ink:?}");
        }
        assert!(scoop(0, 0).ink().left < -1000 && scoop(0, 0).ink().bottom > 900);
        assert!(fall(0, 0).ink().bottom > 900 && doit(0, 0).ink().top < -900);
    }
}
