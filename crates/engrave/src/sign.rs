//! Signs inside a line of text that no carried font has: they are drawn from
//! the music font's outlines.

use crate::glyph::{self, Glyph};

/// A sign, and how it stands among text.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sign {
    /// Its outline.
    pub(crate) glyph: &'static Glyph,
    /// What a screen reader says.
    pub(crate) name: &'static str,
    /// Size in hundredths of the text around.
    pub(crate) scale: i32,
    /// How far it is lifted off the baseline, in thousandths of the text's size.
    pub(crate) lift: i32,
    /// Room before and after, the same.
    pub(crate) room: [i32; 2],
}

/// Units of an outline to the em, which is four staff spaces.
pub(crate) const EM: i32 = 4000;

impl Sign {
    /// The sign for a character: the double accidentals, and SMuFL's notes for
    /// tempo marks with their dot. None for all that fonts are for.
    pub(crate) fn of(char: char) -> Option<Sign> {
        let (glyph, name, scale, lift, room): Row = match char {
            // The accidentals reach as high as the single ones beside them; the
            // notes are as high as capitals.
            '𝄪' => (&glyph::DOUBLE_SHARP, "double sharp", 112, 235, [35, 35]),
            '𝄫' => (&glyph::DOUBLE_FLAT, "double flat", 106, 166, [30, 20]),
            '\u{ECA0}' => note(&glyph::TEMPO_BREVE, "double whole note"),
            '\u{ECA2}' => note(&glyph::TEMPO_WHOLE, "whole note"),
            '\u{ECA3}' => note(&glyph::TEMPO_HALF, "half note"),
            '\u{ECA5}' => note(&glyph::TEMPO_QUARTER, "quarter note"),
            '\u{ECA7}' => note(&glyph::TEMPO_8, "eighth note"),
            '\u{ECA9}' => note(&glyph::TEMPO_16, "sixteenth note"),
            '\u{ECAB}' => note(&glyph::TEMPO_32, "32nd note"),
            '\u{ECAD}' => note(&glyph::TEMPO_64, "64th note"),
            '\u{ECB7}' => (&glyph::TEMPO_DOT, "dot", 100, 110, [60, 0]),
            _ => return None,
        };
        Some(Sign {
            glyph,
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

/// Outline, name, scale, lift, room.
type Row = (&'static Glyph, &'static str, i32, i32, [i32; 2]);

fn note(glyph: &'static Glyph, name: &'static str) -> Row {
    (glyph, name, 90, 100, [0, 0])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_to_fonts() {
        for char in ['A', '♭', '♯', '♮', '△', '♩', '\u{E050}'] {
            assert!(Sign::of(char).is_none(), "{char}");
        }
    }

    /// 413, 341 and 100 units wide, of a thousand.
    #[test]
    fn advances() {
        let check = |char: char, expected: i32| {
            assert_eq!(Sign::of(char).unwrap().advance(), expected, "{char}");
        };
        check('𝄫', 30 + 437 + 20);
        check('\u{ECA3}', 306);
        check('\u{ECB7}', 60 + 100);
    }
}
