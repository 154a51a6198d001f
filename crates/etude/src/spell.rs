//! The placed line spelled, and how often that departs from strict spelling.

use lesson::Exercise;
use lesson::Lesson;
use theory::{Chord, ChordSymbol, Degree, Ladder, Naming, Pitch, PitchName, Signature, Speller};

use crate::place::Placed;

/// What an exercise plays in one key.
#[derive(Debug)]
pub(crate) struct Passage<'a> {
    pub placed: Placed,
    pub spelled: Spelled,
    /// Place of its chord in the score's chords.
    pub chord: Option<u16>,
    pub ladder: &'a Ladder,
}

/// A spelled line.
#[derive(Debug)]
pub(crate) struct Spelled {
    /// One pitch per tone.
    pub pitches: Vec<Pitch>,
    /// How many are spelled otherwise than strictly.
    pub respellings: u32,
}

/// Spells a placed line: `chord` decides its letters, and over the tones of
/// `over` nothing passes.
pub(crate) fn spell(
    lesson: &Lesson,
    ladder: &Ladder,
    placed: &Placed,
    [chord, over]: [Option<&Chord>; 2],
    signature: Signature,
) -> Spelled {
    let naming = Naming {
        root: placed.root.name(),
        chord,
        over,
        signature,
        style: lesson.spelling,
    };
    let speller = Speller::new(ladder, naming);
    let mut pitches = Vec::with_capacity(placed.tones.len());
    let respellings = speller.spell(placed.root, &placed.tones, &mut pitches) as u32;
    Spelled {
        pitches,
        respellings,
    }
}

/// The chord shown over an exercise, on the written root.
pub(crate) fn chord_over(
    lesson: &Lesson,
    exercise: &Exercise,
    written: PitchName,
) -> Option<ChordSymbol> {
    let chord = exercise
        .chord
        .as_ref()
        .or(lesson.scales[exercise.scale].chord.as_ref())?;
    Some(ChordSymbol {
        root: written,
        chord: chord.clone(),
        bass: None,
    })
}

/// A score's chords, and the scale of each.
#[derive(Debug, Default)]
pub(crate) struct Chords {
    pub symbols: Vec<ChordSymbol>,
    pub scales: Vec<Vec<Degree>>,
}

impl Chords {
    /// The place of a chord on its scale, where it is added if it is new.
    pub fn place_of(&mut self, chord: &ChordSymbol, scale: &[Degree]) -> u16 {
        let mut known = self.symbols.iter().zip(&self.scales);
        let known = known.position(|(one, on)| one == chord && on == scale);
        let place = known.unwrap_or_else(|| {
            self.symbols.push(chord.clone());
            self.scales.push(scale.to_vec());
            self.symbols.len() - 1
        });
        place as u16
    }
}
