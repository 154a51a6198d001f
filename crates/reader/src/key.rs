//! Keys and transpositions as the file writes them.

use lesson::Home;
use theory::{Interval, KeySignature, Mode, PitchName, Scale, Signature};

use crate::element::Element;
use crate::pitch::alteration;
use crate::shown::shown;
use crate::time::integer;

/// A key as it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Key {
    pub fifths: i16,
    pub mode: Option<Mode>,
    /// The mode that is stated: its scale, and its tonic's place above the
    /// signature's on the line of fifths.
    pub stated: Option<(&'static str, i16)>,
}

/// The standard's modes that are scales (MusicXML 4.0, `mode`), as in
/// [`Key::stated`].
const MODES: [(&str, &str, i16); 9] = [
    ("major", "major", 0),
    ("ionian", "major", 0),
    ("minor", "natural-minor", 3),
    ("aeolian", "natural-minor", 3),
    ("dorian", "dorian", 2),
    ("phrygian", "phrygian", 4),
    ("lydian", "lydian", -1),
    ("mixolydian", "mixolydian", 1),
    ("locrian", "locrian", 5),
];

impl Key {
    /// The key an interval away, if there is a signature for it.
    pub fn moved(self, by: Interval) -> Option<KeySignature> {
        Some(KeySignature {
            signature: Signature::new(self.fifths + by.fifths())?,
            mode: self.mode,
        })
    }

    /// The interval, or the next name of the same sound where it would give the
    /// key no signature.
    pub fn fitting(self, by: Interval) -> Interval {
        // No signs may be no key at all: nothing is respelled for that.
        if self.fifths == 0 || self.moved(by).is_some() {
            return by;
        }
        let respelled = [12, -12].map(|fifths| {
            Interval::from_coordinates(by.fifths() + fifths, by.octaves() - fifths / 12 * 7)
        });
        let fits = |other: &Interval| self.moved(*other).is_some();
        respelled.into_iter().find(fits).unwrap_or(by)
    }

    /// The tonic and scale that are stated, an interval away.
    pub fn home(self, by: Interval) -> Option<Home> {
        let (scale, above) = self.stated?;
        Some(Home {
            tonic: PitchName::from_fifths(self.fifths + above) + by,
            scale: Scale::named(scale).ok()?,
        })
    }
}

/// A key, or none with a word why.
pub(crate) fn key(key: &Element) -> Result<Key, String> {
    let Some(text) = key.said("fifths") else {
        return Err("a signature of single signs was left out".to_owned());
    };
    let fifths = integer(text)
        .filter(|fifths| (-7..=7).contains(fifths))
        .and_then(|fifths| i16::try_from(fifths).ok())
        .ok_or_else(|| {
            format!(
                "{} is no signature of up to 7 signs: it was left out",
                shown(text)
            )
        })?;
    let stated = key.said("mode").and_then(|said| {
        let of_name = |(name, ..): &&(&str, &str, i16)| name.eq_ignore_ascii_case(said);
        MODES.iter().find(of_name)
    });
    Ok(Key {
        fifths,
        mode: match stated {
            Some(("major", ..)) => Some(Mode::Major),
            Some(("minor", ..)) => Some(Mode::Minor),
            _ => None,
        },
        stated: stated.map(|(_, scale, above)| (*scale, *above)),
    })
}

/// What to add to a written pitch, with a word on what was guessed for it.
///
/// # Errors
/// The element at fault, and why.
pub(crate) fn transpose(
    element: &Element,
) -> Result<(Interval, Option<String>), (&'static str, String)> {
    let whole = |name: &'static str, most: i64| match element.said(name) {
        None => Ok(None),
        Some(text) => integer(text)
            .filter(|number| number.abs() <= most)
            .and_then(|number| i16::try_from(number).ok())
            .map(Some)
            .ok_or_else(|| {
                (
                    name,
                    format!("{} is no number of up to {most}", shown(text)),
                )
            }),
    };
    let mut guess = None;
    let chromatic = match element.said("chromatic") {
        Some(text) if integer(text).is_none() => {
            let (semitones, rounded) = alteration(text).map_err(|why| ("chromatic", why))?;
            guess = rounded;
            Some(semitones)
        }
        _ => whole("chromatic", 48)?,
    };
    let diatonic = whole("diatonic", 28)?;
    let octaves = whole("octave-change", 4)?.unwrap_or(0);
    let Some(chromatic) = chromatic else {
        return Err((
            "transpose",
            "a transposition needs its semitones (chromatic)".to_owned(),
        ));
    };
    let likely = likely_steps(chromatic);
    let letters = match diatonic {
        Some(steps) if Interval::from_steps(steps, chromatic).fifths().abs() <= MOST_FIFTHS => {
            steps
        }
        Some(_) => {
            guess = Some("the letters of the transposition don't fit its semitones".to_owned());
            likely
        }
        None => {
            if chromatic % 12 != 0 {
                guess = Some(format!(
                    "the transposition of {chromatic} semitones says no letters: {likely} was taken"
                ));
            }
            likely
        }
    };
    let steps = letters + 7 * octaves;
    Ok((Interval::from_steps(steps, chromatic + 12 * octaves), guess))
}

/// The farthest a transposition's letters may lie from its semitones: a
/// diminished third (concert B on a B flat horn, written D flat) is 10.
const MOST_FIFTHS: i16 = 12;

/// The letters that a number of semitones usually has.
fn likely_steps(chromatic: i16) -> i16 {
    const STEPS: [i16; 12] = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6];
    let size = chromatic.unsigned_abs();
    let within = STEPS[usize::from(size % 12)];
    let octaves = i16::try_from(size / 12).unwrap_or(0);
    chromatic.signum() * (within + 7 * octaves)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_the_usual_transpositions() {
        // B flat, E flat, F, A and octave instruments (common practice).
        for (chromatic, steps) in [
            (-2, -1),
            (-9, -5),
            (-7, -4),
            (-3, -2),
            (3, 2),
            (-14, -8),
            (12, 7),
            (0, 0),
            (-21, -12),
        ] {
            assert_eq!(likely_steps(chromatic), steps, "{chromatic}");
        }
    }
}
