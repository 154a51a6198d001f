//! The kinds of MusicXML 4.0 (`kind-value`) and the tones that the standard
//! gives them. Where it names no tones (the functional sixths, Tristan) they
//! are those of common practice on the chord's own root.

use theory::Degree;

/// The tones of a kind against its root, or nothing for a kind that the
/// standard doesn't know.
pub(crate) fn tones(kind: &str) -> Option<Vec<Degree>> {
    let (_, tones) = KINDS
        .iter()
        .find(|(name, _)| name.eq_ignore_ascii_case(kind))?;
    Some(
        tones
            .iter()
            .map(|(number, alteration)| Degree::new(*number, *alteration))
            .collect(),
    )
}

/// A major triad by its use, in an inversion that the standard leaves open.
pub(crate) const NEAPOLITAN: &str = "Neapolitan";

/// The kind without a chord.
pub(crate) const NONE: &str = "none";

type Tone = (u8, i8);

#[rustfmt::skip] // one kind a line, so that the table reads as a table
static KINDS: &[(&str, &[Tone])] = &[
    ("major", &[(1, 0), (3, 0), (5, 0)]),
    ("minor", &[(1, 0), (3, -1), (5, 0)]),
    ("augmented", &[(1, 0), (3, 0), (5, 1)]),
    ("diminished", &[(1, 0), (3, -1), (5, -1)]),
    ("dominant", &[(1, 0), (3, 0), (5, 0), (7, -1)]),
    ("major-seventh", &[(1, 0), (3, 0), (5, 0), (7, 0)]),
    ("minor-seventh", &[(1, 0), (3, -1), (5, 0), (7, -1)]),
    ("diminished-seventh", &[(1, 0), (3, -1), (5, -1), (7, -2)]),
    ("augmented-seventh", &[(1, 0), (3, 0), (5, 1), (7, -1)]),
    ("half-diminished", &[(1, 0), (3, -1), (5, -1), (7, -1)]),
    ("major-minor", &[(1, 0), (3, -1), (5, 0), (7, 0)]),
    ("major-sixth", &[(1, 0), (3, 0), (5, 0), (6, 0)]),
    ("minor-sixth", &[(1, 0), (3, -1), (5, 0), (6, 0)]),
    ("dominant-ninth", &[(1, 0), (3, 0), (5, 0), (7, -1), (9, 0)]),
    ("major-ninth", &[(1, 0), (3, 0), (5, 0), (7, 0), (9, 0)]),
    ("minor-ninth", &[(1, 0), (3, -1), (5, 0), (7, -1), (9, 0)]),
    ("dominant-11th", &[(1, 0), (3, 0), (5, 0), (7, -1), (9, 0), (11, 0)]),
    ("major-11th", &[(1, 0), (3, 0), (5, 0), (7, 0), (9, 0), (11, 0)]),
    ("minor-11th", &[(1, 0), (3, -1), (5, 0), (7, -1), (9, 0), (11, 0)]),
    ("dominant-13th", &[(1, 0), (3, 0), (5, 0), (7, -1), (9, 0), (11, 0), (13, 0)]),
    ("major-13th", &[(1, 0), (3, 0), (5, 0), (7, 0), (9, 0), (11, 0), (13, 0)]),
    ("minor-13th", &[(1, 0), (3, -1), (5, 0), (7, -1), (9, 0), (11, 0), (13, 0)]),
    ("suspended-second", &[(1, 0), (2, 0), (5, 0)]),
    ("suspended-fourth", &[(1, 0), (4, 0), (5, 0)]),
    (NEAPOLITAN, &[(1, 0), (3, 0), (5, 0)]),
    ("Italian", &[(1, 0), (3, 0), (6, 1)]),
    ("French", &[(1, 0), (3, 0), (4, 1), (6, 1)]),
    ("German", &[(1, 0), (3, 0), (5, 0), (6, 1)]),
    ("pedal", &[(1, 0)]),
    ("power", &[(1, 0), (5, 0)]),
    ("Tristan", &[(1, 0), (4, 1), (6, 1), (9, 1)]),
    ("other", &[(1, 0)]),
    (NONE, &[]),
];

#[cfg(test)]
mod tests {
    use super::*;
    use theory::Chord;

    /// The 33 values of MusicXML 4.0, `kind-value`, in the schema's order
    /// (musicxml.xsd).
    const SCHEMA: &str = "major minor augmented diminished dominant major-seventh \
        minor-seventh diminished-seventh augmented-seventh half-diminished major-minor \
        major-sixth minor-sixth dominant-ninth major-ninth minor-ninth dominant-11th \
        major-11th minor-11th dominant-13th major-13th minor-13th suspended-second \
        suspended-fourth Neapolitan Italian French German pedal power Tristan other none";

    #[test]
    fn every_kind_of_the_standard() {
        let names: Vec<&str> = KINDS.iter().map(|(name, _)| *name).collect();
        assert_eq!(names, SCHEMA.split_whitespace().collect::<Vec<_>>());
    }

    /// Kinds that the catalogue has a row for without any degree sound its
    /// tones, but for those that 11ths and 13ths leave out in practice.
    #[test]
    fn tones_are_the_catalogues() {
        for chord in Chord::catalogue() {
            if !chord.musicxml_degrees().0.is_empty() || chord.bass().is_some() {
                continue;
            }
            let kind = chord.musicxml_kind();
            let of_kind = tones(kind).unwrap();
            let fewer = kind.contains("11th") || kind.contains("13th");
            if fewer {
                assert!(
                    chord.degrees().iter().all(|tone| of_kind.contains(tone)),
                    "{kind}"
                );
            } else {
                assert_eq!(chord.degrees(), of_kind, "{kind}");
            }
        }
    }
}
