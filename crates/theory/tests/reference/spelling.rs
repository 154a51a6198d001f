//! Scales as a copyist writes them, in their signatures: `spelling.csv` was
//! worked out apart from this code, from rules 1, 3 and 4 and the formulas of
//! `scales.csv`.

use std::collections::BTreeSet;

use theory::{
    Form, Ladder, LineTone, Naming, Pitch, PitchName, RootWish, Rung, Scale, Side, SignatureStyle,
    Speller, SpellingStyle, Tone, concert_root, key_signature, ornament, spell_scale,
};

use crate::table::{rows, spelled};

#[test]
fn every_row_is_written_so() {
    let rows = rows("spelling");
    assert_eq!(rows.len(), 535);
    for row in rows {
        let (id, root) = (row.get("scale"), row.get("root"));
        let scale = Scale::named(&id.replace('-', " ")).unwrap();
        assert_eq!(scale.id.as_deref(), Some(id));
        let root: PitchName = root.parse().unwrap();
        let readable = SpellingStyle::Readable;
        let key = key_signature(&scale, root, SignatureStyle::Fitting, readable);
        assert_eq!(
            i16::from(key.signature.fifths()),
            row.number("signature"),
            "{root} {id}"
        );
        let up = spell_scale(root, &scale, Form::Rising, readable);
        assert_eq!(spelled(&up), row.get("going_up"), "{root} {id}");
        let mut down = spell_scale(root, &scale, Form::Falling, readable);
        down[1..].reverse();
        assert_eq!(spelled(&down), row.get("coming_down"), "{root} {id}");
    }
}

/// Ten sounds that lessons are full of.
const SCALES: [&str; 10] = [
    "major",
    "dorian",
    "lydian dominant",
    "harmonic minor",
    "melodic minor",
    "altered",
    "blues",
    "bebop dominant",
    "diminished whole-half",
    "diminished half-whole",
];

/// Both half steps to each rung of ten scales in every key, going up and
/// coming down.
#[test]
fn no_ornament_is_double() {
    let mut kept = BTreeSet::new();
    for name in SCALES {
        let scale = Scale::named(name).unwrap();
        let ladder = Ladder::new(&scale);
        for class in 0..12 {
            let root = concert_root(class, &scale, RootWish::default());
            let readable = SpellingStyle::Readable;
            let key = key_signature(&scale, root, SignatureStyle::Fitting, readable);
            let naming = Naming {
                root,
                chord: scale.chord.as_ref(),
                over: scale.chord.as_ref(),
                signature: key.signature,
                style: readable,
            };
            let speller = Speller::new(&ladder, naming);
            let rung = |at| LineTone {
                tone: Tone::Rung(Rung(at)),
                form: Form::Rising,
            };
            for at in 0..ladder.size() {
                for (side, after) in [Side::Above, Side::Below]
                    .into_iter()
                    .flat_map(|side| [(side, at + 1), (side, at - 1)])
                {
                    let tone = match side {
                        Side::Above => Tone::Above(Rung(at)),
                        Side::Below => Tone::Below(Rung(at)),
                    };
                    let led = LineTone {
                        tone,
                        form: Form::Rising,
                    };
                    let mut printed: Vec<Pitch> = Vec::new();
                    speller.spell(root.at(4), &[led, rung(at), rung(after)], &mut printed);
                    let [grace, target] = [printed[0].name(), printed[1].name()];
                    let place = format!("{root} {name}: {grace} before {target}");
                    assert!(!grace.is_double(), "{place}");
                    assert!(
                        grace.white_twin().is_none() || key.signature.has(grace),
                        "{place}"
                    );
                    let expected = ornament(printed[1], side, key.signature, readable);
                    assert_eq!(printed[0], expected, "{place}");
                    if target.is_double() {
                        kept.insert(format!("{target} of {root} {name}"));
                    }
                }
            }
        }
    }
    assert!(
        kept.is_empty(),
        "the roots of rule 1 need no leading note kept double: {kept:?}"
    );
}
