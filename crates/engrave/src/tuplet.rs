//! Tuplets: their number on the beam's side in the middle, with a bracket where
//! no one beam holds them together.

use rhythm::TupletEdge;

use crate::glyph::{Glyph, tuplet_digits};
use crate::mark::{Mark, Role};
use crate::note;
use crate::place::{Sp, reach};
use crate::placed::{PlacedNote, Staff};

/// A bracket's thickness (SMuFL 1.4, `engravingDefaults`), its hooks, and the
/// room around the number in it.
const THICK: Sp = 160;
const HOOK: Sp = 700;
const AROUND: Sp = 300;
/// From ink to the number or bracket.
const CLEAR: Sp = 350;
/// How high a number is, and how its digits are drawn together.
const HIGH: Sp = 1500;

/// Draws a bar's tuplets; `groups` are its beams.
pub(crate) fn draw(staff: &mut Staff<'_>, placed: &[PlacedNote<'_>], groups: &[(usize, usize)]) {
    let mut began: Option<(usize, bool)> = None;
    for (place, one) in placed.iter().enumerate() {
        match one.event.element.written().edge {
            Some(TupletEdge::Start { bracket }) => began = Some((place, bracket)),
            Some(TupletEdge::Stop) => {
                let Some((from, bracket)) = began.take() else {
                    continue;
                };
                let own = &placed[from..=place];
                if own.iter().all(|one| one.event.is_hidden()) {
                    continue;
                }
                let beamed = groups
                    .iter()
                    .any(|(first, last)| *first <= from && place <= *last);
                tuplet(staff, own, bracket || !beamed);
            }
            None => (),
        }
    }
}

fn tuplet(staff: &mut Staff<'_>, own: &[PlacedNote<'_>], bracket: bool) {
    let (Some(first), Some(last)) = (own.first(), own.last()) else {
        return;
    };
    let Some(ratio) = own
        .iter()
        .find_map(|one| one.event.element.written().value.tuplet)
    else {
        return;
    };
    let stems = own.iter().filter_map(|one| one.stem);
    let (up, down): (Vec<bool>, Vec<bool>) = stems.map(|stem| stem.up).partition(|up| *up);
    let above = up.len() >= down.len();
    let digits = tuplet_digits(ratio.actual);
    let width: Sp = digits.iter().map(|digit| digit.advance).sum();
    let (left, right) = (first.x, last.x + last.event.width);
    // Where stems carry one beam, its middle; else that of everything.
    let middle = match (first.stem, last.stem, bracket) {
        (Some(a), Some(b), false) => {
            (first.x
                + note::stem_x(first.event.element, a.up)
                + last.x
                + note::stem_x(last.event.element, b.up))
                / 2
        }
        _ => (left + right) / 2,
    };
    let over = if bracket {
        reach(&staff.inks, left - 100, right + 100)
    } else {
        reach(&staff.inks, middle - width / 2, middle + width / 2)
    };
    let (top, bottom) = over.unwrap_or((0, 4000));
    if !bracket {
        let baseline = if above {
            top - CLEAR
        } else {
            bottom + CLEAR + HIGH
        };
        put(staff, &digits, middle - width / 2, baseline);
        return;
    }
    // Outside of the staff; the number in its middle reaches over it.
    let y = if above {
        (top - CLEAR - HOOK).min(-HOOK - CLEAR)
    } else {
        (bottom + CLEAR + HOOK).max(4000 + HOOK + CLEAR)
    };
    let hook = if above { y + HOOK } else { y - HOOK };
    let (from, to) = (middle - width / 2 - AROUND, middle + width / 2 + AROUND);
    let line = |from, to| Mark::line(Role::Tuplet, from, to, THICK);
    let half = THICK / 2;
    if left + half < from {
        staff.put(line(
            (left + half, hook),
            (left + half, y - if above { half } else { -half }),
        ));
        staff.put(line((left, y), (from, y)));
        staff.put(line((to, y), (right, y)));
        staff.put(line(
            (right - half, y - if above { half } else { -half }),
            (right - half, hook),
        ));
    }
    put(staff, &digits, middle - width / 2, y + HIGH / 2);
}

fn put(staff: &mut Staff<'_>, digits: &[&'static Glyph], mut x: Sp, baseline: Sp) {
    for digit in digits {
        staff.put(Mark::glyph(Role::Tuplet, digit, x, baseline));
        x += digit.advance;
    }
}
