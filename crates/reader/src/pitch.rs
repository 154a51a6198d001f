//! Pitches, roots and alterations as the file writes them.

use rhythm::Fraction;
use theory::{Letter, Pitch, PitchName};

use crate::element::Element;
use crate::shown::shown;
use crate::time::{decimal, integer};

/// A value, with a word on what was guessed for it.
pub(crate) type WithGuess<T> = (T, Option<String>);

/// The most signs that a note may carry.
const MOST_SIGNS: i64 = 2;

/// A note's pitch as it is written.
///
/// # Errors
/// The element at fault, and why.
pub(crate) fn pitch(
    note: &Element,
    pitch: &Element,
) -> Result<WithGuess<Pitch>, (&'static str, String)> {
    let letter = letter(pitch.said("step")).map_err(|why| ("step", why))?;
    let octave = match pitch.said("octave").map(integer) {
        Some(Some(octave @ 0..=9)) => octave,
        Some(_) => {
            let said = pitch.said("octave").unwrap_or_default();
            return Err((
                "octave",
                format!("{} is no octave from 0 to 9", shown(said)),
            ));
        }
        None => return Err(("pitch", "a pitch needs an octave".to_owned())),
    };
    let (alteration, mut guess) = match pitch.said("alter") {
        Some(text) => alteration(text).map_err(|why| ("alter", why))?,
        None => (0, None),
    };
    let printed = note.said("accidental").and_then(sign);
    let mut alteration = alteration;
    if let Some(printed) = printed.filter(|printed| *printed != alteration)
        && guess.is_none()
    {
        let name = |alteration| PitchName::new(letter, alteration).signs();
        if pitch.said("alter").is_none() {
            alteration = printed;
            guess = Some(format!(
                "the note is written with an accidental but without its alteration: {} was taken",
                name(alteration)
            ));
        } else {
            guess = Some(format!(
                "the accidental printed isn't the note's alteration: {} was taken",
                name(alteration)
            ));
        }
    }
    let octave = i16::try_from(octave).unwrap_or(0);
    Ok((Pitch::new(letter, alteration, octave), guess))
}

/// A root or a bass: `step` and `alter` are the names of its elements.
///
/// # Errors
/// The element at fault, and why.
pub(crate) fn name(
    within: &Element,
    step: &'static str,
    alter: &'static str,
) -> Result<WithGuess<PitchName>, (&'static str, String)> {
    let letter = letter(within.said(step)).map_err(|why| (step, why))?;
    let (alteration, guess) = match within.said(alter) {
        Some(text) => alteration(text).map_err(|why| (alter, why))?,
        None => (0, None),
    };
    Ok((PitchName::new(letter, alteration), guess))
}

/// A letter from A to G, in either case.
fn letter(text: Option<&str>) -> Result<Letter, String> {
    let text = text.ok_or("a letter is missing")?;
    let mut letters = text.chars();
    match (letters.next().and_then(Letter::from_char), letters.next()) {
        (Some(letter), None) => Ok(letter),
        _ => Err(format!("{} is no letter from A to G", shown(text))),
    }
}

/// Semitones; `-1.0` is a flat, a quarter tone goes to the semitone nearer to
/// the natural.
pub(crate) fn alteration(text: &str) -> Result<WithGuess<i16>, String> {
    let exact = decimal(text).ok_or_else(|| format!("{} is no alteration", shown(text)))?;
    let whole = if exact >= Fraction::ZERO {
        exact.floor()
    } else {
        exact.ceil()
    };
    let rounded = whole.to_integer();
    if rounded.abs() > MOST_SIGNS {
        return Err(format!("{} is more than a double sign", shown(text)));
    }
    let guess = (whole != exact)
        .then(|| format!("{} isn't whole semitones: {rounded} was taken", shown(text)));
    Ok((i16::try_from(rounded).unwrap_or(0), guess))
}

/// The semitones of a printed accidental, where it has whole ones (MusicXML
/// 4.0 `accidental-value`).
fn sign(text: &str) -> Option<i16> {
    Some(match text {
        "sharp" => 1,
        "natural" => 0,
        "flat" => -1,
        "double-sharp" | "sharp-sharp" => 2,
        "flat-flat" | "double-flat" => -2,
        "natural-sharp" => 1,
        "natural-flat" => -1,
        _ => return None,
    })
}
