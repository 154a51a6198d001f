//! A scale with notes borrowed into it: C major with a sharp 4, for a phrase
//! that no named scale of its key holds.

use theory::{Degree, Pitch, PitchName, Scale};

use crate::evidence::classes;

/// The most notes of which every choice is tried.
const MOST_CHOICES: usize = 6;

/// The scale and some of the phrase's notes that it lacks, every choice of
/// them, fewest first; each with the degrees borrowed, as the phrase spells
/// them.
pub(crate) fn with_borrowed(
    scale: &Scale,
    root: PitchName,
    pitches: &[Pitch],
) -> Vec<(Scale, Vec<Degree>)> {
    let own = classes(scale, root);
    let mut outside: Vec<PitchName> = Vec::new();
    for pitch in pitches {
        let name = pitch.name();
        let known = own[usize::from(name.class())]
            || outside.iter().any(|other| other.class() == name.class());
        if !known {
            outside.push(name);
        }
    }
    let count = outside.len();
    let choices: Vec<u32> = if count <= MOST_CHOICES {
        (1..1u32 << count).collect()
    } else {
        vec![u32::MAX]
    };
    let chosen = |choice: u32| {
        let some = outside
            .iter()
            .enumerate()
            .filter(|(at, _)| choice & (1 << at) != 0);
        let borrowed: Vec<Degree> = some.map(|(_, name)| degree(root, *name)).collect();
        let mut degrees = scale.degrees.clone();
        degrees.extend(&borrowed);
        degrees.sort_by_key(|degree| degree.interval().semitones());
        Some((Scale::from_degrees(&degrees).ok()?, borrowed))
    };
    choices.into_iter().filter_map(chosen).collect()
}

/// A note against a root, as it is spelled; where that is none a scale can
/// have, as it is mostly called.
fn degree(root: PitchName, name: PitchName) -> Degree {
    const USUAL: [(u8, i8); 12] = [
        (1, 0),
        (2, -1),
        (2, 0),
        (3, -1),
        (3, 0),
        (4, 0),
        (4, 1),
        (5, 0),
        (6, -1),
        (6, 0),
        (7, -1),
        (7, 0),
    ];
    let as_spelled = (1..=7).flat_map(|number| (-2..=2).map(move |by| Degree::new(number, by)));
    let semitones = usize::from((name.class() + 12 - root.class()) % 12);
    let (number, alteration) = USUAL[semitones];
    as_spelled
        .filter(|degree| (1..12).contains(&degree.interval().semitones()))
        .find(|degree| root + degree.interval() == name)
        .unwrap_or(Degree::new(number, alteration))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The degrees of the last choice, which has all that is borrowed.
    fn check(root: &str, pitches: &str, choices: usize, expected: &str) {
        let pitches: Vec<Pitch> = pitches
            .split_whitespace()
            .map(|pitch| pitch.parse().unwrap())
            .collect();
        let major = Scale::named("major").unwrap();
        let found = with_borrowed(&major, root.parse().unwrap(), &pitches);
        assert_eq!(found.len(), choices);
        let last = found.last().map_or(String::new(), |(scale, _)| {
            let degrees: Vec<String> = scale.degrees.iter().map(ToString::to_string).collect();
            degrees.join(" ")
        });
        assert_eq!(last, expected);
    }

    #[test]
    fn as_the_phrase_spells_them() {
        check("C", "C5 D5 G5", 0, "");
        check("C", "C5 F#5 A5", 1, "1 2 3 4 #4 5 6 7");
        check("C", "C5 Gb5 A5", 1, "1 2 3 4 b5 5 6 7");
        check("Bb", "Ab4 E5 Ab5", 3, "1 2 3 4 #4 5 6 b7 7");
        check(
            "C",
            "Db5 Eb5 F#5 Ab5 Bb5",
            31,
            "1 b2 2 b3 3 4 #4 5 b6 6 b7 7",
        );
    }
}
