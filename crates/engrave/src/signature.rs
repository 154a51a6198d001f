//! What stands at the beginning of a staff and where it changes: clefs,
//! signatures, meters, each from x = 0 on.

use rhythm::Meter;
use theory::{Clef, ClefSign, Signature};

use crate::glyph::{self, Glyph, meter_digits};
use crate::mark::{Mark, Role};
use crate::place::Sp;
use crate::stem::height;

/// Marks and how far they reach.
#[derive(Debug, Clone, Default)]
pub(crate) struct Signs {
    pub(crate) marks: Vec<Mark>,
    pub(crate) width: Sp,
}

/// A clef on its line.
pub(crate) fn clef(clef: Clef) -> Signs {
    let glyph = clef_glyph(clef);
    let y = height(2 * (i32::from(clef.line) - 1));
    Signs {
        marks: vec![Mark::glyph(Role::Clef, glyph, 0, y)],
        width: glyph.right,
    }
}

/// A clef's sign.
pub(crate) fn clef_glyph(clef: Clef) -> &'static Glyph {
    match (clef.sign, clef.octave_change) {
        (ClefSign::G, ..=-2) => &glyph::G_CLEF_15_BELOW,
        (ClefSign::G, -1) => &glyph::G_CLEF_8_BELOW,
        (ClefSign::G, 0) => &glyph::G_CLEF,
        (ClefSign::G, 1) => &glyph::G_CLEF_8_ABOVE,
        (ClefSign::G, 2..) => &glyph::G_CLEF_15_ABOVE,
        (ClefSign::F, ..=-2) => &glyph::F_CLEF_15_BELOW,
        (ClefSign::F, -1) => &glyph::F_CLEF_8_BELOW,
        (ClefSign::F, 0) => &glyph::F_CLEF,
        (ClefSign::F, 1) => &glyph::F_CLEF_8_ABOVE,
        (ClefSign::F, 2..) => &glyph::F_CLEF_15_ABOVE,
        (ClefSign::C, ..=-1) => &glyph::C_CLEF_8_BELOW,
        (ClefSign::C, 0..) => &glyph::C_CLEF,
    }
}

/// The places of sharps and flats in the treble clef, in their order, in steps
/// over the bottom line; the tenor clef has its own for sharps (common
/// practice).
const SHARPS: [i32; 7] = [8, 5, 9, 6, 3, 7, 4];
const TENOR_SHARPS: [i32; 7] = [2, 6, 3, 7, 4, 8, 5];
const FLATS: [i32; 7] = [4, 7, 3, 6, 2, 5, 1];

/// A signature; naturals only where it is empty and another one ends.
pub(crate) fn signature(now: Signature, before: Option<Signature>, clef: Clef) -> Signs {
    let fifths = i32::from(now.fifths());
    let old = before.map_or(0, |before| i32::from(before.fifths()));
    let (count, glyph) = match (fifths, old) {
        (0, 0) => return Signs::default(),
        (0, old) => (old, &glyph::NATURAL),
        (1.., _) => (fifths, &glyph::SHARP),
        (..=-1, _) => (fifths, &glyph::FLAT),
    };
    let places = places(count > 0, clef);
    let mut signs = Signs::default();
    for place in places.iter().take(count.unsigned_abs() as usize) {
        let x = if signs.marks.is_empty() {
            0
        } else {
            // Flats and sharps fit into each other, naturals don't.
            signs.width + if fifths == 0 { 120 } else { 0 }
        };
        signs.marks.push(Mark::glyph(
            Role::Signature,
            glyph,
            x - glyph.left,
            height(*place),
        ));
        signs.width = x + glyph.width();
    }
    signs
}

fn places(sharp: bool, clef: Clef) -> [i32; 7] {
    let by = match (clef.sign, clef.line) {
        (ClefSign::F, 4) => -2,
        (ClefSign::C, 3) => -1,
        (ClefSign::C, 4) if sharp => return TENOR_SHARPS,
        (ClefSign::C, 4) => 1,
        _ => 0,
    };
    let places = if sharp { SHARPS } else { FLATS };
    places.map(|place| place + by)
}

/// A meter.
pub(crate) fn meter(meter: &Meter) -> Signs {
    let rows = [(meter.upper(), 1000), (meter.lower(), 3000)];
    let rows = rows.map(|(number, y)| (meter_digits(number), y));
    let wide = |digits: &[&Glyph]| digits.iter().map(|digit| digit.advance).sum::<Sp>();
    let width = rows.iter().map(|(digits, _)| wide(digits)).max();
    let width = width.unwrap_or(0);
    let mut signs = Signs {
        marks: Vec::new(),
        width,
    };
    for (digits, y) in rows {
        let mut x = (width - wide(&digits)) / 2;
        for digit in digits {
            signs.marks.push(Mark::glyph(Role::Meter, digit, x, y));
            x += digit.advance;
        }
    }
    signs
}

#[cfg(test)]
mod tests {
    use theory::Instrument;

    use super::*;

    fn heights(signs: &Signs) -> Vec<Sp> {
        let at = |mark: &Mark| match mark.shape {
            crate::mark::Shape::Glyph(_, (_, y)) => y,
            _ => Sp::MAX,
        };
        signs.marks.iter().map(at).collect()
    }

    /// Signatures in the clefs of the catalogue (common practice).
    #[test]
    fn signatures() {
        let check = |instrument: &str, fifths: i16, places: &[i32]| {
            let clef = Instrument::named(instrument).unwrap().clef;
            let signs = signature(Signature::new(fifths).unwrap(), None, clef);
            let expected: Vec<Sp> = places.iter().map(|place| height(*place)).collect();
            assert_eq!(heights(&signs), expected, "{instrument} {fifths}");
        };
        check("flute", 0, &[]);
        check("flute", 3, &[8, 5, 9]);
        check("flute", -7, &[4, 7, 3, 6, 2, 5, 1]);
        check("trombone", 2, &[6, 3]);
        check("trombone", -2, &[2, 5]);
        check("viola", 7, &[7, 4, 8, 5, 2, 6, 3]);
        check("tenor", -1, &[4]);
    }

    #[test]
    fn naturals_only_towards_nothing() {
        let clef = Instrument::named("flute").unwrap().clef;
        let change = |now: i16, before: i16| {
            let [now, before] = [now, before].map(|fifths| Signature::new(fifths).unwrap());
            let signs = signature(now, Some(before), clef);
            let glyph = |mark: &Mark| match mark.shape {
                crate::mark::Shape::Glyph(glyph, _) => glyph.code,
                _ => 0,
            };
            signs.marks.iter().map(glyph).collect::<Vec<_>>()
        };
        assert_eq!(change(0, -2), [0xE261, 0xE261]);
        assert_eq!(change(2, -2), [0xE262, 0xE262]);
        assert_eq!(change(1, 4), [0xE262]);
        assert_eq!(change(0, 0), [0; 0]);
    }
}
