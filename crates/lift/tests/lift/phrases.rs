//! Phrases come back, whatever they are.

use std::fs;

use lesson::PhraseNote;
use lift::lift;
use proptest::prelude::*;
use reader::Selection;
use rhythm::Fraction;
use theory::{Mode, Scale};

use crate::made::{fixture, gives_back, phrase};

/// Every notated line of the fixtures that is one phrase comes back.
#[test]
fn fixtures_come_back() {
    let asked = Selection::default();
    let mut lifted = 0;
    for (name, bars) in [
        ("01_alto_harmony.musicxml", "1-2"),
        ("01_alto_harmony.musicxml", "3-4"),
        ("02_pickup.musicxml", "0-3"),
        ("03_triplets.musicxml", "1-3"),
        ("04_ties.musicxml", "4"),
        ("05_five_four.musicxml", "1-2"),
        ("06_repeat_endings.musicxml", "1-3"),
        ("07_key_change.musicxml", "1-2"),
        ("07_key_change.musicxml", "3-4"),
        ("08_lyrics_accidentals.musicxml", "1-3"),
        ("09_trumpet.mxl", "1-2"),
        ("10_tenor_swing.musicxml", "1"),
        ("13_trip_mixed_nonormaltype.musicxml", "1"),
        ("20_pickup_0_implicit.musicxml", "0-1"),
        ("50_lyrics.musicxml", "1"),
    ] {
        let bytes = fs::read(fixture("notation").join(name)).unwrap();
        let phrase = reader::phrase(&bytes, &asked, bars.parse().ok())
            .unwrap()
            .value;
        match lift(&phrase, None) {
            Ok(lesson) => {
                let _ = gives_back(&phrase, &lesson);
                lifted += 1;
            }
            Err(error) => assert!(
                error.to_string().starts_with("the count has no word"),
                "{name}: {error}"
            ),
        }
    }
    assert!(lifted >= 13, "{lifted}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Any line of scale notes and what leads to them comes back from its
    /// lesson's sheet.
    #[test]
    fn any_phrase_comes_back(
        steps in prop::collection::vec((-4i32..5, 0usize..6, any::<bool>()), 1..24),
        root in 0i16..12,
        scale in 0usize..1000,
        fifths in -7i16..8,
        told in 0u8..3,
    ) {
        let lengths = [(1, 1), (1, 2), (2, 1), (3, 2), (1, 4), (1, 3)].map(|(upper, lower)| Fraction::new(upper, lower));
        let scales = Scale::catalogue();
        let scale = &scales[scale % scales.len()];
        let ladder = theory::Ladder::new(scale);
        let zero = theory::PitchName::from_fifths(root - 5).at(4);
        let mut rung = 0;
        let mut onset = Fraction::ZERO;
        let mut notes = Vec::new();
        for (step, length, silent) in steps {
            rung = (rung + step).clamp(0, ladder.size() + 2);
            let pitch = zero + ladder.interval(theory::Rung(rung), theory::Form::Rising);
            let silent = silent && step == 0 && !notes.is_empty();
            // Short values come in whole beats.
            let values = match length { 4 => 4, 5 => 3, _ => 1 };
            for _ in 0..values {
                let pitch = (!silent).then_some(pitch);
                notes.push(PhraseNote { onset, length: lengths[length], pitch });
                onset += lengths[length];
            }
        }
        let key = match told {
            0 => None,
            1 => Some((fifths, None)),
            _ => Some((fifths, Some(Mode::Minor))),
        };
        let mut phrase = phrase("4/4", key, 0, "C5 1", "");
        // Silences that meet are one.
        let mut joined: Vec<PhraseNote> = Vec::new();
        for note in notes {
            match joined.last_mut().filter(|last| last.pitch.is_none() && note.pitch.is_none()) {
                Some(last) => last.length += note.length,
                None => joined.push(note),
            }
        }
        phrase.notes = joined;
        match lift(&phrase, None) {
            Ok(lifted) => { let _ = gives_back(&phrase, &lifted); }
            Err(error) => prop_assert!(error.to_string().starts_with("the count has no word"), "{}", error),
        }
    }
}
