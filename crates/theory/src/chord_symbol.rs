//! Chord symbols as musicians write them: a kind on its root.

use std::fmt;
use std::str::FromStr;

use crate::chord::near;
use crate::pitch::read_name;
use crate::{Chord, Degree, Interval, NameError, PitchName, Signature};

/// A chord on its root, with a bass of its own if it has one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChordSymbol {
    /// The root; meaningless for N.C.
    pub root: PitchName,
    /// What it is.
    pub chord: Chord,
    /// The bass after the slash.
    pub bass: Option<PitchName>,
}

impl ChordSymbol {
    /// A kind on a root; a slash kind (`/3`) becomes its triad over the bass.
    pub fn on(root: PitchName, chord: &Chord) -> ChordSymbol {
        let bass = chord
            .bass()
            .map(|degree| (root + degree.interval()).printable());
        let plain = Chord::with_id("maj").filter(|_| bass.is_some());
        ChordSymbol {
            root,
            chord: plain.unwrap_or_else(|| chord.clone()),
            bass,
        }
    }

    /// The same chord an interval away.
    pub fn transposed(&self, by: Interval) -> ChordSymbol {
        ChordSymbol {
            root: self.root + by,
            chord: self.chord.clone(),
            bass: self.bass.map(|b| b + by),
        }
    }

    /// The same chord as it is written under a signature: a root outside it
    /// that is double, E sharp, B sharp, C flat or F flat takes its twin, and
    /// so does one whose chord's third would need a double accidental where
    /// the twin cures it (G♭m6 is F♯m6). The bass goes with the root.
    pub fn printed(&self, signature: Signature) -> ChordSymbol {
        if self.chord.is_none() {
            return self.clone();
        }
        let root = self.printed_root(signature);
        let moved = Interval::from_coordinates(root.fifths() - self.root.fifths(), 0);
        ChordSymbol {
            root,
            chord: self.chord.clone(),
            bass: self.bass.map(|bass| easy(bass + moved, signature)),
        }
    }

    fn printed_root(&self, signature: Signature) -> PitchName {
        if signature.has(self.root) {
            return self.root;
        }
        let root = easy(self.root, signature);
        let third_is_double = |root: PitchName| {
            let third = self.chord.third();
            third.is_some_and(|third| (root + third.interval()).is_double())
        };
        let cured = third_is_double(root) && !third_is_double(root.twin());
        if cured { root.twin() } else { root }
    }

    /// The spelled names of its tones, root first.
    pub fn tones(&self) -> Vec<PitchName> {
        self.chord
            .degrees()
            .iter()
            .map(|d| self.root + d.interval())
            .collect()
    }

    /// Ids of its default scale and of the alternates; a triad over its own
    /// third, fifth or seventh has those of that row.
    pub fn scales(&self) -> (&'static str, &'static [&'static str]) {
        let own_degree = |bass: PitchName| {
            let fifths = bass.fifths() - self.root.fifths();
            [
                (4, Degree::new(3, 0)),
                (1, Degree::new(5, 0)),
                (-2, Degree::new(7, -1)),
            ]
            .into_iter()
            .find_map(|(place, degree)| (place == fifths).then_some(degree))
        };
        let over = self
            .bass
            .filter(|_| self.chord.id() == "maj")
            .and_then(own_degree)
            .and_then(Chord::over);
        over.as_ref().unwrap_or(&self.chord).scales()
    }

    /// With ♭ and ♯ signs, for what people read: `A♭7(♭9)`, `C/E♭`, `N.C.`
    pub fn signs(&self) -> String {
        let suffix = self.chord.suffix();
        if self.chord.is_none() {
            return suffix.to_owned();
        }
        let mut text = self.root.signs();
        let mut letters = suffix.chars().peekable();
        while let Some(letter) = letters.next() {
            text.push(match letter {
                '#' => '♯',
                'b' if letters.peek().is_some_and(char::is_ascii_digit) => '♭',
                other => other,
            });
        }
        if let Some(bass) = self.bass {
            text.push('/');
            text.push_str(&bass.signs());
        }
        text
    }
}

/// A name without double accidentals, and without E sharp, B sharp, C flat and
/// F flat where the signature hasn't them.
fn easy(mut name: PitchName, signature: Signature) -> PitchName {
    while name.is_double() {
        name = name.twin();
    }
    let white = name.white_twin().filter(|_| !signature.has(name));
    white.unwrap_or(name)
}

/// As plain text: `Ab7(b9)`, `C/E`, `N.C.`
impl fmt::Display for ChordSymbol {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.chord.is_none() {
            return f.write_str(self.chord.suffix());
        }
        write!(f, "{}{}", self.root, self.chord.suffix())?;
        match self.bass {
            Some(bass) => write!(f, "/{bass}"),
            None => Ok(()),
        }
    }
}

