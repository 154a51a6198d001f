//! A line of text taken apart into pieces of one font each, and signs that are
//! drawn.

use std::borrow::Cow;

use crate::fonts::{CarriedFont, FAMILY, Style};
use crate::sign::Sign;

/// What a line is set from.
pub(crate) enum Piece<'a> {
    Text(Stretch<'a>),
    Sign(Sign),
}

/// Text in one font.
pub(crate) struct Stretch<'a> {
    pub(crate) font: &'static CarriedFont,
    /// Owned only where it goes on from one style's text into the next.
    pub(crate) text: Cow<'a, str>,
    /// How far it is lifted off the baseline.
    pub(crate) lift: i32,
    /// Whether it is read from the right.
    leftward: bool,
}

impl Piece<'_> {
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
            Piece::Text(stretch) => stretch.text.to_string(),
            Piece::Sign(sign) => format!(" {}", sign.name),
        }
    }
}

pub(crate) fn pieces<T: AsRef<str>>(stretches: &[(Style, T)], size: i32) -> Vec<Piece<'_>> {
    let mut pieces: Vec<Piece<'_>> = Vec::with_capacity(stretches.len());
    for (style, text) in stretches {
        let text = text.as_ref();
        if let Some(plain) = plain(*style, text, pieces.last()) {
            pieces.push(plain);
            continue;
        }
        // Where the last piece begins in this text, if it does.
        let mut begun = None;
        for (at, char) in text.char_indices() {
            if let Some(sign) = Sign::of(char) {
                pieces.push(Piece::Sign(sign));
                continue;
            }
            let Some(font) = font(char, *style, pieces.last()) else {
                begun = None;
                continue;
            };
            let lift = lift(char, font, size);
            let end = at + char.len_utf8();
            match pieces.last_mut() {
                Some(Piece::Text(last))
                    if std::ptr::eq(last.font, font)
                        && last.lift == lift
                        && goes_on(char, last.leftward) =>
                {
                    match begun {
                        Some(from) => last.text = Cow::Borrowed(&text[from..end]),
                        None => last.text.to_mut().push(char),
                    }
                }
                _ => {
                    begun = Some(at);
                    pieces.push(Piece::Text(Stretch {
                        font,
                        text: Cow::Borrowed(&text[at..end]),
                        lift,
                        leftward: is_leftward(char),
                    }));
                }
            }
        }
    }
    pieces
}

/// A text of nothing but what the style's own font has, where no piece goes on
/// into it: nearly all there is.
fn plain<'a>(style: Style, text: &'a str, before: Option<&Piece<'_>>) -> Option<Piece<'a>> {
    let all = text.bytes().all(|byte| matches!(byte, b' '..=b'~'));
    if text.is_empty() || !all || matches!(before, Some(Piece::Text(_))) {
        return None;
    }
    Some(Piece::Text(Stretch {
        font: CarriedFont::of(style)?,
        text: Cow::Borrowed(text),
        lift: 0,
        leftward: false,
    }))
}

/// How wide a text is of nothing but what the style's own font has.
pub(crate) fn plain_width(style: Style, text: &str, size: i32) -> Option<i32> {
    plain(style, text, None).map(|piece| piece.width(size))
}

pub(crate) fn width_of(pieces: &[Piece<'_>], size: i32) -> i32 {
    pieces
        .iter()
        .map(|piece| piece.width(size))
        .fold(0, i32::saturating_add)
}

/// Sharps and naturals are cut to hang below the baseline; among text they
/// stand in the middle of the capitals.
fn lift(char: char, font: &CarriedFont, size: i32) -> i32 {
    match char {
        '♯' | '♮' if font.file.family != FAMILY => size / 11,
        _ => 0,
    }
}

/// The font for a character: what is put on top of another goes with it; what
/// no font has is left as the style's empty box.
fn font(char: char, style: Style, before: Option<&Piece<'_>>) -> Option<&'static CarriedFont> {
    if let Some(Piece::Text(Stretch { font, .. })) = before
        && is_mark(char)
        && font.has(char)
    {
        return Some(font);
    }
    CarriedFont::with(char, style).or_else(|| CarriedFont::of(style))
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
