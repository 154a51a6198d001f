//! Chord kinds: what a chord is, without its root.

use std::sync::LazyLock;

use crate::chord_spelling::plain;
use crate::chord_table::{CHORDS, ChordRow};
use crate::{ChordDegree, Degree, NameError};

/// What a chord is, without its root: `7(#11)`, `m7b5`, `maj7`, `N.C.`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chord {
    row: usize,
}

impl Chord {
    /// Every chord kind of the catalogue, in the order they are listed.
    pub fn catalogue() -> Vec<Chord> {
        (0..CHORDS.len()).map(|row| Chord { row }).collect()
    }

    /// A kind as it stands after the root: `7(#11)`, `M7` (not `m7`), `△`.
    ///
    /// # Errors
    /// What was typed, with near misses.
    pub fn parse(text: &str) -> Result<Chord, NameError> {
        Chord::read(text).ok_or_else(|| NameError::unknown(text, near(text)))
    }

    /// Its third, if it has one.
    pub fn third(&self) -> Option<Degree> {
        let third = |degree: &&Degree| degree.number == 3;
        self.degrees().iter().find(third).copied()
    }

    /// Its id in the catalogue.
    pub fn id(&self) -> &'static str {
        self.table_row().id
    }

    /// As it is printed after a root: `7(#11)`; empty for a plain major triad.
    pub fn suffix(&self) -> &'static str {
        self.table_row().suffix
    }

    /// Its tones against the root; empty for N.C.
    pub fn degrees(&self) -> &'static [Degree] {
        self.table_row().degrees
    }

    /// Which of its degrees is the bass, where that is not the root (`/3`).
    pub fn bass(&self) -> Option<Degree> {
        self.table_row().bass
    }

    /// Whether it is no chord at all: `N.C.`
    pub fn is_none(&self) -> bool {
        self.degrees().is_empty()
    }

    /// The other ways to write it.
    pub fn spellings(&self) -> &'static [&'static str] {
        self.table_row().spellings
    }

    /// The `kind` value of the standard (MusicXML 4.0 kind-value).
    pub fn musicxml_kind(&self) -> &'static str {
        self.table_row().kind
    }

    /// The `text` that spells only the kind, with ♭ ♯ as signs: `7` for
    /// `7(#11)`. Readers print shown degrees beside it, so it leaves them out.
    pub fn musicxml_text(&self) -> &'static str {
        self.table_row().text
    }

    /// The degrees beside the kind, and whether they are shown (false where
    /// the text already says them: sus and alt chords).
    pub fn musicxml_degrees(&self) -> (&'static [ChordDegree], bool) {
        (self.table_row().changes, self.table_row().shown)
    }

    /// Ids of its default scale and of the alternates.
    pub fn scales(&self) -> (&'static str, &'static [&'static str]) {
        (self.table_row().scale, self.table_row().other_scales)
    }

    pub(crate) fn with_id(id: &str) -> Option<Chord> {
        CHORDS
            .iter()
            .position(|row| row.id == id)
            .map(|row| Chord { row })
    }

    /// The slash row of a major triad over one of its own degrees.
    pub(crate) fn over(bass: Degree) -> Option<Chord> {
        CHORDS
            .iter()
            .position(|row| row.bass == Some(bass))
            .map(|row| Chord { row })
    }

    /// As [`Chord::parse`], without looking for near misses.
    pub(crate) fn read(text: &str) -> Option<Chord> {
        let text = text.trim();
        Chord::with_id(text).or_else(|| {
            let said = plain(text)?;
            let place = SPELLINGS
                .binary_search_by(|(spelling, _)| spelling.cmp(&said))
                .ok()?;
            Some(Chord {
                row: SPELLINGS[place].1,
            })
        })
    }

    fn table_row(&self) -> &'static ChordRow {
        &CHORDS[self.row]
    }
}

/// Every way to write every kind, in its plain form, sorted.
static SPELLINGS: LazyLock<Vec<(String, usize)>> = LazyLock::new(|| {
    let texts = |(row, chord): (usize, &'static ChordRow)| {
        // the slash rows' other spellings are whole symbols (`C/E`)
        let others = if chord.bass.is_none() {
            chord.spellings
        } else {
            &[]
        };
        let texts = [chord.suffix].into_iter().chain(others.iter().copied());
        texts.filter_map(plain).map(move |text| (text, row))
    };
    let mut spellings: Vec<(String, usize)> = CHORDS.iter().enumerate().flat_map(texts).collect();
    spellings.sort_unstable();
    spellings.dedup();
    spellings
});

