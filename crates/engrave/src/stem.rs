//! Stems: which way, and how long.

use crate::place::Sp;

/// A stem.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Stem {
    pub(crate) up: bool,
    /// Its end away from the head.
    pub(crate) tip: Sp,
}

/// An octave's reach, which looks right (common practice).
pub(crate) const LENGTH: Sp = 3500;
/// More for each flag or beam after the second.
pub(crate) const MORE: Sp = 750;
/// The middle line's place in steps over the bottom line, and its height.
pub(crate) const MIDDLE_PLACE: i32 = 4;
pub(crate) const MIDDLE: Sp = 2000;

/// Where a place, in steps over the bottom line, is.
pub(crate) fn height(place: i32) -> Sp {
    (8 - place) * 500
}

/// Whether notes under one stem or beam have it upwards: by the farthest from
/// the middle line, then by the majority, then down.
pub(crate) fn goes_up(places: impl Iterator<Item = i32> + Clone) -> bool {
    let away = places.map(|place| place - MIDDLE_PLACE);
    let highest = away.clone().max().unwrap_or(0);
    let lowest = away.clone().min().unwrap_or(0);
    if highest != -lowest {
        return highest < -lowest;
    }
    let below = away.clone().filter(|away| *away < 0).count();
    let above = away.filter(|away| *away > 0).count();
    below > above
}

/// How long a stem with so many flags or beams is.
pub(crate) fn length(flags: usize) -> Sp {
    LENGTH + MORE * flags.saturating_sub(2) as Sp
}

/// The stem of a note by itself; from beyond a ledger line it reaches the
/// middle line.
pub(crate) fn single(place: i32, flags: usize) -> Stem {
    let up = goes_up(std::iter::once(place));
    let tip = if up {
        (height(place) - length(flags)).min(MIDDLE)
    } else {
        (height(place) + length(flags)).max(MIDDLE)
    };
    Stem { up, tip }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_farthest_note_decides() {
        let check = |places: &[i32], up: bool| {
            assert_eq!(goes_up(places.iter().copied()), up, "{places:?}");
        };
        check(&[4], false);
        check(&[3], true);
        check(&[5], false);
        check(&[2, 5], true);
        check(&[-1, 5, 5, 5], true);
        // As far above as below: the majority, then down.
        check(&[2, 6], false);
        check(&[2, 2, 6], true);
        check(&[2, 6, 6], false);
    }

    #[test]
    fn stems_reach_the_middle_line() {
        let check = |place: i32, flags: usize, up: bool, tip: Sp| {
            assert_eq!(single(place, flags), Stem { up, tip }, "{place}");
        };
        check(1, 1, true, 0);
        check(3, 0, true, -1000);
        check(4, 0, false, 5500);
        check(-5, 0, true, 2000);
        check(14, 1, false, 2000);
        check(4, 3, false, 6250);
    }
}
