//! Rests: on the middle line, a whole one hanging from the line above; a silent
//! bar's stands in the bar's middle, a hidden one is not drawn.

use rhythm::ValueKind;
use score::Rest;

use crate::glyph::{self, Glyph};
use crate::mark::{Mark, Role};
use crate::place::Sp;

/// The sign and its height.
pub(crate) fn sign(rest: &Rest) -> (&'static Glyph, Sp) {
    if rest.whole_bar {
        return (&glyph::REST_WHOLE, 1000);
    }
    match rest.written.value.kind {
        ValueKind::Breve => (&glyph::REST_BREVE, 2000),
        ValueKind::Whole => (&glyph::REST_WHOLE, 1000),
        ValueKind::Half => (&glyph::REST_HALF, 2000),
        ValueKind::Quarter => (&glyph::REST_QUARTER, 2000),
        ValueKind::Eighth => (&glyph::REST_8, 2000),
        ValueKind::Sixteenth => (&glyph::REST_16, 2000),
        ValueKind::ThirtySecond => (&glyph::REST_32, 2000),
        ValueKind::SixtyFourth => (&glyph::REST_64, 2000),
    }
}

pub(crate) fn width(rest: &Rest) -> Sp {
    if rest.hidden {
        return 0;
    }
    sign(rest).0.width()
}

/// The rest and its dots, in the space over the middle line.
pub(crate) fn marks(rest: &Rest) -> Vec<Mark> {
    if rest.hidden {
        return Vec::new();
    }
    let (glyph, y) = sign(rest);
    let mut marks = vec![Mark::glyph(Role::Rest, glyph, -glyph.left, y)];
    if rest.whole_bar {
        return marks;
    }
    for dot in 0..Sp::from(rest.written.value.dots) {
        let x = glyph.width() + 350 + dot * 700;
        marks.push(Mark::glyph(Role::Dot, &glyph::DOT, x, 1500));
    }
    marks
}
