//! What lifting gives, and the way there.

use lesson::Phrase;
use theory::{PitchName, Range, Scale};

use crate::count::PhraseCount;
use crate::fit::OnScale;
use crate::horn::{Horn, Sequence};
use crate::lesson_file::{Draft, Says};
use crate::literal::Literal;
use crate::proof::{NoProof, Proof, proof};
use crate::request::{Fit, LiftError, LiftScale};
use crate::usual::is_usual;
use crate::{count, fit, literal, moves};

/// The most moves, rests among them, and bars that a figure has.
const MOST_MOVES: usize = 256;
const MOST_BARS: i64 = 64;
/// How many of the scales that fit are tried before the phrase is given up.
const TRIED: usize = 4;
/// How many scales the lesson's comments name in all.
const NAMED: usize = 3;

/// A phrase as a lesson, which was read and composed before it got here: its
/// first exercise plays the phrase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LiftedLesson {
    /// The lesson file's text.
    pub text: String,
    /// The scale it stands on; of a phrase that moves note for note, that of
    /// its key.
    pub scale: Scale,
    /// The scale's root, in the phrase's pitch.
    pub root: PitchName,
    /// How well the scale fits; none where the phrase moves note for note.
    pub fit: Option<Fit>,
    /// What else a teacher should know, in sentences.
    pub remarks: Vec<String>,
}

/// As a report says it: `G Mixolydian: all 8 notes are the scale's own`.
impl std::fmt::Display for LiftedLesson {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}: ", self.root, self.scale.name)?;
        match &self.fit {
            Some(fit) => fit.fmt(f),
            None => f.write_str("it moves through the keys note for note"),
        }
    }
}

/// Turns a phrase into a lesson that plays it as its figure and then on every
/// degree, in all keys from its own; or, where its chords stand on several
/// roots or no scale holds it, note for note in all keys with its chords.
///
/// # Errors
/// A phrase without notes, too long for a figure, with a rhythm that the
/// count has no words for, or that doesn't go on the scale asked for.
pub fn lift(phrase: &Phrase, asked: Option<&LiftScale>) -> Result<LiftedLesson, LiftError> {
    let notes = within_limits(phrase)?;
    let counted = count::counted(phrase)?;
    let found = fit::best(phrase, asked);
    let literally = || literally(phrase, &found, &counted);
    if asked.is_none()
        && literal::is_one(phrase, &found)
        && let Some(lifted) = literally()
    {
        return Ok(lifted);
    }
    let mut why = None;
    for place in 0..found.len().min(TRIED) {
        match on_scale(phrase, &found, place, &counted, notes) {
            Ok(lifted) => return Ok(lifted),
            Err(unproven) => why = why.or(Some(unproven)),
        }
    }
    if asked.is_none()
        && let Some(lifted) = literally()
    {
        return Ok(lifted);
    }
    Err(LiftError(match why {
        Some(NoProof(reason)) => format!("the phrase can't be a figure: {reason}"),
        None => {
            let name = asked.map_or("any scale", |asked| asked.scale.name.as_ref());
            format!(
                "the phrase doesn't go on {name}: some notes are neither the scale's own nor lead \
                 to one by a half step"
            )
        }
    }))
}

/// The phrase as moves on the scale at a place of those found.
fn on_scale(
    phrase: &Phrase,
    found: &[OnScale],
    place: usize,
    counted: &PhraseCount,
    notes: usize,
) -> Result<LiftedLesson, NoProof> {
    let on = &found[place];
    let fit = Fit {
        notes,
        borrowed: on.borrowed,
    };
    let no_notes = || NoProof("it has no notes".to_owned());
    let home = on.root_height(phrase).ok_or_else(no_notes)?;
    let horn = Horn::of(phrase, Some(home)).ok_or_else(no_notes)?;
    let moves = moves::moves(phrase, on);
    let draft = Draft {
        phrase,
        says: Says::Moves {
            on,
            fit,
            moves: &moves,
        },
        others: others(found, Some(place), NAMED - 1),
        counted,
        horn: &horn,
    };
    let (text, proof) = proven(&draft)?;
    let mut remarks = counted.remarks.clone();
    remarks.extend(horn.remarks.iter().cloned());
    remarks.extend(borrowed(on));
    remarks.extend(remarked(&proof));
    if horn.sequence == Sequence::TooWide {
        remarks.push("it is too wide to be begun on every degree".to_owned());
    }
    Ok(LiftedLesson {
        text,
        fit: Some(fit),
        scale: on.scale.clone(),
        root: on.root,
        remarks,
    })
}

