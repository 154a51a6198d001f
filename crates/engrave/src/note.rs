//! A note's own marks: head, accidental, dots, ledger lines, stem and flags,
//! x counted from the head's left edge.

use rhythm::ValueKind;
use score::{Accidental, Element};

use crate::beam::STEM;
use crate::event::{Event, flags};
use crate::glyph::{self, Glyph};
use crate::mark::{Mark, Role};
use crate::place::Sp;
use crate::slide;
use crate::stem::{Stem, height};

/// Between an accidental, or its brackets, and what it belongs to.
const BEFORE: Sp = 250;
/// Between a head and the parentheses of one hardly heard.
const NEAR: Sp = 60;
/// From a head to its first dot, and from dot to dot.
const DOT: Sp = 500;
const DOTS: Sp = 300;
/// How thick ledger lines are, and how far they reach beyond the head; less far
/// where an accidental stands there.
const LEDGER: Sp = 160;
const BEYOND: Sp = 400;
const SHORT: Sp = 150;

/// The head of a note or slash.
pub(crate) fn head(element: &Element) -> &'static Glyph {
    let kind = element.written().value.kind;
    match (element, kind) {
        (Element::Slash(_), ValueKind::Whole | ValueKind::Breve) => &glyph::SLASH_WHOLE,
        (Element::Slash(_), ValueKind::Half) => &glyph::SLASH_HALF,
        (Element::Slash(_), _) => &glyph::SLASH_BLACK,
        (_, ValueKind::Breve) => &glyph::HEAD_BREVE,
        (_, ValueKind::Whole) => &glyph::HEAD_WHOLE,
        (_, ValueKind::Half) => &glyph::HEAD_HALF,
        _ => &glyph::HEAD_BLACK,
    }
}

/// Where the middle of the stem is.
/// Where its stem is, from the head's left edge.
pub(crate) fn stem_x(element: &Element, up: bool) -> Sp {
    let head = head(element);
    if up {
        head.stem_up.map_or(head.right, |(x, _)| x) - STEM / 2
    } else {
        head.stem_down.map_or(0, |(x, _)| x) + STEM / 2
    }
}

/// Everything but the stem and its flags.
pub(crate) fn marks(event: &Event<'_>) -> Vec<Mark> {
    let Some(note) = event.note() else {
        return Vec::new();
    };
    let head = head(event.element);
    let y = height(event.place);
    let is_slash = matches!(event.element, Element::Slash(_));
    let role = if is_slash {
        Role::Slash
    } else {
        Role::Notehead
    };
    let mut marks = Vec::with_capacity(4);
    let accidental = note.accidental.filter(|_| !is_slash);
    let ledgers: Vec<i32> = ledger_lines(event.place).collect();
    let left = match (ledgers.is_empty(), accidental) {
        (true, _) => 0,
        (false, None) => -BEYOND,
        (false, Some(_)) => -SHORT,
    };
    for line in ledgers {
        let (from, to) = ((left, height(line)), (head.right + BEYOND, height(line)));
        marks.push(Mark::line(Role::Ledger, from, to, LEDGER));
    }
    // What stands before the head and after it, from the inside out.
    let (mut before, mut after) = (left.min(0), head.right);
    if note.marks.ghost {
        let edges = parentheses(head, y, &mut marks);
        (before, after) = (before.min(edges.0), edges.1);
    }
    if let Some(accidental) = accidental {
        let signs = accidental_marks(accidental, note.pitch.alteration(), before, y);
        before = signs
            .iter()
            .map(|mark| mark.ink().left)
            .min()
            .unwrap_or(before);
        marks.extend(signs);
    }
    marks.push(Mark::glyph(role, head, 0, y));
    after = dots(event, note.written.value.dots, after, &mut marks);
    if note.marks.scoop {
        marks.push(slide::scoop(before - BEFORE, y));
    }
    if note.marks.fall {
        marks.push(slide::fall(after + BEFORE, y));
    }
    if note.marks.doit {
        let flag = stem_marks(event, event.stem)
            .iter()
            .filter(|mark| mark.role == Role::Flag && mark.ink().top < y - 1000)
            .map(|mark| mark.ink().right)
            .max();
        marks.push(slide::doit(after.max(flag.unwrap_or(after)) + BEFORE, y));
    }
    marks
}

/// Parentheses around a head; their outer edges.
fn parentheses(head: &Glyph, y: Sp, marks: &mut Vec<Mark>) -> (Sp, Sp) {
    let (left, right) = (&glyph::GHOST_LEFT, &glyph::GHOST_RIGHT);
    let from = -NEAR - left.right;
    marks.push(Mark::glyph(Role::Mark, left, from, y));
    let to = head.right + NEAR - right.left;
    marks.push(Mark::glyph(Role::Mark, right, to, y));
    (from, to + right.right)
}

