//! What a note sounds, and how it is tied.

use crate::element::Element;
use crate::part::{Sound, Tie};
use crate::pitch::pitch;

/// What a note sounds, as it is written, with a word on what was guessed.
///
/// # Errors
/// The element at fault, and why.
pub(crate) fn sounded(note: &Element) -> Result<(Sound, Option<String>), (&'static str, String)> {
    let hidden = note.says_no("print-object");
    if note.child("rest").is_some() {
        return Ok((if hidden { Sound::Hidden } else { Sound::Rest }, None));
    }
    if note.child("cue").is_some() {
        return Ok((Sound::Unpitched("cue notes"), None));
    }
    // `slashed` and `back slashed` are heads with a stroke, which have pitches.
    if note.said("notehead") == Some("slash") {
        return Ok((Sound::Unpitched("slashes"), None));
    }
    match (note.child("pitch"), note.child("unpitched")) {
        (Some(_), _) if hidden => Ok((
            Sound::Hidden,
            Some("hidden notes were taken as silence".to_owned()),
        )),
        (Some(child), _) => {
            let (pitch, guess) = pitch(note, child)?;
            Ok((Sound::Pitch(pitch), guess))
        }
        (None, Some(_)) => Ok((Sound::Unpitched("notes without a pitch"), None)),
        (None, None) => Err(("note", "the note is neither a pitch nor a rest".to_owned())),
    }
}

/// Its ties, for the ear and for the eye.
pub(crate) fn tie(note: &Element) -> Tie {
    let mut tie = Tie::default();
    for child in note.children("tie") {
        match child.attribute("type") {
            Some("start") => tie.starts = true,
            Some("stop") => tie.stops = true,
            _ => {}
        }
    }
    let drawn = note
        .children("notations")
        .flat_map(|notations| notations.children("tied"));
    for child in drawn {
        match child.attribute("type") {
            Some("start") => tie.starts_drawn = true,
            Some("stop") => tie.stops_drawn = true,
            Some("continue") => (tie.starts_drawn, tie.stops_drawn) = (true, true),
            _ => {}
        }
    }
    tie
}
