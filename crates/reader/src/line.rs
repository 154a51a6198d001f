//! A single line out of a part's notes: one voice, ties joined, silence
//! where nothing sounds.

use std::ops::Range;

use lesson::PhraseNote;
use rhythm::Fraction;
use theory::Pitch;

use crate::grid::GridBar;
use crate::part::{Concern, Part, PlacedWarning, Sound, Tie};
use crate::reading::{BROKEN, NO_NOTES};
use crate::time::add;
use crate::voice::Voice;
use crate::{Place, ReadError, Warning};

/// A note of the voice, in quarters from the first bar line.
#[derive(Debug, Clone, Copy)]
struct Sounding {
    onset: Fraction,
    end: Fraction,
    pitch: Pitch,
    tie: Tie,
    measure: usize,
}

/// Some measures of a part.
#[derive(Debug)]
pub(crate) struct Excerpt<'a> {
    /// The bars of the whole part.
    pub grid: &'a [GridBar],
    pub measures: Range<usize>,
    /// Where each of them begins.
    pub onsets: &'a [Fraction],
}

/// Notes and silences of some measures.
///
/// # Errors
/// A pitch that can't be read; no notes.
pub(crate) fn line(
    part: &mut Part,
    voice: Voice,
    excerpt: &Excerpt<'_>,
    told: &mut Vec<PlacedWarning>,
) -> Result<Vec<PhraseNote>, ReadError> {
    let mut reading = LineReader { part, told };
    let sounding = reading.voice(voice, excerpt)?;
    let Excerpt {
        grid,
        measures,
        onsets,
    } = excerpt;
    let (Some(start), Some(last)) = (onsets.first(), onsets.last()) else {
        return Err(ReadError::whole("the part has no measures"));
    };
    if sounding.is_empty() {
        return Err(ReadError::whole("there are no notes in these bars").with(NO_NOTES));
    }
    let joined = reading.joined(sounding, measures.end.saturating_sub(1));
    let end = grid
        .get(measures.end - 1)
        .and_then(|bar| add(*last, bar.length));
    let mut notes = Vec::with_capacity(joined.len());
    let mut at = *start;
    for note in joined {
        notes.extend(silence(at, note.onset));
        notes.push(PhraseNote {
            onset: note.onset,
            length: note.end - note.onset,
            pitch: Some(note.pitch),
        });
        at = note.end;
    }
    notes.extend(end.and_then(|end| silence(at, end)));
    Ok(notes)
}

/// A silence from one place to another, if there is any.
fn silence(from: Fraction, to: Fraction) -> Option<PhraseNote> {
    (to > from).then(|| PhraseNote {
        onset: from,
        length: to - from,
        pitch: None,
    })
}

struct LineReader<'a> {
    part: &'a mut Part,
    told: &'a mut Vec<PlacedWarning>,
}

impl LineReader<'_> {
    /// The notes of a voice, one at a time.
    fn voice(&mut self, voice: Voice, excerpt: &Excerpt<'_>) -> Result<Vec<Sounding>, ReadError> {
        let mut line: Vec<Sounding> = Vec::new();
        for (at, onset) in excerpt.measures.clone().zip(excerpt.onsets) {
            let mut notes = std::mem::take(&mut self.part.measures[at].notes);
            notes.sort_by_key(|note| note.at);
            for note in notes {
                if (note.staff, note.voice) != voice {
                    continue;
                }
                let pitch = match note.sound {
                    Sound::Pitch(pitch) => pitch,
                    Sound::Unreadable(fault) => return Err(fault),
                    Sound::Unpitched(what) => {
                        self.tell(at, &format!("{what} were taken as silence"));
                        continue;
                    }
                    Sound::Rest | Sound::Hidden => continue,
                };
                let bar = &excerpt.grid[at];
                let begins = add(note.at - bar.padding, *onset);
                let ends = begins.and_then(|begins| add(begins, note.length));
                let (Some(begins), Some(ends)) = (begins, ends) else {
                    return Err(ReadError {
                        place: Box::new(self.place(at)),
                        reason: "a time too long or too fine to hold".to_owned(),
                        help: BROKEN,
                    });
                };
                if begins == ends {
                    continue;
                }
                let sounding = Sounding {
                    onset: begins,
                    end: ends,
                    pitch,
                    tie: note.tie,
                    measure: at,
                };
                match line.last_mut() {
                    Some(last) if last.onset == begins || note.on_stem => {
                        if pitch.midi() > last.pitch.midi() {
                            *last = Sounding {
                                onset: last.onset,
                                ..sounding
                            };
                        }
                        self.tell(at, "of notes that sound together the highest was kept");
                    }
                    Some(last) if last.end > begins => {
                        last.end = begins;
                        line.push(sounding);
                        self.tell(at, "a note was cut short where the next begins");
                    }
                    _ => line.push(sounding),
                }
            }
        }
        Ok(line)
    }

    /// Ties joined: both sides for the ear, or for the eye, or one side alone
    /// where the same pitch follows at once.
    fn joined(&mut self, line: Vec<Sounding>, last_measure: usize) -> Vec<Sounding> {
        let mut joined: Vec<Sounding> = Vec::with_capacity(line.len());
        let mut before: Option<Sounding> = None;
        for note in line {
            let adjacent = before.filter(|before| {
                before.end == note.onset && before.pitch.midi() == note.pitch.midi()
            });
            let starts =
                adjacent.is_some_and(|before| before.tie.starts || before.tie.starts_drawn);
            let stops = note.tie.stops || note.tie.stops_drawn;
            let open = before.filter(|before| before.tie.starts || before.tie.starts_drawn);
            if adjacent.is_some() && (starts || stops) {
                let for_the_ear =
                    adjacent.is_some_and(|before| before.tie.starts) && note.tie.stops;
                if !(starts && stops) {
                    self.tell(
                        note.measure,
                        "a tie has only one end: the two notes were joined",
                    );
                } else if !for_the_ear {
                    self.tell(
                        note.measure,
                        "a tie is drawn but not said to sound: the two notes were joined",
                    );
                }
                if let Some(whole) = joined.last_mut() {
                    whole.end = note.end;
                }
            } else {
                if open.is_some() {
                    self.tell(
                        note.measure,
                        "a tie leads to no note of the same pitch: it was left out",
                    );
                } else if stops {
                    let place = if joined.is_empty() {
                        "the first note is tied from before: it begins here"
                    } else {
                        "a tie comes from no note of the same pitch: it was left out"
                    };
                    self.tell(note.measure, place);
                }
                joined.push(note);
            }
            before = Some(note);
        }
        if before.is_some_and(|last| last.tie.starts || last.tie.starts_drawn) {
            self.tell(
                last_measure,
                "the last note is tied on to what follows: it ends here",
            );
        }
        joined
    }

    fn place(&self, at: usize) -> Place {
        Place {
            measure: Some(crate::shown::short(&self.part.measures[at].number)),
            element: Some("note".to_owned()),
            ..Place::default()
        }
    }

    /// Warns, once in a measure.
    fn tell(&mut self, at: usize, message: &str) {
        let same = |told: &&PlacedWarning| told.measure == at && told.warning.message == message;
        if self.told.iter().rev().take(16).find(same).is_some()
            || self.told.len() >= crate::limit::WARNINGS
        {
            return;
        }
        let warning = Warning {
            place: self.place(at),
            message: message.to_owned(),
        };
        self.told.push(PlacedWarning {
            about: Concern::Line,
            warning,
            measure: at,
        });
    }
}
