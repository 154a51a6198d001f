//! How notes are played: dots and lines beside the head in a space, accents
//! outside of the staff, breaths over it, dynamics under it.

use score::{Direction, Measure};

use crate::glyph::{self, Glyph};
use crate::mark::{Mark, Role};
use crate::place::{Sp, reach};
use crate::placed::{PlacedNote, Staff};
use crate::stem::height;

/// From a head's middle to a sign in the next space, and from sign to sign.
const NEXT: Sp = 1000;
/// Between ink and a sign outside.
const CLEAR: Sp = 300;

/// The signs of a bar's notes.
pub(crate) fn draw(staff: &mut Staff<'_>, placed: &mut [PlacedNote<'_>]) {
    // Where accented notes have their heads' sides both above and below, all
    // accents stand above.
    let accented = |one: &&PlacedNote<'_>| one.event.note().is_some_and(|note| note.marks.accent);
    let above = placed.iter().filter(accented).any(PlacedNote::heads_above);
    for one in placed {
        let Some(marks) = one.event.note().map(|note| note.marks) else {
            continue;
        };
        let heads = one.heads_above();
        // How far out the last sign's middle is.
        let mut at = height(one.event.place);
        let signs = [
            (marks.staccato, &glyph::STACCATO),
            (marks.tenuto, &glyph::TENUTO),
        ];
        for (_, glyph) in signs.into_iter().filter(|(said, _)| *said) {
            at = next_space(at, heads);
            centred(staff, one, glyph, at);
        }
        if marks.accent {
            let (top, bottom) = one.reach();
            let (glyph, y) = if above {
                (&glyph::ACCENT_ABOVE, top.min(0) - CLEAR)
            } else {
                (&glyph::ACCENT_BELOW, bottom.max(4000) + CLEAR)
            };
            let x = one.middle() - glyph.width() / 2 - glyph.left;
            staff.put_of(one, Mark::glyph(Role::Mark, glyph, x, y));
        }
    }
}

/// The middle of the next space outward that is clear of what is there; outside
/// of the staff a space further is enough.
fn next_space(at: Sp, above: bool) -> Sp {
    let out = if above { at - NEXT } else { at + NEXT };
    let on_line = out.rem_euclid(1000) == 0;
    match (on_line && (0..=4000).contains(&out), above) {
        (false, _) => out,
        (true, true) => out - 500,
        (true, false) => out + 500,
    }
}

/// A sign with its middle at a height, over or under the head.
fn centred(staff: &mut Staff<'_>, one: &mut PlacedNote<'_>, glyph: &'static Glyph, y: Sp) {
    let x = one.middle() - glyph.width() / 2 - glyph.left;
    let y = y - (glyph.top + glyph.bottom) / 2;
    staff.put_of(one, Mark::glyph(Role::Mark, glyph, x, y));
}

/// A breath after a note, over the top line, before what comes next at `next`.
pub(crate) fn breath(staff: &mut Staff<'_>, one: &PlacedNote<'_>, next: Sp) {
    if !one.event.note().is_some_and(|note| note.marks.breath) {
        return;
    }
    let glyph = &glyph::BREATH;
    let x = (next - CLEAR - glyph.right).max(one.x + one.event.width);
    let over = reach(&staff.inks, x - CLEAR, x + glyph.right + CLEAR);
    let y = over.map_or(0, |(top, _)| top.min(0)) - CLEAR;
    let mark = Mark::glyph(Role::Breath, glyph, x, y);
    staff.put(match one.note {
        Some(note) => mark.of(note),
        None => mark,
    });
}

/// How loud, under the measure's beginning.
pub(crate) fn dynamics(staff: &mut Staff<'_>, measure: &Measure, x: Sp) {
    for direction in &measure.directions {
        let Direction::Dynamic(letters) = direction else {
            continue;
        };
        let letters: Vec<&'static Glyph> = letters.chars().filter_map(letter).collect();
        let width: Sp = letters.iter().map(|letter| letter.advance).sum();
        let under = reach(&staff.inks, x - CLEAR, x + width + CLEAR);
        let under = under.map_or(4000, |(_, bottom)| bottom.max(4000));
        let rise = letters.iter().map(|letter| -letter.top).max().unwrap_or(0);
        let y = under + CLEAR + rise;
        let mut x = x;
        for letter in letters {
            staff.put(Mark::glyph(Role::Dynamic, letter, x, y));
            x += letter.advance;
        }
    }
}

fn letter(letter: char) -> Option<&'static Glyph> {
    Some(match letter {
        'p' => &glyph::DYNAMIC_P,
        'm' => &glyph::DYNAMIC_M,
        'f' => &glyph::DYNAMIC_F,
        'r' => &glyph::DYNAMIC_R,
        's' => &glyph::DYNAMIC_S,
        'z' => &glyph::DYNAMIC_Z,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_stand_in_spaces() {
        let check = |at: Sp, above: bool, expected: Sp| {
            assert_eq!(next_space(at, above), expected, "{at}");
        };
        check(2500, false, 3500);
        check(2000, false, 3500);
        check(2000, true, 500);
        check(4000, false, 5000);
        check(0, true, -1000);
        check(500, true, -500);
    }
}