/// The phrase note for note with its chords, if a lesson plays it so.
fn literally(phrase: &Phrase, found: &[OnScale], counted: &PhraseCount) -> Option<LiftedLesson> {
    let literal = Literal::of(phrase, found)?;
    let horn = Horn::of(phrase, None)?;
    let draft = Draft {
        phrase,
        says: Says::Literal(&literal),
        others: others(found, None, NAMED),
        counted,
        horn: &horn,
    };
    let proof = proven(&draft).ok();
    // Chords that the count has no words for are told in a comment instead.
    let has_chords = |proof: &Proof| phrase.chords.is_empty() || proof.has_chords;
    let (text, proof) = proof.filter(|(_, proof)| has_chords(proof))?;
    let mut remarks = counted.remarks.clone();
    remarks.extend(horn.remarks.iter().cloned());
    remarks.extend(remarked(&proof));
    Some(LiftedLesson {
        text,
        fit: None,
        scale: Scale::named(literal.scale()).ok()?,
        root: literal.tonic,
        remarks,
    })
}

/// How many notes the phrase has, if a figure can hold it.
fn within_limits(phrase: &Phrase) -> Result<usize, LiftError> {
    let sounding = || phrase.notes.iter().filter(|note| note.pitch.is_some());
    let notes = sounding().count();
    if notes == 0 {
        return Err(LiftError("the phrase has no notes".to_owned()));
    }
    let rests = moves::rests(phrase);
    if notes + rests > MOST_MOVES {
        let rests = match rests {
            0 => String::new(),
            1 => " and a rest among them".to_owned(),
            rests => format!(" and {rests} rests among them"),
        };
        return Err(LiftError(format!(
            "the phrase has {notes} notes{rests}, but a figure has {MOST_MOVES} moves at most: \
             ask for fewer bars"
        )));
    }
    let mut pitches = sounding().filter_map(|note| note.pitch);
    if let Some(pitch) = pitches.find(|pitch| !Range::WIDEST.holds(*pitch)) {
        return Err(LiftError(format!(
            "the phrase has {pitch}, but a player's range lies within C0 and C9"
        )));
    }
    let (first, last) = (phrase.notes.first(), phrase.notes.last());
    let length = last
        .zip(first)
        .map(|(last, first)| last.end() - first.onset);
    if length.is_some_and(|length| length > phrase.meter.bar() * MOST_BARS) {
        return Err(LiftError(format!(
            "the phrase is longer than a figure's {MOST_BARS} bars: ask for fewer"
        )));
    }
    Ok(notes)
}

/// The other scales that are named beside the one at a place, or beside none:
/// the next best of the catalogue, on whatever root, that hold the phrase as
/// well.
fn others(found: &[OnScale], place: Option<usize>, count: usize) -> Vec<&OnScale> {
    let most = place.map(|place| found[place].borrowed);
    let usual = |other: &OnScale| other.scale.id.as_deref().is_some_and(is_usual);
    let holds = |other: &OnScale| most.is_none_or(|most| other.borrowed <= most);
    let plain = found
        .iter()
        .enumerate()
        .filter(|(at, other)| Some(*at) != place && usual(other) && holds(other));
    plain.map(|(_, other)| other).take(count).collect()
}

/// The lesson that names the phrase's notes as its sheet does: in readable
/// names if these will do, else in strict ones.
fn proven(draft: &Draft<'_>) -> Result<(String, Proof), NoProof> {
    let readable = draft.text(false);
    let plain = proof(draft.phrase, &readable)?;
    if plain.misnamed.is_empty() {
        return Ok((readable, plain));
    }
    let strict = draft.text(true);
    match proof(draft.phrase, &strict) {
        Ok(other) if other.misnamed.len() < plain.misnamed.len() => Ok((strict, other)),
        _ => Ok((readable, plain)),
    }
}

/// What the scale borrows, for the teacher.
fn borrowed(on: &OnScale) -> Option<String> {
    let (home, borrowed) = on.home.as_ref()?;
    let degrees: Vec<String> = borrowed.iter().map(|degree| degree.signs()).collect();
    Some(format!(
        "the scale is {} {} with {} borrowed into it",
        on.root.signs(),
        home.name.to_lowercase(),
        degrees.join(", ")
    ))
}

/// What a teacher should know of the lesson.
fn remarked(proof: &Proof) -> Vec<String> {
    let mut remarks = Vec::new();
    match proof.octaves {
        0 => {}
        octaves => {
            let way = if octaves > 0 { "higher" } else { "lower" };
            let far = match octaves.abs() {
                1 => "an octave".to_owned(),
                octaves => format!("{octaves} octaves"),
            };
            remarks.push(format!(
                "it is written {far} {way} than in the file, where the player's range has more room"
            ));
        }
    }
    match &proof.misnamed[..] {
        [] => {}
        [(theirs, ours), rest @ ..] => {
            let count = match rest.len() {
                0 => "one note is".to_owned(),
                more => format!("{} notes are", more + 1),
            };
            remarks.push(format!(
                "{count} named otherwise than in the file, as {} for {}",
                ours.signs(),
                theirs.signs()
            ));
        }
    }
    remarks
}