/// `Ab7(b9)`, `C/E`, `F♯m7♭5`, `N.C.`
impl FromStr for ChordSymbol {
    type Err = NameError;
    fn from_str(text: &str) -> Result<ChordSymbol, NameError> {
        let typed = text.trim();
        if !typed.is_empty()
            && let Some(none) = Chord::read(typed).filter(Chord::is_none)
        {
            return Ok(ChordSymbol {
                root: PitchName::from_fifths(0),
                chord: none,
                bass: None,
            });
        }
        let (root, rest) = read_name(typed).ok_or_else(|| NameError::unknown(typed, Vec::new()))?;
        // `6/9` and `m/maj7` have a slash but no bass: a bass is a note's name
        let slash = rest
            .rfind('/')
            .and_then(|at| Some((&rest[..at], rest[at + 1..].parse::<PitchName>().ok()?)));
        let (kind, bass) = slash.map_or((rest, None), |(kind, bass)| (kind, Some(bass)));
        match Chord::read(kind).filter(|chord| !chord.is_none()) {
            Some(chord) => {
                let symbol = ChordSymbol::on(root, &chord);
                Ok(ChordSymbol {
                    bass: bass.or(symbol.bass),
                    ..symbol
                })
            }
            None => {
                let near = near(kind)
                    .into_iter()
                    .filter(|suffix| !suffix.starts_with(['/', 'N']));
                let tail = bass.map_or_else(String::new, |bass| format!("/{bass}"));
                Err(NameError::unknown(
                    typed,
                    near.map(|suffix| format!("{root}{suffix}{tail}")).collect(),
                ))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::NameFault;

    #[test]
    fn symbols_with_signs() {
        let check = |typed: &str, expected: &str| {
            let symbol: ChordSymbol = typed.parse().unwrap();
            assert_eq!(symbol.signs(), expected);
        };
        // As the catalogue spells them.
        check("A7(#11)", "A7(♯11)");
        check("Bbm7b5", "B♭m7(♭5)");
        check("Ebmaj7/Bb", "E♭maj7/B♭");
        check("C#dim7", "C♯dim7");
        check("N.C.", "N.C.");
    }

    #[test]
    fn a_bass_moves_with_its_root() {
        let check = |typed: &str, by: (i16, i16), expected: &str| {
            let symbol: ChordSymbol = typed.parse().unwrap();
            let moved = symbol.transposed(Interval::from_steps(by.0, by.1));
            assert_eq!(moved.to_string(), expected);
        };
        check("C7/E", (4, 7), "G7/B");
        check("Gm/Bb", (1, 2), "Am/C");
        check("F/A", (-1, -2), "Eb/G");
    }

    #[test]
    fn symbols() {
        let check = |typed: &str, plain: &str, id: &str, tones: &str| {
            let symbol: ChordSymbol = typed.parse().unwrap();
            let spelled: Vec<String> = symbol.tones().iter().map(PitchName::to_string).collect();
            assert_eq!(
                (
                    symbol.to_string().as_str(),
                    symbol.chord.id(),
                    spelled.join(" ").as_str()
                ),
                (plain, id, tones),
                "{typed}"
            );
        };
        check("Ab7(b9)", "Ab7(b9)", "7b9", "Ab C Eb Gb Bbb");
        check("A♭7♭9", "Ab7(b9)", "7b9", "Ab C Eb Gb Bbb");
        check("F♯m7♭5", "F#m7(b5)", "m7b5", "F# A C E");
        check("Bb", "Bb", "maj", "Bb D F");
        check("Bbm", "Bbm", "m", "Bb Db F");
        check("B♭△", "Bbmaj7", "maj7", "Bb D F A");
        check("C/E", "C/E", "maj", "C E G");
        check("C / E", "C/E", "maj", "C E G");
        check("Am7/G", "Am7/G", "m7", "A C E G");
        check("D/F#", "D/F#", "maj", "D F# A");
        check("F/G", "F/G", "maj", "F A C");
        check("C6/9", "C6/9", "6/9", "C E G A D");
        check("C6/9/E", "C6/9/E", "6/9", "C E G A D");
        check("Cm6/9", "Cm6/9", "m6/9", "C Eb G A D");
        check("Cm/maj7", "Cm(maj7)", "m(maj7)", "C Eb G B");
        check("C/3", "C/E", "maj", "C E G");
        check("B##/5", "B##/G#", "maj", "B## D### F###");
        check("Fbb/3", "Fbb/Abb", "maj", "Fbb Abb Cbb");
        check("N.C.", "N.C.", "NC", "");
        check("nc", "N.C.", "NC", "");
    }

    #[test]
    fn what_is_no_symbol_is_refused() {
        let check = |typed: &str, near: &[&str]| {
            let error = typed.parse::<ChordSymbol>().unwrap_err();
            let near = near.iter().map(|&name| name.to_owned()).collect();
            assert_eq!(
                error,
                NameError {
                    typed: typed.trim().to_owned(),
                    fault: NameFault::Unknown(near)
                }
            );
        };
        check("", &[]);
        check("H7", &[]);
        check("7", &[]);
        check("Cxyz", &[]);
        check("C/H", &[]);
        check("CN.C.", &[]);
        check("C7b99", &["C7(b9)"]);
    }

    #[test]
    fn scales_of_triads_over_their_own_tones() {
        let check = |typed: &str, scale: &str| {
            let symbol: ChordSymbol = typed.parse().unwrap();
            assert_eq!(symbol.scales().0, scale, "{typed}");
        };
        check("C", "major");
        check("C/E", "major");
        check("C/Bb", "mixolydian");
        check("Eb/Db", "mixolydian");
        check("C/D", "major");
        check("Cm/Bb", "dorian");
    }

    #[test]
    fn roots_under_a_signature() {
        let check = |typed: &str, fifths: i16, expected: &str| {
            let symbol: ChordSymbol = typed.parse().unwrap();
            let printed = symbol.printed(Signature::new(fifths).unwrap());
            assert_eq!(printed.to_string(), expected, "{typed} in {fifths}");
        };
        check("Cbmaj7", -6, "Cbmaj7"); // G flat's own
        check("Cbmaj7", 0, "Bmaj7");
        check("Fbmaj7", -4, "Emaj7");
        check("E#m7", 6, "E#m7");
        check("B#7", 2, "C7");
        check("D#7", 5, "D#7"); // G sharp minor's own
        check("D#7", 0, "Eb7"); // no F double sharp
        check("Gbm6", -4, "F#m6"); // no B double flat
        check("Gbm6", -5, "Gbm6"); // D flat's own
        check("Ebm7(b5)", 0, "Ebm7(b5)");
        check("Ab7(b5)", 0, "Ab7(b5)");
        check("Dbm7", 0, "Dbm7"); // F flat is no double
        check("G#7", 0, "G#7"); // nor is B sharp
        check("Bbbmaj7", -6, "Amaj7");
        check("F##m7(b5)", 5, "Gm7(b5)");
        check("Gbm6/Bbb", 0, "F#m6/A"); // the bass goes with its root
        check("D#/A#", 0, "Eb/Bb");
        check("Ab/Cb", 0, "Ab/B");
        check("Db/Cb", -6, "Db/Cb");
        check("Gbsus4", 0, "Gbsus4"); // no third
        check("N.C.", 3, "N.C.");
    }

    proptest! {
        #[test]
        fn what_is_printed_is_read_back(fifths in -7i16..12, row in 0..Chord::catalogue().len(), bass in -7i16..12) {
            let symbol = ChordSymbol::on(PitchName::from_fifths(fifths), &Chord::catalogue()[row]);
            if symbol.chord.is_none() {
                prop_assert_eq!(symbol.to_string(), "N.C.");
            } else {
                prop_assert_eq!(&symbol.to_string().parse::<ChordSymbol>(), &Ok(symbol.clone()));
                let over = ChordSymbol { bass: Some(PitchName::from_fifths(bass)), ..symbol };
                prop_assert_eq!(over.to_string().parse(), Ok(over));
            }
        }

        #[test]
        fn transposing_there_and_back(fifths in -7i16..12, row in 0..Chord::catalogue().len(), by in -12i16..12) {
            let symbol = ChordSymbol::on(PitchName::from_fifths(fifths), &Chord::catalogue()[row]);
            let by = Interval::from_coordinates(by, 0);
            prop_assert_eq!(symbol.transposed(by).transposed(-by), symbol);
        }

        #[test]
        fn nothing_typed_panics(text in "\\PC{0,40}") {
            let _ = text.parse::<ChordSymbol>();
            let _ = Chord::parse(&text);
        }
    }
}
