//! Scales: a name, its degrees, and the chord it is at home on.

use std::borrow::Cow;

use crate::scale_table::{SCALES, ScaleRow};
use crate::{Chord, Degree};

/// A scale of a lesson: from the catalogue or given by its degrees.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scale {
    /// Its id in the catalogue, when it has one there.
    pub id: Option<Cow<'static, str>>,
    /// What it is called on the page.
    pub name: Cow<'static, str>,
    /// Degrees upward from the root.
    pub degrees: Vec<Degree>,
    /// Degrees upward of the form used coming down, where it differs; always
    /// as many as `degrees`.
    pub descending: Option<Vec<Degree>>,
    /// The first chord it fits without a gap, or none.
    pub chord: Option<Chord>,
}

impl Scale {
    /// Every scale of the catalogue, in the order they are listed.
    pub fn catalogue() -> Vec<Scale> {
        SCALES.iter().map(Scale::from_row).collect()
    }

    /// By its degrees, root first and rising; the chord is that of the
    /// catalogue's row with the same formula, else none.
    ///
    /// # Errors
    /// A sentence that says what is wrong: not beginning with 1, not rising,
    /// a number past 7, fewer than three notes (the caller places it).
    pub fn from_degrees(degrees: &[Degree]) -> Result<Scale, String> {
        if degrees.first() != Some(&Degree::ROOT) {
            return Err("a scale begins with 1, its root".to_owned());
        }
        for degree in degrees {
            if !(1..=7).contains(&degree.number) {
                return Err(format!(
                    "{degree} is not in a scale: its degrees are numbered 1 to 7"
                ));
            }
            if degree.alteration.unsigned_abs() > 2 {
                return Err(format!("{degree} has more than a double accidental"));
            }
            if degree.interval().semitones() >= 12 {
                return Err(format!("{degree} reaches the next root"));
            }
        }
        for pair in degrees.windows(2) {
            if pair[0].interval().semitones() >= pair[1].interval().semitones() {
                return Err(format!(
                    "the degrees of a scale rise, but {} is not higher than {}",
                    pair[1], pair[0]
                ));
            }
        }
        if degrees.len() < 3 {
            return Err("a scale has at least three notes".to_owned());
        }
        let name: Vec<String> = degrees.iter().map(|degree| degree.signs()).collect();
        let row = SCALES.iter().find(|row| row.degrees == degrees);
        Ok(Scale {
            id: None,
            name: name.join(" ").into(),
            degrees: degrees.to_vec(),
            descending: None,
            chord: row.and_then(|row| Scale::from_row(row).chord),
        })
    }

    /// All degrees of both forms.
    pub fn all_degrees(&self) -> impl Iterator<Item = Degree> + '_ {
        self.degrees
            .iter()
            .chain(self.descending.iter().flatten())
            .copied()
    }

    /// Whether either form has a degree.
    pub(crate) fn has(&self, degree: Degree) -> bool {
        self.all_degrees().any(|d| d == degree)
    }

    /// Whether these are its degrees, up and down.
    pub(crate) fn has_only(&self, degrees: &[Degree]) -> bool {
        self.degrees == degrees
            && self
                .descending
                .as_deref()
                .is_none_or(|falling| falling == degrees)
    }

    pub(crate) fn from_row(row: &ScaleRow) -> Scale {
        Scale {
            id: Some(row.id.into()),
            name: row.name.into(),
            degrees: row.degrees.to_vec(),
            descending: row.descending.map(<[Degree]>::to_vec),
            chord: row.chord.and_then(Chord::with_id),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_holds_its_chord_in_both_forms() {
        let class = |degree: &Degree| degree.interval().semitones() % 12;
        for row in SCALES {
            let scale = Scale::from_row(row);
            assert_eq!(scale.chord.as_ref().map(Chord::id), row.chord, "{}", row.id);
            for form in [Some(&scale.degrees), scale.descending.as_ref()] {
                let sounds: Vec<i16> = form.into_iter().flatten().map(class).collect();
                let tones = scale.chord.iter().flat_map(Chord::degrees);
                let missing = tones.filter(|tone| form.is_some() && !sounds.contains(&class(tone)));
                assert_eq!(missing.count(), 0, "{} lacks a tone of its chord", row.id);
            }
        }
    }

    /// Up and down, where it comes down otherwise.
    #[test]
    fn has_only_its_own_degrees() {
        let major = Scale::named("major").unwrap();
        let coming_down = |name: &str| Scale {
            descending: Some(Scale::named(name).unwrap().degrees),
            ..major.clone()
        };
        assert!(major.has_only(&major.degrees));
        assert!(coming_down("major").has_only(&major.degrees));
        assert!(!coming_down("mixolydian").has_only(&major.degrees));
        assert!(!Scale::named("mixolydian").unwrap().has_only(&major.degrees));
    }

    #[test]
    fn given_by_degrees() {
        let read = |text: &str| {
            let degrees: Vec<Degree> = text
                .split_whitespace()
                .map(|word| word.parse().unwrap())
                .collect();
            Scale::from_degrees(&degrees)
        };
        let check = |text: &str, name: &str, chord: Option<&str>| {
            let scale = read(text).unwrap();
            assert_eq!(
                (scale.name.as_ref(), scale.chord.as_ref().map(Chord::id)),
                (name, chord)
            );
            assert_eq!((scale.id, scale.descending), (None, None));
        };
        check("1 2 3 #4 5 6 b7", "1 2 3 ♯4 5 6 ♭7", Some("7#11"));
        check("1 2 b3 4 5 6 7", "1 2 ♭3 4 5 6 7", Some("m(maj7)"));
        check("1 3 5", "1 3 5", None);
        // With a double flat, as every diminished seventh has one.
        let altered = read("1 b2 b3 b4 b5 b6 bb7").unwrap();
        assert_eq!(altered.chord.as_ref().map(Chord::id), Some("dim7"));
        let tripled = Scale::from_degrees(&[Degree::ROOT, Degree::new(2, 0), Degree::new(4, 3)]);
        assert_eq!(
            tripled.unwrap_err(),
            "###4 has more than a double accidental"
        );
        let fault =
            |text: &str, expected: &str| assert_eq!(read(text).unwrap_err(), expected, "{text}");
        fault("", "a scale begins with 1, its root");
        fault("b1 2 3", "a scale begins with 1, its root");
        fault("2 3 4", "a scale begins with 1, its root");
        fault("1 3", "a scale has at least three notes");
        fault(
            "1 3 2",
            "the degrees of a scale rise, but 2 is not higher than 3",
        );
        fault(
            "1 b3 #2",
            "the degrees of a scale rise, but #2 is not higher than b3",
        );
        fault(
            "1 3 9",
            "9 is not in a scale: its degrees are numbered 1 to 7",
        );
        fault("1 3 #7", "#7 reaches the next root");
    }
}
