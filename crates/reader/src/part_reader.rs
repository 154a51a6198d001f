//! Reading a part, measure by measure: the place in time, what is in force,
//! and everything at its time.

mod attributes;

use lesson::{Named, PlayedBy};
use num_traits::Signed;
use rhythm::{Fraction, Meter};
use theory::Interval;

use crate::bar_line::bar_line;
use crate::direction::{Direction, direction};
use crate::duration::length;
use crate::element::Element;
use crate::harmony;
use crate::key::Key;
use crate::note::{sounded, tie};
use crate::part::{BarLines, Chord, Concern, Measure, Note, Part, PlacedWarning, Sound};
use crate::reading::BROKEN;
use crate::shown::shown;
use crate::time::{add, decimal, integer, part, subtract};
use crate::{Place, ReadError, Warning, limit};

/// A part being read.
#[derive(Debug)]
pub(crate) struct PartReader {
    pub part: Part,
    named: Named,
    /// Whether the file's pitches are sounding already (`concert-score`).
    concert_score: bool,
    divisions: Option<Fraction>,
    meter: Option<Meter>,
    key: Option<Key>,
    transpose: Interval,
    /// What is added to written pitches for those that were asked for.
    shift: Interval,
    /// How many chord symbols it has had.
    chords: usize,
    /// The place in time, and where the last note began.
    at: Fraction,
    last_note: Option<Fraction>,
}

/// The elements of a measure that are read; all others are passed over.
pub(crate) fn is_read(name: &str) -> bool {
    matches!(
        name,
        "attributes"
            | "note"
            | "backup"
            | "forward"
            | "harmony"
            | "barline"
            | "direction"
            | "sound"
    )
}

impl PartReader {
    pub fn new(id: String, played_by: PlayedBy, named: Named, concert_score: bool) -> PartReader {
        PartReader {
            part: Part {
                id,
                name: played_by.part.clone(),
                played_by,
                ..Part::default()
            },
            named,
            concert_score,
            divisions: None,
            meter: None,
            key: None,
            transpose: Interval::UNISON,
            shift: Interval::UNISON,
            chords: 0,
            at: Fraction::ZERO,
            last_note: None,
        }
    }

    /// Begins a measure.
    pub fn begin(&mut self, number: String, implicit: bool) {
        self.at = Fraction::ZERO;
        self.last_note = None;
        self.part.measures.push(Measure {
            number,
            implicit,
            meter: self.meter.clone(),
            written_to_sounding: self.transpose,
            key: self.key.and_then(|key| key.moved(self.shift)),
            home: self.key.and_then(|key| key.home(self.shift)),
            length: Fraction::ZERO,
            notes: Vec::new(),
            chords: Vec::new(),
            lines: BarLines::default(),
            mark: None,
            signs: Vec::new(),
        });
    }

    /// Takes a child of the measure; after a fault that loses the time
    /// nothing more is taken.
    pub fn take(&mut self, element: &Element) {
        if self.part.fault.is_some() {
            return;
        }
        let taken = match element.name() {
            "attributes" => self.attributes(element),
            "note" => self.note(element),
            "backup" => self.skip(element, true),
            "forward" => self.skip(element, false),
            "harmony" => self.harmony(element),
            "barline" => {
                let before = self.at == Fraction::ZERO;
                let guesses = match self.part.measures.last_mut() {
                    Some(measure) => bar_line(element, before, &mut measure.lines),
                    None => Vec::new(),
                };
                for guess in guesses {
                    self.warn(Concern::Chords, "barline", guess);
                }
                Ok(())
            }
            "direction" | "sound" => {
                self.direction(direction(element));
                Ok(())
            }
            _ => Ok(()),
        };
        if let Err((name, why)) = taken {
            let measure = self.part.measures.len().saturating_sub(1);
            self.part.fault = Some((measure, self.fault(name, why)));
        }
    }

    fn note(&mut self, element: &Element) -> Result<(), (&'static str, String)> {
        if element.child("grace").is_some() {
            self.warn(
                Concern::Line,
                "note",
                "grace notes were left out".to_owned(),
            );
            return Ok(());
        }
        if self.divisions.is_none() && element.said("duration").is_some() {
            let why = "no divisions are given: written values were taken, else quarters";
            self.warn(Concern::All, "note", why.to_owned());
        }
        let (length, guess) = length(element, self.divisions, self.bar())?;
        if let Some(guess) = guess {
            self.warn(Concern::All, "note", guess);
        }
        let on_stem = element.child("chord").is_some() && self.last_note.is_some();
        let at = match self.last_note.filter(|_| on_stem) {
            Some(at) => at,
            None => self.at,
        };
        let end = add(at, length).ok_or_else(too_long)?;
        let sound = self.sound(element);
        let voice = self.voice(element.said("voice").unwrap_or("1"));
        let staff = element
            .said("staff")
            .and_then(integer)
            .and_then(|staff| u8::try_from(staff).ok())
            .map_or(1, |staff| staff.max(1));
        let tie = tie(element);
        let Some(measure) = self.part.measures.last_mut() else {
            return Ok(());
        };
        measure.notes.push(Note {
            at,
            length,
            staff,
            voice,
            on_stem,
            sound,
            tie,
        });
        if !on_stem {
            self.last_note = Some(at);
            self.at = end;
        }
        measure.length = measure.length.max(end);
        Ok(())
    }

