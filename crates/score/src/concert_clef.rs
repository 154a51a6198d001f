//! A part at concert pitch in the clef that suits what it plays.

use theory::{Clef, Pitch, Signature};

use crate::{Element, Score, Slash};

/// The clefs that a horn may take at concert pitch.
const CLEFS: [Clef; 3] = [Clef::TREBLE, Clef::TREBLE_8_BELOW, Clef::BASS];

/// Gives a part the clef that needs fewest ledger lines for what it plays; of
/// equals the first of treble, treble an octave lower, and bass.
pub fn choose_clef(score: &mut Score) {
    let pitches: Vec<Pitch> = score.pitches().collect();
    let lines = |clef: &Clef| -> u32 {
        let lines = pitches.iter().map(|pitch| clef.ledger_lines(*pitch));
        lines.map(u32::from).sum()
    };
    let clef = CLEFS.into_iter().min_by_key(lines).unwrap_or(CLEFS[0]);
    score.part.clef = clef;
    let mut signature = Signature::NONE;
    for measure in &mut score.part.measures {
        signature = measure.key.map_or(signature, |key| key.signature);
        for element in &mut measure.elements {
            if let Element::Slash(Slash { note, .. }) = element {
                note.pitch = clef.middle_line(signature);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use theory::KeySignature;

    use super::*;
    use crate::sample::{note, score, tied};

    #[test]
    fn the_clef_needs_fewest_ledger_lines() {
        let check = |notes: &[&str], expected: Clef| {
            let elements = notes.iter().map(|pitch| note(pitch, 4)).collect();
            let mut part = score(4, [elements]);
            part.part.clef = Clef::ALTO;
            choose_clef(&mut part);
            assert_eq!(part.part.clef, expected, "{notes:?}");
        };
        // Common practice.
        check(&["C4", "E5", "A5"], Clef::TREBLE);
        check(&["A3", "E3", "C4"], Clef::TREBLE_8_BELOW);
        check(&["F2", "A3"], Clef::BASS);
        // G3 hangs two lines under the treble staff, D5 two over the other.
        check(&["B4"], Clef::TREBLE);
        check(&["D4"], Clef::TREBLE);
        check(&[], Clef::TREBLE);
    }

    #[test]
    fn slashes_stay_on_the_middle_line() {
        let slash = Element::Slash(Slash {
            note: tied("B4", 4, false, false),
            rhythmic: false,
        });
        let mut part = score(
            4,
            [
                vec![note("G2", 4)],
                vec![slash.clone()],
                vec![slash.clone()],
            ],
        );
        let flats = Signature::new(-4).unwrap();
        part.part.measures[2].key = Some(KeySignature {
            signature: flats,
            mode: None,
        });
        choose_clef(&mut part);
        let pitches: Vec<String> = part.part.measures[1..]
            .iter()
            .map(|measure| match &measure.elements[0] {
                Element::Slash(slash) => slash.note.pitch.to_string(),
                other => panic!("{other:?}"),
            })
            .collect();
        assert_eq!(pitches, ["D3", "Db3"]);
    }
}
