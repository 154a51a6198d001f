//! Lifting: a notated phrase in the words of a lesson file. The best-fitting
//! scale, moves and count are found here; the text is one that lesson files
//! are written in.

mod count;
mod evidence;
mod fit;
mod horn;
mod lesson_file;
mod moves;
mod ornament;
mod usual;

use lesson::Phrase;
use theory::{PitchName, Range, Scale};

/// The most moves and bars that a figure has.
const MOST_MOVES: usize = 256;
const MOST_BARS: i64 = 64;

/// A scale that is asked for instead of the best-fitting one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LiftScale {
    /// The scale.
    pub scale: Scale,
    /// Its root, in the phrase's pitch; none: the best-fitting one.
    pub root: Option<PitchName>,
}

/// A phrase as a lesson.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lifted {
    /// The lesson file's text.
    pub text: String,
    /// The scale it stands on.
    pub scale: Scale,
    /// The scale's root, in the phrase's pitch.
    pub root: PitchName,
    /// How well the scale fits.
    pub fit: Fit,
    /// What else a teacher should know, in sentences.
    pub remarks: Vec<String>,
}

/// How well a scale fits a phrase.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fit {
    /// The phrase's notes.
    pub notes: usize,
    /// Those that are not the scale's own but lead to one that is, by a half
    /// step from below or above.
    pub borrowed: usize,
}

/// As a report says it: `all 8 notes are the scale's own`.
impl std::fmt::Display for Fit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let own = self.notes - self.borrowed.min(self.notes);
        match (self.notes, self.borrowed) {
            (1, 0) => f.write_str("its one note is the scale's own"),
            (notes, 0) => write!(f, "all {notes} notes are the scale's own"),
            (notes, 1) => write!(
                f,
                "{own} of {notes} notes are the scale's own, 1 leads to the next"
            ),
            (notes, borrowed) => {
                write!(
                    f,
                    "{own} of {notes} notes are the scale's own, {borrowed} lead to the next"
                )
            }
        }
    }
}

/// Why a phrase can't be said as a figure, in a sentence.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct LiftError(pub String);

/// Turns a phrase into a lesson that plays it as its figure and then on every
/// degree, in all keys from its own.
///
/// # Errors
/// A phrase without notes, too long for a figure, with a rhythm that the
/// count has no words for, or that doesn't go on the scale asked for.
pub fn lift(phrase: &Phrase, asked: Option<&LiftScale>) -> Result<Lifted, LiftError> {
    let notes = phrase
        .notes
        .iter()
        .filter(|note| note.pitch.is_some())
        .count();
    if notes == 0 {
        return Err(LiftError("the phrase has no notes".to_owned()));
    }
    if notes > MOST_MOVES {
        return Err(LiftError(format!(
            "the phrase has {notes} notes, but a figure has {MOST_MOVES} at most: ask for fewer bars"
        )));
    }
    let mut pitches = phrase.notes.iter().filter_map(|note| note.pitch);
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
    let on = fit::best(phrase, asked).ok_or_else(|| {
        let name = asked.map_or("any scale", |asked| asked.scale.name.as_ref());
        LiftError(format!(
            "the phrase doesn't go on {name}: some notes are neither the scale's own nor lead to \
             one by a half step"
        ))
    })?;
    let counted = count::counted(phrase)?;
    let moves = moves::moves(phrase, &on);
    let fit = Fit {
        notes,
        borrowed: on.borrowed,
    };
    let mut remarks = counted.remarks.clone();
    if on.is_last_resort {
        remarks.push("no other scale holds the phrase, so it is counted in half steps".to_owned());
    }
    let horn = horn::Horn::of(phrase, &on)
        .ok_or_else(|| LiftError("the phrase has no notes".to_owned()))?;
    if horn.sequence == horn::Sequence::TooWide {
        remarks.push("it is too wide to be begun on every degree".to_owned());
    }
    let text = lesson_file::text(phrase, &on, fit, &moves, &counted, &horn);
    Ok(Lifted {
        text,
        fit,
        scale: on.scale,
        root: on.root,
        remarks,
    })
}