    fn sound(&mut self, element: &Element) -> Sound {
        match sounded(element) {
            Ok((sound, guess)) => {
                if let Some(guess) = guess {
                    self.warn(Concern::Line, "note", guess);
                }
                match sound {
                    Sound::Pitch(written) => Sound::Pitch(written + self.shift),
                    sound => sound,
                }
            }
            Err((name, why)) => Sound::Unreadable(self.fault(name, why)),
        }
    }

    fn direction(&mut self, said: Direction) {
        let Some(measure) = self.part.measures.last_mut() else {
            return;
        };
        if let Some(mark) = said.mark {
            measure.mark.get_or_insert(mark);
        }
        for sign in said.signs {
            if !measure.signs.contains(&sign) {
                measure.signs.push(sign);
            }
        }
    }

    fn voice(&mut self, name: &str) -> usize {
        let voices = &mut self.part.voices;
        match voices.iter().position(|voice| voice == name) {
            Some(at) => at,
            // Past any use, further voices count as one.
            None if voices.len() > 64 => voices.len(),
            None => {
                voices.push(crate::shown::short(name));
                voices.len() - 1
            }
        }
    }

    fn skip(&mut self, element: &Element, back: bool) -> Result<(), (&'static str, String)> {
        let name = if back { "backup" } else { "forward" };
        let text = element.said("duration").unwrap_or_default();
        let parts = decimal(text).filter(|parts| !parts.is_negative());
        let parts = parts.ok_or_else(|| ("duration", format!("{} is no duration", shown(text))))?;
        let by = part(parts, self.divisions.unwrap_or(Fraction::ONE)).ok_or_else(too_long)?;
        self.last_note = None;
        if back {
            let to = subtract(self.at, by).ok_or_else(too_long)?;
            if to.is_negative() {
                let why = "the place goes back before the bar: its beginning was taken";
                self.warn(Concern::All, name, why.to_owned());
            }
            self.at = to.max(Fraction::ZERO);
        } else {
            self.at = add(self.at, by).ok_or_else(too_long)?;
            if let Some(measure) = self.part.measures.last_mut() {
                measure.length = measure.length.max(self.at);
            }
        }
        Ok(())
    }

    fn harmony(&mut self, element: &Element) -> Result<(), (&'static str, String)> {
        if element.attribute("type") == Some("alternate") {
            self.warn(
                Concern::Chords,
                "harmony",
                "an alternate chord was left out".to_owned(),
            );
            return Ok(());
        }
        let (in_bar, in_all) = (
            self.part.measures.last().map_or(0, |bar| bar.chords.len()),
            self.chords,
        );
        if in_bar >= limit::CHORDS_IN_BAR || in_all >= limit::CHORDS {
            let why = if in_all >= limit::CHORDS {
                format!("chords after the first {} were left out", limit::CHORDS)
            } else {
                let most = limit::CHORDS_IN_BAR;
                format!("chords after the first {most} of a bar were left out")
            };
            self.warn(Concern::Chords, "harmony", why);
            return Ok(());
        }
        self.chords += 1;
        let offset = match element.said("offset") {
            Some(text) => {
                let parts = decimal(text)
                    .ok_or_else(|| ("offset", format!("{} is no offset", shown(text))))?;
                let divisions = self.divisions.unwrap_or(Fraction::ONE);
                part(parts, divisions).ok_or_else(too_long)?
            }
            None => Fraction::ZERO,
        };
        let at = add(self.at, offset).ok_or_else(too_long)?;
        let symbol = match harmony::symbol(element, self.key) {
            Ok((symbol, guesses)) => {
                for guess in guesses {
                    self.warn(Concern::Chords, "harmony", guess);
                }
                Ok(harmony::moved(&symbol, self.shift))
            }
            Err((name, why)) => Err(self.fault(name, why)),
        };
        if let Some(measure) = self.part.measures.last_mut() {
            measure.chords.push(Chord { at, symbol });
        }
        Ok(())
    }

    fn bar(&self) -> Fraction {
        self.meter.as_ref().map_or(Fraction::from(4), Meter::bar)
    }

    fn place(&self, element: &'static str) -> Place {
        let unit = self.meter.as_ref().map_or(Fraction::ONE, Meter::unit);
        Place {
            measure: self
                .part
                .measures
                .last()
                .map(|measure| crate::shown::short(&measure.number)),
            beat: part(self.at, unit).and_then(|units| add(units, Fraction::ONE)),
            element: Some(element.to_owned()),
            ..Place::default()
        }
    }

    fn fault(&self, element: &'static str, reason: String) -> ReadError {
        ReadError {
            place: Box::new(self.place(element)),
            reason,
            help: BROKEN,
        }
    }

    /// Warns; the same words only once in a measure, and only so many times
    /// in all.
    fn warn(&mut self, about: Concern, element: &'static str, message: String) {
        let measure = self.part.measures.len().saturating_sub(1);
        let told = self
            .part
            .warnings
            .iter()
            .rev()
            .take_while(|told| told.measure == measure)
            .any(|told| told.warning.message == message);
        if told || self.part.warnings.len() >= limit::WARNINGS {
            return;
        }
        let warning = Warning {
            place: self.place(element),
            message,
        };
        self.part.warnings.push(PlacedWarning {
            about,
            warning,
            measure,
        });
    }
}

fn too_long() -> (&'static str, String) {
    ("duration", "a time too long or too fine to hold".to_owned())
}