/// Suffixes close enough to be meant, best first, at most three.
pub(crate) fn near(text: &str) -> Vec<String> {
    let Some(said) = plain(text) else {
        return Vec::new();
    };
    let mut near: Vec<(usize, usize)> = SPELLINGS
        .iter()
        .map(|(spelling, row)| (strsim::damerau_levenshtein(&said, spelling), *row))
        .filter(|(distance, row)| *distance <= said.len() / 3 && !CHORDS[*row].suffix.is_empty())
        .collect();
    near.sort_unstable();
    let mut rows: Vec<usize> = Vec::new();
    for (_, row) in near {
        if !rows.contains(&row) {
            rows.push(row);
        }
    }
    rows.into_iter()
        .take(3)
        .map(|row| CHORDS[row].suffix.to_owned())
        .collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::NameFault;

    fn check(typed: &str, id: &str) {
        assert_eq!(
            Chord::parse(typed).map(|chord| chord.id()),
            Ok(id),
            "{typed}"
        );
    }

    #[test]
    fn case_matters_where_it_must() {
        check("M7", "maj7");
        check("m7", "m7");
        check("MA7", "maj7");
        check("MI7", "m7");
        check("Maj7", "maj7");
        check("MIN7", "m7");
        check("M", "maj");
        check("m", "m");
        check("M9", "maj9");
        check("m9", "m9");
        check("mM7", "m(maj7)");
        check("mMaj7", "m(maj7)");
        check("minmaj7", "m(maj7)");
        check("Dim7", "dim7");
        check("SUS", "sus4");
        check("7ALT", "7alt");
    }

    #[test]
    fn signs_brackets_spaces_and_commas() {
        check("7(♯11)", "7#11");
        check("7 (#11)", "7#11");
        check("7#11", "7#11");
        check("7(b9, b13)", "7b9b13");
        check("7(♭13 ♭9)", "7b9b13");
        check("7b9#5", "7#5b9");
        check("△", "maj7");
        check("△7", "maj7");
        check("Δ9", "maj9");
        check("△#11", "maj7#11");
        check("-△7", "m(maj7)");
        check("ø", "m7b5");
        check("ø7", "m7b5");
        check("ø9", "m9b5");
        check("°", "dim");
        check("°7", "dim7");
        check("o7", "dim7");
        check("−7", "m7");
        check("-7(b5)", "m7b5");
        check("+7", "7#5");
        check("7+", "7#5");
        check("+", "aug");
        check("7sus", "7sus4");
        check("7susb9", "7b9sus4");
        check("7b9sus4", "7b9sus4");
        check("alt", "7alt");
        check("madd9", "madd9");
        check("m(add9)", "madd9");
        check("6/9", "6/9");
        check("6 9", "6/9");
        check("7/9", "9");
        check("m/maj7", "m(maj7)");
        check("13(#11)", "13#11");
        check("7-9", "7b9");
        check("7+9", "7#9");
        check("", "maj");
        check("N.C.", "NC");
        check("nc", "NC");
        check("No Chord", "NC");
        check("/3", "slash-3");
        check("/b7", "slash-b7");
    }

    #[test]
    fn what_is_no_chord_is_refused() {
        let near = |typed: &str, names: &[&str]| {
            let names = names.iter().map(|&name| name.to_owned()).collect();
            let expected = NameError {
                typed: typed.trim().to_owned(),
                fault: NameFault::Unknown(names),
            };
            assert_eq!(Chord::parse(typed), Err(expected));
        };
        near("x", &[]);
        near("2", &[]); // sus2 to some, add9 to others
        near("77777", &[]);
        near("7(b99)", &["7(b9)"]);
        near(&"7".repeat(5000), &[]);
    }

    #[test]
    fn no_spelling_means_two_chords() {
        let mut seen = BTreeMap::new();
        for (spelling, row) in SPELLINGS.iter() {
            if let Some(other) = seen.insert(spelling, row) {
                panic!(
                    "{spelling} is {} and {}",
                    CHORDS[*other].id, CHORDS[*row].id
                );
            }
        }
    }

    /// A reader prints the text and every shown degree beside it.
    #[test]
    fn texts_do_not_repeat_shown_degrees() {
        for chord in Chord::catalogue() {
            let (changes, shown) = chord.musicxml_degrees();
            let whole = chord
                .suffix()
                .replace('b', "♭")
                .replace('#', "♯")
                .replace("su♭", "sub");
            let of_kind = Chord::catalogue().into_iter().find(|other| {
                other.musicxml_kind() == chord.musicxml_kind()
                    && other.musicxml_degrees().0.is_empty()
                    && other.bass().is_none()
            });
            let kind = of_kind.map(|other| other.musicxml_text());
            match (changes, shown, chord.bass()) {
                (_, _, Some(_)) => assert_eq!(chord.musicxml_text(), "", "{}", chord.id()),
                ([], shown, _) => {
                    assert_eq!((chord.musicxml_text(), shown), (whole.as_str(), false))
                }
                (_, true, _) => assert_eq!(Some(chord.musicxml_text()), kind, "{}", chord.id()),
                (_, false, _) => {
                    assert_eq!(chord.musicxml_text(), whole);
                    assert!(whole.contains("sus") || whole.contains("alt"), "{whole}");
                }
            }
        }
    }
}
