//! Beams: where they lie, how they slant, and the pieces of each level.

use rhythm::{Beam, Beams};

use crate::mark::{Mark, Role, Shape};
use crate::place::Sp;
use crate::stem;

/// How thick a beam is, and from one's middle to the next one's.
pub(crate) const THICK: Sp = 500;
const STEP: Sp = 750;
/// A partial beam's length.
const HOOK: Sp = 1100;

/// A note under a beam.
#[derive(Debug, Clone, Copy)]
pub(crate) struct BeamNote {
    /// Where its stem is.
    pub(crate) x: Sp,
    /// In steps over the bottom line.
    pub(crate) place: i32,
    pub(crate) beams: Beams,
}

impl BeamNote {
    fn levels(&self) -> usize {
        self.beams.iter().flatten().count()
    }
}

/// The middle of the outermost beam, from the first stem to the last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct BeamLine {
    from: (Sp, Sp),
    to: (Sp, Sp),
    up: bool,
}

impl BeamLine {
    /// Its middle at a place.
    pub(crate) fn at(&self, x: Sp) -> Sp {
        let run = i64::from(self.to.0 - self.from.0).max(1);
        let rise = i64::from(self.to.1 - self.from.1);
        self.from.1 + (rise * i64::from(x - self.from.0) / run) as Sp
    }

    /// Where a stem ends: the beam's outer edge.
    pub(crate) fn tip(&self, x: Sp) -> Sp {
        self.at(x) - if self.up { THICK / 2 } else { -THICK / 2 }
    }

    #[cfg(test)]
    pub(crate) fn ends(&self) -> (Sp, Sp) {
        (self.from.1, self.to.1)
    }
}

/// How far a beam rises or falls from its first stem to its last: two notes ¼
/// space for a second, ½ for more; three and more only where they rise or fall
/// throughout, up to an eleventh ½, beyond it a whole space (common practice).
fn slant(places: &[i32]) -> Sp {
    let (Some(first), Some(last)) = (places.first(), places.last()) else {
        return 0;
    };
    let rises = places.windows(2).all(|pair| pair[0] <= pair[1]);
    let falls = places.windows(2).all(|pair| pair[0] >= pair[1]);
    if !(rises || falls) {
        return 0;
    }
    let most = match ((last - first).abs(), places.len()) {
        (0, _) => 0,
        (1, _) => 250,
        (2..=10, _) | (_, 2) => 500,
        _ => 1000,
    };
    if rises { -most } else { most }
}

/// Whether a beam's end sits on a line, lies across one or hangs from one.
fn is_steady(y: Sp) -> bool {
    y.rem_euclid(1000) != 500
}

/// Lays the beam: the shortest stem as long as a single one's, a little shorter
/// where the slant asks for it; no stem ends short of the middle line.
pub(crate) fn lay(notes: &[BeamNote], up: bool) -> Option<BeamLine> {
    let (first, last) = (notes.first()?, notes.last()?);
    let places: Vec<i32> = notes.iter().map(|note| note.place).collect();
    let slant = slant(&places);
    let line = |y: Sp| BeamLine {
        from: (first.x, y),
        to: (last.x, y + slant),
        up,
    };
    // How much longer than the least the shortest stem is.
    let spare = |line: &BeamLine| {
        let spares = notes.iter().map(|note| {
            let (head, tip) = (stem::height(note.place), line.tip(note.x));
            let long = if up { head - tip } else { tip - head };
            long - stem::length(note.levels())
        });
        spares.min().unwrap_or(0)
    };
    let reaches = |line: &BeamLine| {
        notes.iter().all(|note| {
            let tip = line.tip(note.x);
            if up {
                tip <= stem::MIDDLE
            } else {
                tip >= stem::MIDDLE
            }
        })
    };
    let outward = if up { -250 } else { 250 };
    let least = if slant == 0 { 0 } else { -500 };
    let nearest = stem::height(first.place) / 250 * 250;
    let mut best: Option<(Sp, BeamLine)> = None;
    for step in 0..120 {
        let y = nearest + outward * step;
        let line = line(y);
        let spare = spare(&line);
        if spare < least || !is_steady(y) || !is_steady(y + slant) || !reaches(&line) {
            continue;
        }
        // Of two as near to the right length the longer.
        if best.is_none_or(|(known, _)| spare.abs() <= known.abs()) {
            best = Some((spare, line));
        }
        if spare > 1000 {
            break;
        }
    }
    best.map(|(_, line)| line)
}

