//! A score laid out in its own ticks: bars with what is in force in them,
//! notes with ties joined and in sounding pitch, changes of chord.

use std::collections::BTreeSet;

use rhythm::{Fraction, Meter, Ticks};
use score::{Direction, Element, Exercise, Lyrics, Marks, Measure, Origin, Score};
use theory::{Interval, KeySignature};

use crate::harmony::Harmony;
use crate::tempo::Tempo;
use crate::{DEFAULT_TEMPO, SoundError, Take};

/// The longest sheet that is played, in quarters: more than a day at any
/// practice tempo.
const MOST_QUARTERS: u64 = 500_000;

/// A score laid out. Times and lengths are in its own ticks.
#[derive(Debug)]
pub(crate) struct Sheet<'a> {
    pub score: &'a Score,
    /// Ticks to the quarter, at least 1.
    pub divisions: u64,
    /// From written to sounding.
    pub to_sound: Interval,
    /// In order.
    pub bars: Vec<Bar<'a>>,
    /// In order.
    pub tones: Vec<Tone<'a>>,
    /// In order.
    pub changes: Vec<Change>,
    /// Where tuplets sound or rest, from and to.
    pub tuplets: Vec<(u64, u64)>,
    /// Where the last bar ends.
    pub end: u64,
}

/// A measure and what is in force in it.
#[derive(Debug)]
pub(crate) struct Bar<'a> {
    pub measure: &'a Measure,
    pub start: u64,
    pub length: u64,
    /// None only where a score prints none.
    pub meter: Option<&'a Meter>,
    pub key: Option<KeySignature>,
    pub tempo: Tempo,
    /// Whether eighths swing.
    pub swings: bool,
    /// The exercise it belongs to, by its number on the sheet.
    pub exercise: u16,
}

/// A sounding note.
#[derive(Debug)]
pub(crate) struct Tone<'a> {
    pub start: u64,
    pub end: u64,
    /// MIDI number, sounding.
    pub key: u8,
    pub lyrics: &'a Lyrics,
    /// How it is played.
    pub marks: Marks,
    pub origin: Origin,
    /// Whether it is slurred into the next one.
    pub slurred: bool,
    /// The number of the written note it is, tied ones being one.
    pub number: u32,
}

/// Where a chord symbol stands.
#[derive(Debug)]
pub(crate) struct Change {
    pub at: u64,
    /// In sounding pitch; none for N.C.
    pub harmony: Option<Harmony>,
}

impl Bar<'_> {
    pub(crate) fn end(&self) -> u64 {
        self.start + self.length
    }

    /// Its meter's whole bar in ticks; its own length where no meter is in
    /// force.
    pub(crate) fn whole(&self, divisions: u64) -> u64 {
        self.meter.map_or(self.length, |meter| {
            let whole = meter.bar() * Fraction::from_integer(divisions as i64);
            u64::try_from(whole.to_integer()).unwrap_or(self.length)
        })
    }

    /// Ticks of the bar that a pickup leaves out at its beginning.
    pub(crate) fn missing(&self, divisions: u64) -> u64 {
        if self.measure.implicit {
            self.whole(divisions).saturating_sub(self.length)
        } else {
            0
        }
    }
}

impl<'a> Sheet<'a> {
    /// Lays a score out; a take's tempo goes before the score's.
    ///
    /// # Errors
    /// A note outside MIDI's keys; a sheet of more than [`MOST_QUARTERS`].
    pub(crate) fn of(score: &'a Score, take: &Take) -> Result<Sheet<'a>, SoundError> {
        let transposition = score.part.transposition;
        let mut sheet = Sheet {
            score,
            divisions: u64::from(score.divisions.max(1)),
            to_sound: transposition.map(|t| t.interval()).unwrap_or_default(),
            bars: Vec::with_capacity(score.part.measures.len()),
            tones: Vec::new(),
            changes: Vec::new(),
            tuplets: Vec::new(),
            end: 0,
        };
        let mut standing = StandingMarks::default();
        for (place, measure) in score.part.measures.iter().enumerate() {
            standing.meet(measure);
            let start = sheet.end;
            for element in &measure.elements {
                sheet.change(element);
                sheet.add(element);
            }
            if sheet.end > MOST_QUARTERS * sheet.divisions {
                return Err(SoundError::TooLong);
            }
            sheet.bars.push(Bar {
                measure,
                start,
                length: sheet.end - start,
                meter: standing.meter,
                key: standing.key,
                tempo: standing.tempo(take),
                swings: standing.swings,
                exercise: score.exercise_of(place) as u16,
            });
        }
        sheet.tones = tones(score, sheet.to_sound)?;
        sheet.changes_of_notes();
        Ok(sheet)
    }

    /// A length in quarters in the sheet's ticks, if it is a whole number.
    pub(crate) fn whole_ticks(&self, length: Fraction) -> Option<u64> {
        let ticks = length * Fraction::from_integer(self.divisions as Ticks);
        u64::try_from(ticks.to_integer())
            .ok()
            .filter(|_| ticks.is_integer())
    }

    /// A length in quarters.
    pub(crate) fn quarters(&self, ticks: u64) -> Fraction {
        Fraction::new(ticks as Ticks, self.divisions as Ticks)
    }

    /// The bar at a time; the last at or after the end.
    pub(crate) fn bar_at(&self, at: u64) -> Option<&Bar<'a>> {
        let after = self.bars.partition_point(|bar| bar.start <= at);
        after.checked_sub(1).and_then(|place| self.bars.get(place))
    }