/// Dots after what reaches so far; how far they reach.
fn dots(event: &Event<'_>, dots: u8, mut after: Sp, marks: &mut Vec<Mark>) -> Sp {
    if dots == 0 {
        return after;
    }
    let at = dot_height(event.place);
    // Beside a flag that hangs down to it a dot would be lost.
    let flag = stem_marks(event, event.stem)
        .iter()
        .filter(|mark| mark.role == Role::Flag)
        .map(Mark::ink)
        .find(|ink| ink.bottom + 100 > at - 200 && ink.top < at + 200);
    let first = after + DOT;
    let first = flag.map_or(first, |ink| first.max(ink.right + 200));
    for dot in 0..Sp::from(dots) {
        let x = first + dot * (DOTS + glyph::DOT.width());
        marks.push(Mark::glyph(Role::Dot, &glyph::DOT, x, at));
        after = after.max(x + glyph::DOT.right);
    }
    after
}

/// A line's dot stands in the space above.
fn dot_height(place: i32) -> Sp {
    height(place) - if place % 2 == 0 { 500 } else { 0 }
}

fn accidental_marks(accidental: Accidental, alteration: i16, left: Sp, y: Sp) -> Vec<Mark> {
    let sign = accidental_glyph(alteration);
    let mut marks = Vec::with_capacity(3);
    let mut right = left - BEFORE;
    let mut put = |glyph: &'static Glyph, near: Sp| {
        right -= glyph.right - near;
        marks.push(Mark::glyph(Role::Accidental, glyph, right, y));
        right += glyph.left;
    };
    if accidental.courtesy {
        put(&glyph::COURTESY_RIGHT, 0);
        put(sign, 40);
        put(&glyph::COURTESY_LEFT, 40);
    } else {
        put(sign, 0);
    }
    marks
}

/// The sign for an alteration in half steps.
pub(crate) fn accidental_glyph(alteration: i16) -> &'static Glyph {
    match alteration {
        ..=-2 => &glyph::DOUBLE_FLAT,
        -1 => &glyph::FLAT,
        0 => &glyph::NATURAL,
        1 => &glyph::SHARP,
        2.. => &glyph::DOUBLE_SHARP,
    }
}

/// The lines outside of the staff that a note at a place needs.
pub(crate) fn ledger_lines(place: i32) -> impl Iterator<Item = i32> {
    let below = (place..=-2).filter(|line| line % 2 == 0);
    let above = (10..=place).filter(|line| line % 2 == 0);
    below.chain(above)
}

/// The stem, and its flags where no beam takes their place.
pub(crate) fn stem_marks(event: &Event<'_>, stem: Option<Stem>) -> Vec<Mark> {
    let Some(Stem { up, tip }) = stem else {
        return Vec::new();
    };
    let head = head(event.element);
    let x = stem_x(event.element, up);
    let anchor = if up { head.stem_up } else { head.stem_down };
    let begin = height(event.place) + anchor.map_or(0, |(_, y)| y);
    let mut marks = vec![Mark::line(Role::Stem, (x, begin), (x, tip), STEM)];
    if event.beamed {
        return marks;
    }
    let flag = match (flags(event.element.written().value.kind), up) {
        (0, _) => return marks,
        (1, true) => &glyph::FLAG_8_UP,
        (1, false) => &glyph::FLAG_8_DOWN,
        (2, true) => &glyph::FLAG_16_UP,
        (2, false) => &glyph::FLAG_16_DOWN,
        (3, true) => &glyph::FLAG_32_UP,
        (3, false) => &glyph::FLAG_32_DOWN,
        (_, true) => &glyph::FLAG_64_UP,
        (_, false) => &glyph::FLAG_64_DOWN,
    };
    marks.push(Mark::glyph(Role::Flag, flag, x - STEM / 2, tip));
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ledger_lines_of_places() {
        let check = |place: i32, expected: &[i32]| {
            assert_eq!(ledger_lines(place).collect::<Vec<_>>(), expected, "{place}");
        };
        check(-1, &[]);
        check(-2, &[-2]);
        check(-5, &[-4, -2]);
        check(0, &[]);
        check(9, &[]);
        check(10, &[10]);
        check(13, &[10, 12]);
    }

    #[test]
    fn accidentals_stand_a_quarter_space_before() {
        for (courtesy, width) in [(false, 996), (true, 996 + 564 + 564 - 80)] {
            let marks = accidental_marks(Accidental { courtesy }, 1, 0, 0);
            let inks: Vec<_> = marks.iter().map(Mark::ink).collect();
            assert_eq!(inks[0].right, -250);
            assert_eq!(inks.last().unwrap().left, -250 - width);
        }
    }
}
