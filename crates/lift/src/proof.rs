//! A lesson proven: it is read, its first sheet is composed, and what that
//! plays is held against the phrase.

use etude::Composer;
use lesson::{Named, Phrase, PlacedChord};
use rhythm::Fraction;
use score::{Score, SoundingNote, sounding_notes};
use theory::{Interval, Pitch, PitchName};

/// What a lesson's first sheet makes of the phrase.
#[derive(Debug)]
pub(crate) struct Proof {
    /// How many octaves higher than the phrase it is written.
    pub octaves: i16,
    /// The notes that have another name: the phrase's, then the sheet's.
    pub misnamed: Vec<(PitchName, PitchName)>,
    /// Whether the phrase's chords stand where they did.
    pub has_chords: bool,
}

/// Why a lesson doesn't play the phrase, as a sentence ends.
#[derive(Debug)]
pub(crate) struct NoProof(pub String);

/// Reads a lesson, composes its first sheet and compares.
pub(crate) fn proof(phrase: &Phrase, text: &str) -> Result<Proof, NoProof> {
    let lesson = match lesson_text::read(text, "lifted") {
        Ok(lesson) => lesson,
        Err(mistakes) => {
            let first = mistakes.into_iter().next();
            return Err(NoProof(
                first.map_or_else(String::new, |mistake| mistake.message),
            ));
        }
    };
    let too_fine = |_| NoProof("its rhythm is too fine for readers of notation".to_owned());
    let composer = Composer::new(&lesson).map_err(too_fine)?;
    let plan = composer
        .plans()
        .first()
        .ok_or_else(|| NoProof("it makes no sheet".to_owned()))?;
    let sheet = composer
        .compose(plan)
        .map_err(|_| NoProof("it fits nowhere in the player's range".to_owned()))?;
    let notes = sounding_notes(&sheet.score).into_iter();
    let played: Vec<SoundingNote> = notes.filter(|note| note.origin.exercise == 0).collect();
    compared(phrase, &played, &sheet.score).ok_or_else(|| {
        NoProof("its own lesson plays something else; please tell us of this file".to_owned())
    })
}

/// The same times and sounds, wherever they begin and in whatever octave.
fn compared(phrase: &Phrase, played: &[SoundingNote], score: &Score) -> Option<Proof> {
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
    if !alike {
        return None;
    }
    let by = match phrase.named {
        Named::Concert => heard.sounding - heard.written,
        Named::Written => Interval::UNISON,
    };
    let end = asked.last().map(|(onset, length, _)| *onset + *length)?;
    let lasting = |chords: &[PlacedChord], late| sounds(chords, first.0 + late..end + late);
    let named = asked.iter().zip(played);
    Some(Proof {
        octaves: higher / 12,
        misnamed: named
            .map(|((_, _, own), note)| (own.name(), pitch(note).name()))
            .filter(|(own, other)| own != other)
            .collect(),
        has_chords: lasting(&phrase.chords, Fraction::ZERO)
            .into_iter()
            .map(|(at, chord)| (at + late, chord))
            .eq(lasting(&printed(score, by), late)),
    })
}

/// A chord by its sound: its root, kind and bass.
type Sound = (u8, &'static str, Option<u8>);

/// The chords over a stretch from where they are first heard, the same again
/// being one.
fn sounds(chords: &[PlacedChord], stretch: std::ops::Range<Fraction>) -> Vec<(Fraction, Sound)> {
    let mut heard: Vec<(Fraction, Sound)> = Vec::new();
    for chord in chords.iter().filter(|chord| chord.at < stretch.end) {
        let symbol = &chord.symbol;
        let root = if symbol.chord.is_none() {
            0
        } else {
            symbol.root.class()
        };
        let sound = (root, symbol.chord.id(), symbol.bass.map(PitchName::class));
        let at = chord.at.max(stretch.start);
        if heard.last().is_some_and(|(last, _)| *last == at) {
            heard.pop();
        }
        if heard.last().is_none_or(|(_, last)| *last != sound) {
            heard.push((at, sound));
        }
    }
    heard
}

/// The chord symbols of a sheet, moved by an interval, in quarters.
fn printed(score: &Score, by: Interval) -> Vec<PlacedChord> {
    let symbols = score.elements().filter_map(|(at, element)| {
        let symbol = score.chords.symbol(element.written().chord?)?;
        Some(PlacedChord {
            at: score.quarters(at),
            symbol: symbol.transposed(by),
        })
    });
    symbols.collect()
}

fn semitones(from: Pitch, to: Pitch) -> i16 {
    to.midi() - from.midi()
}