    /// An exercise by its number, and so what it is played over, if the score
    /// says.
    pub(crate) fn exercise(&self, number: u16) -> Option<&'a Exercise> {
        self.score.exercises.get(usize::from(number))
    }

    /// Where an exercise prints no symbols, its chords are those that its notes
    /// are played over.
    fn changes_of_notes(&mut self) {
        let printed: BTreeSet<u16> = self
            .changes
            .iter()
            .filter_map(|change| self.bar_at(change.at))
            .map(|bar| bar.exercise)
            .collect();
        let mut found: Vec<Change> = Vec::new();
        let mut last = None;
        for tone in &self.tones {
            let Some(bar) = self.bar_at(tone.start) else {
                continue;
            };
            let now = Some((bar.exercise, tone.origin.chord));
            if last == now || printed.contains(&bar.exercise) {
                continue;
            }
            last = now;
            let place = tone.origin.chord;
            found.extend(place.and_then(|place| self.change_to(place, tone.start)));
        }
        self.changes.extend(found);
        self.changes.sort_by_key(|change| change.at);
    }

    fn change_to(&self, place: u16, at: u64) -> Option<Change> {
        let chord = self.score.chords.get(place)?;
        Some(Change {
            at,
            harmony: Harmony::of(&chord.symbol, &chord.scale, self.to_sound),
        })
    }

    /// The chord that begins with an element.
    fn change(&mut self, element: &Element) {
        let place = element.written().chord;
        let change = place.and_then(|place| self.change_to(place, self.end));
        self.changes.extend(change);
    }

    fn add(&mut self, element: &Element) {
        let written = element.written();
        let start = self.end;
        self.end += u64::from(written.length);
        if written.value.tuplet.is_some() {
            self.tuplets.push((start, self.end));
        }
    }
}

/// The notes of a score, ties joined.
///
/// # Errors
/// A note outside MIDI's keys.
fn tones(score: &Score, to_sound: Interval) -> Result<Vec<Tone<'_>>, SoundError> {
    let mut tones: Vec<Tone<'_>> = Vec::new();
    for chain in score.notes() {
        let note = chain.first;
        let pitch = note.pitch + to_sound;
        let key = u8::try_from(pitch.midi()).ok().filter(|key| *key <= 127);
        // within a slur every note leads to the next
        let within = tones.last().is_some_and(|last| last.slurred);
        tones.push(Tone {
            start: chain.onset.unsigned_abs(),
            end: (chain.onset + chain.length).unsigned_abs(),
            key: key.ok_or(SoundError::OutOfReach(pitch))?,
            lyrics: &note.lyrics,
            marks: note.marks,
            origin: note.origin,
            slurred: note.marks.slur_begins || (within && !chain.last.marks.slur_ends),
            number: tones.len() as u32,
        });
    }
    Ok(tones)
}

/// What is in force from bar to bar.
#[derive(Debug, Default)]
struct StandingMarks<'a> {
    meter: Option<&'a Meter>,
    key: Option<KeySignature>,
    mark: Option<Tempo>,
    swings: bool,
}

impl<'a> StandingMarks<'a> {
    fn meet(&mut self, measure: &'a Measure) {
        self.meter = measure.meter.as_ref().or(self.meter);
        self.key = measure.key.or(self.key);
        for direction in &measure.directions {
            match direction {
                Direction::Tempo(mark) => {
                    self.mark = Some(Tempo {
                        beat: mark.beat.quarters(),
                        per_minute: mark.per_minute,
                    });
                }
                Direction::Swing => self.swings = true,
                Direction::Straight => self.swings = false,
                Direction::Rehearsal(_)
                | Direction::Section(_)
                | Direction::Heading(_)
                | Direction::Words(_)
                | Direction::Text(_)
                | Direction::Tempos(_)
                | Direction::Dynamic(_) => {}
            }
        }
    }

    fn tempo(&self, take: &Take) -> Tempo {
        let said = self.mark.unwrap_or_else(|| Tempo {
            beat: self.meter.map_or(Fraction::from_integer(1), Meter::beat),
            per_minute: DEFAULT_TEMPO,
        });
        Tempo {
            per_minute: take.tempo.unwrap_or(said.per_minute),
            ..said
        }
    }
}
