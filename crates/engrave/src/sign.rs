//! Signs inside a line of text that no carried font has: they are drawn from
//! the music font's outlines.

use crate::glyph::{EM, Glyph};

/// A sign, and how it stands among text.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sign {
    /// Its outline.
    pub(crate) glyph: Glyph,
    /// What a screen reader says.
    pub(crate) name: &'static str,
    /// Size in hundredths of the text around.
    pub(crate) scale: i32,
    /// How far it is lifted off the baseline, in thousandths of the text's size.
    pub(crate) lift: i32,
    /// Room before and after, the same.
    pub(crate) room: [i32; 2],
}

impl Sign {
    /// The sign for a character: the double accidentals, and SMuFL's notes for
    /// tempo marks with their dot. None for all that fonts are for.
    pub(crate) fn of(char: char) -> Option<Sign> {
        let row = SIGNS.iter().find(|row| row.0 == char)?;
        let &(_, place, name, scale, lift, room) = row;
        Some(Sign {
            glyph: Glyph::at(place)?,
            name,
            scale,
            lift,
            room,
        })
    }

    /// Thousandths of the text's size from its beginning to what follows.
    pub(crate) fn advance(&self) -> i32 {
        let [before, after] = self.room;
        before + self.glyph.advance * 1000 * self.scale / (EM * 100) + after
    }
}

type Row = (char, char, &'static str, i32, i32, [i32; 2]);

/// Character, place in SMuFL, name, scale, lift, room. The accidentals reach
/// as high as the single ones beside them; the notes are as high as capitals.
const SIGNS: [Row; 13] = [
    ('𝄪', '\u{E263}', "double sharp", 112, 235, [35, 35]),
    ('𝄫', '\u{E264}', "double flat", 106, 166, [30, 20]),
    note('\u{ECA0}', "double whole note"),
    note('\u{ECA2}', "whole note"),
    note('\u{ECA3}', "half note"),
    note('\u{ECA5}', "quarter note"),
    note('\u{ECA7}', "eighth note"),
    note('\u{ECA9}', "sixteenth note"),
    note('\u{ECAB}', "32nd note"),
    note('\u{ECAD}', "64th note"),
    note('\u{ECAF}', "128th note"),
    note('\u{ECB1}', "256th note"),
    ('\u{ECB7}', '\u{ECB7}', "dot", 100, 110, [60, 0]),
];

const fn note(place: char, name: &'static str) -> Row {
    (place, place, name, 90, 100, [0, 0])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_has_an_outline() {
        for row in SIGNS {
            assert!(Sign::of(row.0).is_some(), "{}", row.2);
        }
    }

    #[test]
    fn what_is_left_to_fonts() {
        for char in ['A', '♭', '♯', '♮', '△', '♩', '\u{E050}'] {
            assert!(Sign::of(char).is_none(), "{char}");
        }
    }

    /// 314 units and 388 units wide, of a thousand.
    #[test]
    fn advances() {
        let check = |char: char, expected: i32| {
            assert_eq!(Sign::of(char).unwrap().advance(), expected, "{char}");
        };
        check('𝄫', 30 + 411 + 20);
        check('\u{ECA3}', 279);
        check('\u{ECB7}', 60 + 97);
    }
}
