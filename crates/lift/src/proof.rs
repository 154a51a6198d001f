//! A lesson proven: it is read, its first sheet is composed, and what that
//! plays is held against the phrase.

use etude::Composer;
use lesson::{Named, Phrase};
use score::{SoundingNote, sounding_notes};
use theory::{Pitch, PitchName};

/// What a lesson's first sheet makes of the phrase.
#[derive(Debug)]
pub(crate) struct Proof {
    /// How many octaves higher than the phrase it is written.
    pub octaves: i16,
    /// The notes that have another name: the phrase's, then the sheet's.
    pub misnamed: Vec<(PitchName, PitchName)>,
}

/// Why a lesson doesn't play the phrase, as a sentence ends.
#[derive(Debug)]
pub(crate) struct Unproven(pub String);

/// Reads a lesson, composes its first sheet and compares.
pub(crate) fn proof(phrase: &Phrase, text: &str) -> Result<Proof, Unproven> {
    let lesson = match lesson_text::read(text, "lifted") {
        Ok(reading) => reading.lesson,
        Err(mistakes) => {
            let first = mistakes.into_iter().next();
            return Err(Unproven(
                first.map_or_else(String::new, |mistake| mistake.message),
            ));
        }
    };
    let too_fine = |_| Unproven("its rhythm is too fine for readers of notation".to_owned());
    let composer = Composer::new(&lesson).map_err(too_fine)?;
    let plan = composer
        .plans()
        .first()
        .ok_or_else(|| Unproven("it makes no sheet".to_owned()))?;
    let sheet = composer
        .compose(plan)
        .map_err(|_| Unproven("it fits nowhere in the player's range".to_owned()))?;
    let notes = sounding_notes(&sheet.score).into_iter();
    let played: Vec<SoundingNote> = notes.filter(|note| note.origin.exercise == 0).collect();
    compared(phrase, &played).ok_or_else(|| {
        Unproven("its own lesson plays something else; please tell us of this file".to_owned())
    })
}

/// The same times and sounds, wherever they begin and in whatever octave.
fn compared(phrase: &Phrase, played: &[SoundingNote]) -> Option<Proof> {
    let pitch = |note: &SoundingNote| match phrase.named {
        Named::Concert => note.sounding,
        Named::Written => note.written,
    };
    let asked: Vec<_> = phrase
        .notes
        .iter()
        .filter_map(|note| Some((note.onset, note.length, note.pitch?)))
        .collect();
    let (first, heard) = (asked.first()?, played.first()?);
    let (late, higher) = (heard.onset - first.0, semitones(first.2, pitch(heard)));
    let alike = asked.len() == played.len()
        && higher % 12 == 0
        && asked
            .iter()
            .zip(played)
            .all(|((onset, length, own), note)| {
                note.onset == *onset + late
                    && note.length == *length
                    && semitones(*own, pitch(note)) == higher
            });
    let named = asked.iter().zip(played);
    alike.then(|| Proof {
        octaves: higher / 12,
        misnamed: named
            .map(|((_, _, own), note)| (own.name(), pitch(note).name()))
            .filter(|(own, other)| own != other)
            .collect(),
    })
}

fn semitones(from: Pitch, to: Pitch) -> i16 {
    to.midi() - from.midi()
}
