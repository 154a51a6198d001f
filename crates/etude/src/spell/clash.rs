//! Notes that rub against the chord named for them: a rung a half step above
//! a tone of the chord (common practice: the fourth over a major chord), when
//! it is no tone of the chord itself.

use theory::{ChordSymbol, Degree, Ladder, LineTone, Tone};

/// The degrees of a line that clash with its chord, each once, in the order
/// they are first sounded. Ornaments pass too quickly to count.
pub(crate) fn clashes(ladder: &Ladder, tones: &[LineTone], chord: &ChordSymbol) -> Vec<Degree> {
    let mut sounding = [false; 12];
    for degree in chord.chord.degrees() {
        sounding[class(*degree)] = true;
    }
    let mut found: Vec<Degree> = Vec::new();
    for tone in tones {
        let Tone::Rung(rung) = tone.tone else {
            continue;
        };
        let degree = ladder.degree(rung, tone.form);
        let above = class(degree);
        let rubs = sounding[(above + 11) % 12] && !sounding[above];
        if rubs && !found.contains(&degree) {
            found.push(degree);
        }
    }
    found
}

/// Semitones above the root, within the octave.
fn class(degree: Degree) -> usize {
    degree.interval().semitones().rem_euclid(12) as usize
}

#[cfg(test)]
mod tests {
    use theory::{Form, Rung};

    use super::*;
    use crate::sample::scale;

    fn check(degrees: &str, chord: &str, expected: &str) {
        let ladder = Ladder::new(&scale(degrees));
        let tones: Vec<LineTone> = (0..ladder.size())
            .map(|rung| LineTone {
                tone: Tone::Rung(Rung(rung)),
                form: Form::Rising,
            })
            .collect();
        let found = clashes(&ladder, &tones, &chord.parse().unwrap());
        let said: Vec<String> = found.iter().map(Degree::to_string).collect();
        assert_eq!(said.join(" "), expected, "{degrees} over {chord}");
    }

    #[test]
    fn avoided_over_their_chords() {
        // Common practice: 4 over major and dominant, b6 over minor, none of
        // the lydian or dorian sounds.
        check("1 2 3 4 5 6 7", "Cmaj7", "4");
        check("1 2 3 4 5 6 b7", "C7", "4");
        check("1 2 3 #4 5 6 7", "Cmaj7", "");
        check("1 2 b3 4 5 6 b7", "Cm7", "");
        check("1 2 b3 4 5 b6 b7", "Cm7", "b6");
        check("1 b2 3 4 5 b6 b7", "C7(b9 b13)", "4");
        check("1 2 3 4 5 6 7", "N.C.", "");
    }
}
