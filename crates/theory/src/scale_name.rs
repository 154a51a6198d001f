//! Scales by their names, alone and after a root.

use std::sync::LazyLock;

use crate::name::{Index, words};
use crate::pitch::read_name;
use crate::scale_table::{SCALES, ScaleRow};
use crate::{NameError, PitchName, Scale};

impl Scale {
    /// The names that also find it, besides id and name.
    pub fn aliases(&self) -> Vec<&'static str> {
        let row = SCALES.iter().find(|row| self.id.as_deref() == Some(row.id));
        row.map_or_else(Vec::new, |row| row.aliases.to_vec())
    }

    /// By id, name or alias.
    ///
    /// # Errors
    /// A name that no scale has, with near misses, or that several have.
    pub fn named(text: &str) -> Result<Scale, NameError> {
        let full = |rows: Vec<usize>| {
            rows.into_iter()
                .map(|row| SCALES[row].name.to_owned())
                .collect()
        };
        let mut rows = INDEX.rows(text);
        if rows.is_empty()
            && let Some(short) = without_the_word_scale(text)
        {
            rows = INDEX.rows(&short);
        }
        match rows[..] {
            [row] => return Ok(Scale::from_row(&SCALES[row])),
            [] => {}
            _ => return Err(NameError::several(text, full(rows))),
        }
        let family = family(text);
        if family.len() > 1 {
            return Err(NameError::several(text, full(family)));
        }
        Err(NameError::unknown(text, INDEX.near(text)))
    }

    /// A root and a scale said together: `Gb lydian dominant`.
    ///
    /// # Errors
    /// As [`Scale::named`]; a missing root or scale counts as an unknown name.
    pub fn with_root(text: &str) -> Result<(PitchName, Scale), NameError> {
        match read_root(text.trim()) {
            Some((root, "")) => {
                return Err(NameError::unknown(text, vec![format!("{root} major")]));
            }
            Some((root, rest)) => return Ok((root, Scale::named(rest)?)),
            None => {}
        }
        let near = match Scale::named(text) {
            Ok(scale) => vec![format!(
                "C {}",
                scale.id.as_deref().unwrap_or_default().replace('-', " ")
            )],
            Err(_) => INDEX
                .near(text)
                .into_iter()
                .map(|name| format!("C {name}"))
                .collect(),
        };
        Err(NameError::unknown(text, near))
    }
}

static INDEX: LazyLock<Index> = LazyLock::new(|| {
    let names = |(row, scale): (usize, &'static ScaleRow)| {
        let names = [scale.id, scale.name]
            .into_iter()
            .chain(scale.aliases.iter().copied());
        names.map(move |name| (row, name))
    };
    Index::new(SCALES.iter().enumerate().flat_map(names), false)
});

fn without_the_word_scale(text: &str) -> Option<String> {
    let mut words = words(text);
    words
        .pop()
        .filter(|last| last == "scale" || last == "mode")?;
    Some(words.join(" "))
}

/// The rows whose name, what is in brackets left out, ends with these words
/// (`minor`), or if none does, begins with them (`harmonic`).
fn family(text: &str) -> Vec<usize> {
    let said: Vec<String> = words(text)
        .into_iter()
        .filter(|word| word != "scale" && word != "mode")
        .collect();
    if said.is_empty() {
        return Vec::new();
    }
    let rows = |belongs: fn(&[String], &[String]) -> bool| {
        let named = SCALES.iter().enumerate().filter(|(_, row)| {
            let bare = row.name.split('(').next().unwrap_or_default();
            belongs(&words(bare), &said)
        });
        named.map(|(row, _)| row).collect::<Vec<usize>>()
    };
    let ending = rows(|name, said| name.ends_with(said));
    if ending.is_empty() {
        rows(|name, said| name.starts_with(said))
    } else {
        ending
    }
}

