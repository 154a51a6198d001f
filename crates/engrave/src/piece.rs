//! A line of text taken apart into pieces of one font each, and signs that are
//! drawn.

use crate::fonts::{Carried, FAMILY, Style};
use crate::sign::Sign;

/// What a line is set from.
pub(crate) enum Piece {
    Text(Stretch),
    Sign(Sign),
}

/// Text in one font.
pub(crate) struct Stretch {
    pub(crate) font: &'static Carried,
    pub(crate) text: String,
    /// How far it is lifted off the baseline.
    pub(crate) lift: i32,
    /// Whether it is read from the right.
    leftward: bool,
}

impl Piece {
    pub(crate) fn width(&self, size: i32) -> i32 {
        match self {
            Piece::Text(stretch) => stretch.font.width(&stretch.text, size),
            Piece::Sign(sign) => {
                let width = i64::from(sign.advance()) * i64::from(size) / 1000;
                i32::try_from(width).unwrap_or(i32::MAX)
            }
        }
    }

    pub(crate) fn spoken(&self) -> String {
        match self {
            Piece::Text(stretch) => stretch.text.clone(),
            Piece::Sign(sign) => format!(" {}", sign.name),
        }
    }
}

pub(crate) fn pieces(stretches: &[(Style, String)], size: i32) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::with_capacity(stretches.len());
    for (style, text) in stretches {
        for char in text.chars() {
            if let Some(sign) = Sign::of(char) {
                pieces.push(Piece::Sign(sign));
                continue;
            }
            let Some(font) = font(char, *style, pieces.last()) else {
                continue;
            };
            let lift = lift(char, font, size);
            match pieces.last_mut() {
                Some(Piece::Text(last))
                    if std::ptr::eq(last.font, font)
                        && last.lift == lift
                        && goes_on(char, last.leftward) =>
                {
                    last.text.push(char);
                }
                _ => pieces.push(Piece::Text(Stretch {
                    font,
                    text: char.to_string(),
                    lift,
                    leftward: is_leftward(char),
                })),
            }
        }
    }
    pieces
}

pub(crate) fn width_of(pieces: &[Piece], size: i32) -> i32 {
    pieces
        .iter()
        .map(|piece| piece.width(size))
        .fold(0, i32::saturating_add)
}

/// Sharps and naturals are cut to hang below the baseline; among text they
/// stand in the middle of the capitals.
fn lift(char: char, font: &Carried, size: i32) -> i32 {
    match char {
        '♯' | '♮' if font.file.family != FAMILY => size / 11,
        _ => 0,
    }
}

/// The font for a character: what is put on top of another goes with it; what
/// no font has is left as the style's empty box.
fn font(char: char, style: Style, before: Option<&Piece>) -> Option<&'static Carried> {
    if let Some(Piece::Text(Stretch { font, .. })) = before
        && is_mark(char)
        && font.has(char)
    {
        return Some(font);
    }
    Carried::with(char, style).or_else(|| Carried::of(style))
}

/// Whether a character is set in the direction of what stands before it.
fn goes_on(char: char, leftward: bool) -> bool {
    is_leftward(char) == leftward || is_mark(char) || (leftward && char == ' ')
}

/// Hebrew, Arabic and their kin (Unicode's blocks of them).
fn is_leftward(char: char) -> bool {
    matches!(char, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{feff}')
}

/// Combining marks (Unicode's blocks of them).
fn is_mark(char: char) -> bool {
    matches!(char, '\u{300}'..='\u{36f}' | '\u{1ab0}'..='\u{1aff}' | '\u{1dc0}'..='\u{1dff}' | '\u{20d0}'..='\u{20ff}' | '\u{fe20}'..='\u{fe2f}')
}