/// The beams of a group, level by level.
pub(crate) fn draw(notes: &[BeamNote], line: &BeamLine) -> Vec<Mark> {
    let mut marks = Vec::new();
    let inward = if line.up { STEP } else { -STEP };
    for level in 0..4 {
        let mut began: Option<Sp> = None;
        let down = inward * level as Sp;
        for note in notes {
            match note.beams[level] {
                Some(Beam::Begin) => began = Some(note.x),
                Some(Beam::End) => {
                    if let Some(from) = began.take() {
                        marks.push(piece(line, from, note.x, down));
                    }
                }
                Some(Beam::ForwardHook) => marks.push(piece(line, note.x, note.x + HOOK, down)),
                Some(Beam::BackwardHook) => marks.push(piece(line, note.x - HOOK, note.x, down)),
                Some(Beam::Continue) | None => (),
            }
        }
    }
    marks
}

/// Reaches over the stems' outer edges.
fn piece(line: &BeamLine, from: Sp, to: Sp, down: Sp) -> Mark {
    let half = THICK / 2;
    let (from, to) = (from - STEM / 2, to + STEM / 2);
    let (left, right) = (line.at(from) + down, line.at(to) + down);
    Mark::new(
        Role::Beam,
        Shape::Beam([
            (from, left - half),
            (to, right - half),
            (to, right + half),
            (from, left + half),
        ]),
    )
}

/// A stem's thickness (SMuFL 1.4, `engravingDefaults`).
pub(crate) const STEM: Sp = 120;

#[cfg(test)]
mod tests {
    use super::*;

    fn group(places: &[i32], levels: usize) -> Vec<BeamNote> {
        let last = places.len() - 1;
        let notes = places.iter().enumerate();
        notes
            .map(|(at, &place)| {
                let beam = match at {
                    0 => Beam::Begin,
                    _ if at == last => Beam::End,
                    _ => Beam::Continue,
                };
                let mut beams = [None; 4];
                beams[..levels].fill(Some(beam));
                BeamNote {
                    x: at as Sp * 3000,
                    place,
                    beams,
                }
            })
            .collect()
    }

    fn check(places: &[i32], levels: usize, expected: (Sp, Sp)) {
        let up = stem::goes_up(places.iter().copied());
        let line = lay(&group(places, levels), up).unwrap();
        assert_eq!(line.ends(), expected, "{places:?}");
    }

    /// What users reported of others: seconds that slant like thirds, ends in
    /// the middle of a space.
    #[test]
    fn slants() {
        let rise = |places: &[i32]| -slant(places);
        assert_eq!(rise(&[0, 1]), 250);
        assert_eq!(rise(&[0, 2]), 500);
        assert_eq!(rise(&[0, 20]), 500);
        assert_eq!(rise(&[3, 3]), 0);
        assert_eq!(rise(&[0, 1, 2, 3]), 500);
        assert_eq!(rise(&[10, 10, 9]), -250);
        assert_eq!(rise(&[0, 5, 12]), 1000);
        assert_eq!(rise(&[0, 2, 1, 3]), 0);
    }

    #[test]
    fn beams_lie_where_their_lines_hold_them() {
        check(&[1, 1], 1, (250, 250));
        check(&[2, 2], 1, (-250, -250));
        check(&[2, 3], 1, (-750, -1000));
        // From beyond ledger lines to the middle line.
        check(&[-6, -6], 1, (2250, 2250));
        check(&[1, 1], 3, (-750, -750));
    }

    #[test]
    fn every_group_keeps_the_rules() {
        for levels in 1..=4 {
            for first in -8..16 {
                for last in -8..16 {
                    for middle in [first, last, (first + last) / 2, first - 3] {
                        let places = [first, middle, last];
                        let notes = group(&places, levels);
                        let up = stem::goes_up(places.iter().copied());
                        let line = lay(&notes, up).unwrap();
                        let (from, to) = line.ends();
                        assert!(is_steady(from) && is_steady(to), "{places:?}");
                        assert_eq!(to - from, slant(&places));
                        let least = stem::length(levels) - if to == from { 0 } else { 500 };
                        for note in &notes {
                            let tip = line.tip(note.x);
                            let long = (stem::height(note.place) - tip) * if up { 1 } else { -1 };
                            assert!(long >= least, "{places:?} {long}");
                            assert!(if up { tip <= 2000 } else { tip >= 2000 });
                        }
                    }
                }
            }
        }
    }
}
