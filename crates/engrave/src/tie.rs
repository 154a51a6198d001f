//! Ties and slurs: bows clear of everything by a quarter of a space, their
//! tips off the staff lines.

use crate::mark::{Mark, Role, Shape, TIP, bezier};
use crate::place::{Ink, Point, Sp};
use crate::stem::height;

/// How much more than its tips a bow's middle is.
const MIDDLE: Sp = 220;
/// The least between a bow and other ink.
pub(crate) const CLEAR: Sp = 250;
/// How high bows are.
const LOWEST: Sp = 500;
const HIGHEST: Sp = 1300;

/// The height of a tie's tips: a little off the head's middle, away from the
/// stem, a quarter space from the staff's lines.
pub(crate) fn tip_height(place: i32, above: bool) -> Sp {
    let away = if place % 2 == 0 { 400 } else { 200 };
    height(place) + if above { -away } else { away }
}

/// How high a bow between two tips is.
fn rise(from: Point, to: Point) -> Sp {
    let run = to.0 - from.0;
    (350 + run / 10).clamp(LOWEST, HIGHEST)
}

/// A tie.
pub(crate) fn tie(from: Point, to: Point, above: bool) -> Mark {
    bow(Role::Tie, from, to, rise(from, to), above)
}

/// A slur between two tips, higher or moved away from the notes where ink would
/// come too near.
pub(crate) fn slur(from: Point, to: Point, above: bool, inks: &[Ink]) -> Mark {
    let between: Vec<&Ink> = inks
        .iter()
        .filter(|ink| ink.right > from.0 && ink.left < to.0)
        .collect();
    let mut high = rise(from, to);
    let mut away = 0;
    for _ in 0..80 {
        let moved = |point: Point| {
            let y = if above {
                point.1 - away
            } else {
                point.1 + away
            };
            (point.0, off_lines(y, above))
        };
        let mark = bow(Role::Slur, moved(from), moved(to), high, above);
        let near = nearest(&mark, &between, above);
        if near >= CLEAR {
            return mark;
        }
        if high < HIGHEST {
            high = (high + 100).min(HIGHEST);
        } else {
            away += 100;
        }
    }
    bow(Role::Slur, from, to, high, above)
}

/// A little further out where a tip would lie on a staff's line.
pub(crate) fn off_lines(y: Sp, above: bool) -> Sp {
    let inside = (-250..=4250).contains(&y);
    let over = y.rem_euclid(1000);
    if !inside || (250..=750).contains(&over) {
        return y;
    }
    let line = if over > 500 {
        y - over + 1000
    } else {
        y - over
    };
    if above { line - 250 } else { line + 250 }
}

/// The least distance from a bow to the ink on its inner side.
fn nearest(mark: &Mark, inks: &[&Ink], above: bool) -> Sp {
    let Shape::Bow {
        from, inner, to, ..
    } = mark.shape
    else {
        return Sp::MAX;
    };
    let mut least = Sp::MAX;
    for step in 0..=20 {
        let (x, y) = bezier(from, inner, to, step * 50);
        let half = TIP / 2;
        for ink in inks {
            // The tips stand over their own heads.
            if x < ink.left - CLEAR / 2 || x > ink.right + CLEAR / 2 {
                continue;
            }
            let gap = if above {
                ink.top - (y + half)
            } else {
                (y - half) - ink.bottom
            };
            least = least.min(gap);
        }
    }
    least
}

fn bow(role: Role, from: Point, to: Point, high: Sp, above: bool) -> Mark {
    let run = to.0 - from.0;
    // The middle of a curve lies at three quarters of its handles' height.
    let side = if above { -1 } else { 1 };
    let handles = |high: Sp| {
        let depth = side * high * 4 / 3;
        let inset = (run * 3 / 10).min(2500);
        let slope = |x: Sp| (i64::from(to.1 - from.1) * i64::from(x) / i64::from(run.max(1))) as Sp;
        [
            (from.0 + inset, from.1 + slope(inset) + depth),
            (to.0 - inset, to.1 - slope(inset) + depth),
        ]
    };
    let middle = MIDDLE - TIP;
    Mark::new(
        role,
        Shape::Bow {
            from,
            outer: handles(high),
            inner: handles(high - middle),
            to,
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tips_keep_off_the_lines() {
        for place in -6..16 {
            for above in [true, false] {
                let y = tip_height(place, above);
                let off = y.rem_euclid(1000).min(1000 - y.rem_euclid(1000));
                assert!(off >= 250, "{place} {y}");
            }
        }
        for y in -2000..6000 {
            let off = off_lines(y, true);
            assert!(off <= y && y - off <= 500, "{y} {off}");
            assert!(!(-250..=4250).contains(&off) || (250..=750).contains(&off.rem_euclid(1000)));
        }
    }

    #[test]
    fn bows_are_as_high_as_they_are_long() {
        let check = |run: Sp, high: Sp| {
            let ink = tie((0, 0), (run, 0), true).ink();
            assert!((ink.top + TIP / 2 + high).abs() < 20, "{run} {ink:?}");
        };
        check(1000, 500);
        check(5000, 850);
        check(40_000, 1300);
    }

    #[test]
    fn slurs_clear_what_they_reach_over() {
        let inks = [Ink::new(4000, -1500, 5000, 0), Ink::new(0, 0, 1000, 900)];
        let mark = slur((500, -300), (9000, -300), true, &inks);
        let refs: Vec<&Ink> = inks.iter().collect();
        assert!(nearest(&mark, &refs, true) >= CLEAR);
    }
}