/// A root before a scale's name, and the name.
fn read_root(text: &str) -> Option<(PitchName, &str)> {
    let (root, rest) = read_name(text)?;
    let rest = match rest.strip_prefix([' ', '-']) {
        Some(rest) => rest.trim_start(),
        None if rest.is_empty() => rest,
        None => return None,
    };
    for (word, fifths) in [("flat", -7), ("sharp", 7)] {
        if let Some(start) = rest.get(..word.len())
            && start.eq_ignore_ascii_case(word)
            && let Some(name) = rest[word.len()..].strip_prefix([' ', '-'])
            && root.alteration() == 0
            && !name.starts_with(|c: char| c.is_ascii_digit())
        {
            return Some((PitchName::from_fifths(root.fifths() + fifths), name));
        }
    }
    Some((root, rest))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::NameFault;

    fn check(typed: &str, id: &str) {
        assert_eq!(
            Scale::named(typed).unwrap().id.as_deref(),
            Some(id),
            "{typed}"
        );
    }

    #[test]
    fn names_that_teachers_type() {
        check("Dorian", "dorian");
        check("ionian", "major");
        check("AEOLIAN", "natural-minor");
        check("jazz minor", "melodic-minor");
        check("melodic minor", "melodic-minor");
        check("classical melodic minor", "melodic-minor-classical");
        check("melodic minor classical", "melodic-minor-classical");
        check("blues", "blues");
        check("blues scale", "blues");
        check("whole tone", "whole-tone");
        check("Whole-Tone", "whole-tone");
        check("wholetone", "whole-tone");
        check("whole tone scale", "whole-tone");
        check("half-whole diminished", "diminished-half-whole");
        check("half whole", "diminished-half-whole");
        check("diminished (whole-half)", "diminished-whole-half");
        check("lydian b7", "lydian-dominant");
        check("mixolydian ♭9 ♭13", "phrygian-dominant");
        check("dorian b2", "dorian-flat-2");
        check("dorian flat 2", "dorian-flat-2");
        check("Dorian ♭2", "dorian-flat-2");
        check("ionian #5", "ionian-sharp-5");
        check("ionian sharp 5", "ionian-sharp-5");
        check("locrian bb7", "locrian-double-flat-7");
        check("major pentatonic", "major-pentatonic");
        check("pentatonic", "major-pentatonic");
        check("flat 6 pentatonic", "major-flat-6-pentatonic");
        check("bebop", "bebop-dominant");
        check("in scale", "in-scale");
        check("tritone", "tritone");
        check("Messiaen mode 3", "messiaen-3");
    }

    /// What is listed beside a name finds the same scale, or it among those
    /// that are called so (octatonic).
    #[test]
    fn other_names() {
        for scale in Scale::catalogue() {
            for alias in scale.aliases() {
                match Scale::named(alias) {
                    Ok(found) => assert_eq!(found, scale, "{alias}"),
                    Err(error) => assert!(
                        matches!(&error.fault, NameFault::Several(names) if names.contains(&scale.name.to_string())),
                        "{alias}: {error}"
                    ),
                }
            }
        }
        let major = Scale::named("major").unwrap();
        assert_eq!(major.aliases(), ["Ionian"]);
        let own = Scale { id: None, ..major };
        assert!(own.aliases().is_empty());
    }

    fn check_fault(typed: &str, expected: NameFault) {
        assert_eq!(
            Scale::named(typed).unwrap_err(),
            NameError {
                typed: typed.trim().to_owned(),
                fault: expected
            }
        );
    }

    fn list(names: &[&str]) -> Vec<String> {
        names.iter().map(|&name| name.to_owned()).collect()
    }

    #[test]
    fn family_words_are_refused_with_the_list() {
        let several =
            |typed: &str, names: &[&str]| check_fault(typed, NameFault::Several(list(names)));
        several(
            "diminished",
            &["Diminished (whole-half)", "Diminished (half-whole)"],
        );
        several(
            "octatonic",
            &["Diminished (whole-half)", "Diminished (half-whole)"],
        );
        several("harmonic", &["Harmonic minor", "Harmonic major"]);
        let minor = Scale::named("minor").unwrap_err();
        let NameFault::Several(names) = minor.fault else {
            panic!("{minor:?}")
        };
        for name in [
            "Natural minor",
            "Harmonic minor",
            "Melodic minor",
            "Melodic minor (classical)",
        ] {
            assert!(names.contains(&name.to_owned()), "{name} in {names:?}");
        }
    }

    #[test]
    fn near_misses() {
        let near =
            |typed: &str, names: &[&str]| check_fault(typed, NameFault::Unknown(list(names)));
        near("dorain", &["dorian"]);
        near("mixolidian", &["mixolydian"]);
        near("lydian dominent", &["lydian dominant"]);
        near("aeolain", &["Aeolian"]);
        near("xyzzy", &[]);
        near("", &[]);
        near("♭", &[]);
        near("scale", &[]);
    }

    #[test]
    fn a_root_before_the_name() {
        let check = |typed: &str, root: &str, id: &str| {
            let (name, scale) = Scale::with_root(typed).unwrap();
            assert_eq!(
                (name.to_string().as_str(), scale.id.as_deref()),
                (root, Some(id)),
                "{typed}"
            );
        };
        check("Gb lydian dominant", "Gb", "lydian-dominant");
        check("G♭ major", "Gb", "major");
        check("g-flat major", "Gb", "major");
        check("B flat dorian b2", "Bb", "dorian-flat-2");
        check("F sharp minor pentatonic", "F#", "minor-pentatonic");
        check("a minor pentatonic", "A", "minor-pentatonic");
        check("B bebop", "B", "bebop-dominant");
        check("Bb-bebop", "Bb", "bebop-dominant");
        check("A flat 6 pentatonic", "A", "major-flat-6-pentatonic");
        check("  C   major ", "C", "major");
    }

    #[test]
    fn a_missing_root_is_said() {
        let check = |typed: &str, near: &[&str]| {
            let error = Scale::with_root(typed).unwrap_err();
            assert_eq!(error, NameError::unknown(typed, list(near)));
        };
        check("dorian", &["C dorian"]);
        check("dorain", &["C dorian"]);
        check("blues", &["C blues"]);
        check("", &[]);
        check("C", &["C major"]);
        assert_eq!(
            Scale::with_root("C dorain").unwrap_err(),
            NameError::unknown("dorain", list(&["dorian"]))
        );
        assert!(matches!(
            Scale::with_root("C minor").unwrap_err().fault,
            NameFault::Several(_)
        ));
    }
}
