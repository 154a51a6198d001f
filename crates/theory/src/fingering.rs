//! How a brass player lengthens the tube for a note: which valves go down,
//! how far the slide goes out. Worked out from the horn's own fundamental by
//! its harmonic series; `fixtures/tables/fingerings.csv` holds what published
//! charts say.

use std::fmt;

use crate::{Instrument, Interval, Lengthening, Pitch, Tube};

/// How a note is fingered. Displayed as players write it: `0`, `13`, `+2`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Fingering {
    /// The valves that go down, by how many half steps they lower together:
    /// 0 to 6.
    Valves(HalfSteps),
    /// A slide position.
    Position {
        /// 1 (in) to 7 (out).
        position: u8,
        /// Somewhat further in, for a partial that is flat.
        raised: bool,
    },
}

/// By how much a tube is lowered: none to six half steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct HalfSteps(u8);

/// The most that three valves or a slide lower, in half steps.
const LONGEST: i16 = 6;

/// Partials above the first that players use, and how many half steps above
/// the fundamental they lie. The seventh, the eleventh and what is near them
/// an octave up are out of tune; the fifteenth lies where the sixteenth is
/// fingered as an octave lower.
const PARTIALS: [i16; 10] = [12, 19, 24, 28, 31, 36, 38, 40, 43, 48];

/// The seventh partial is flat by a third of a half step. A slide meets it
/// by staying further in, which it can't where it is in already.
const SEVENTH: i16 = 34;

impl Instrument {
    /// How a written pitch is usually fingered on a brass instrument: with the
    /// shortest tube that sounds it. None where the tube has no such note, and
    /// on other instruments.
    pub fn fingering(&self, written: Pitch) -> Option<Fingering> {
        self.tube?.fingering(written + self.written_to_sounding)
    }
}

impl Tube {
    /// How a sounding pitch is usually fingered.
    fn fingering(self, sounding: Pitch) -> Option<Fingering> {
        let above = sounding.midi() - self.fundamental.midi();
        let shortest = |partials: &[i16]| {
            let lowered = partials.iter().map(|partial| partial - above);
            lowered.filter(|by| (0..=LONGEST).contains(by)).min()
        };
        match self.lengthening {
            Lengthening::Valves => {
                shortest(&PARTIALS).map(|by| Fingering::Valves(HalfSteps(by as u8)))
            }
            Lengthening::Slide => {
                // A slide's pedal notes, its first partials, are played much.
                let plain = shortest(&PARTIALS).or(shortest(&[0]));
                let raised = shortest(&[SEVENTH]).filter(|&by| by > 0);
                let (by, raised) = match (plain, raised) {
                    (Some(by), Some(shorter)) if shorter < by => (shorter, true),
                    (None, Some(only)) => (only, true),
                    (by, _) => (by?, false),
                };
                Some(Fingering::Position {
                    position: by as u8 + 1,
                    raised,
                })
            }
        }
    }

    /// The tube of an instrument that a teacher describes by another that it
    /// is like, where its part is written at another distance from the sound.
    /// Either it is the same horn in another clef or key of writing, or a
    /// shorter or longer one that is fingered alike: brass parts that
    /// transpose are written so that the open tube gives C. None where neither
    /// fits.
    pub fn written_otherwise(self, like: Interval, now: Interval) -> Option<Tube> {
        let octaves_apart = (like - now).semitones() % 12 == 0;
        let gives_c = |pitch: Pitch| pitch.name().class() == 0;
        if octaves_apart || gives_c(self.fundamental - now) {
            return Some(self);
        }
        let written = self.fundamental - like;
        gives_c(written).then(|| Tube {
            fundamental: written + now,
            ..self
        })
    }
}

impl HalfSteps {
    /// The valves that lower by so much, as fingered: the first and second
    /// rather than the third alone.
    const fn valves(self) -> &'static str {
        match self.0 {
            0 => "0",
            1 => "2",
            2 => "1",
            3 => "12",
            4 => "23",
            5 => "13",
            _ => "123",
        }
    }
}

impl fmt::Display for Fingering {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fingering::Valves(lowered) => f.write_str(lowered.valves()),
            Fingering::Position { position, raised } => {
                let sign = if *raised { "+" } else { "" };
                write!(f, "{sign}{position}")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(horn: &str, written: &str, expected: &str) {
        let horn = Instrument::named(horn).unwrap();
        let found = horn.fingering(written.parse().unwrap());
        let found = found.map_or("none".to_owned(), |found| found.to_string());
        assert_eq!(found, expected, "{} {written}", horn.id);
    }

    #[test]
    fn notes_that_no_tube_gives() {
        for (horn, lowest, below) in [
            ("b-flat trumpet", "F#3", "F3"),
            ("c trumpet", "Gb3", "C3"),
            ("horn", "F#2", "F2"),
            ("alto horn", "F#3", "F3"),
            ("euphonium", "E2", "Eb2"),
            ("euphonium treble clef", "F#3", "F3"),
            ("tuba", "E1", "D1"),
        ] {
            check(horn, lowest, "123");
            check(horn, below, "none");
        }
        for between in ["Eb2", "D2", "C#2", "C2", "B1"] {
            check("trombone", between, "none");
            check("bass trombone", between, "none");
        }
        for (pedal, position) in [("Bb1", "1"), ("A1", "2"), ("F1", "6"), ("E1", "7")] {
            check("bass trombone", pedal, position);
        }
        check("bass trombone", "Eb1", "none");
        check("flute", "C5", "none");
        check("b-flat treble", "C5", "none");
    }

    #[test]
    fn the_seventh_partial_is_met_by_a_slide_alone() {
        check("trombone", "Ab4", "3");
        check("trombone", "G4", "+2");
        check("trombone", "F#4", "+3");
        check("trombone", "F4", "1");
        check("euphonium", "Ab4", "1");
        check("euphonium", "G4", "12");
        check("euphonium", "Gb4", "23");
    }

    /// Where partials lie close, by the shortest tube that is in tune (common
    /// practice).
    #[test]
    fn high_notes() {
        let horn = [
            ("G5", "0"),
            ("Ab5", "23"),
            ("A5", "12"),
            ("B5", "2"),
            ("C6", "0"),
        ];
        let trumpet = [("C#6", "2"), ("D6", "0"), ("Eb6", "2"), ("E6", "0")];
        let trombone = [
            ("B4", "2"),
            ("C5", "1"),
            ("D5", "1"),
            ("E5", "2"),
            ("F5", "1"),
        ];
        for (name, notes) in [
            ("horn", &horn[..]),
            ("b-flat trumpet", &trumpet),
            ("trombone", &trombone),
        ] {
            for (written, expected) in notes {
                check(name, written, expected);
            }
        }
        check("horn", "C#6", "none");
    }

    #[test]
    fn names_of_one_sound_are_fingered_alike() {
        for (one, other) in [("B#3", "C4"), ("Cb5", "B4"), ("F##4", "G4")] {
            let horn = Instrument::named("cornet").unwrap();
            let of = |name: &str| horn.fingering(name.parse().unwrap());
            assert_eq!(of(one), of(other));
            assert!(of(one).is_some());
        }
    }

    #[test]
    fn every_note_that_a_catalogue_range_promises_is_fingered() {
        // Below these, a range of the catalogue needs a fourth valve or a
        // trigger.
        let lowest = |horn: &Instrument| match &*horn.id {
            "tuba" => "E1",
            "bass-trombone" => "E2",
            _ => "F#2",
        };
        for horn in Instrument::catalogue() {
            if horn.tube.is_none() {
                continue;
            }
            let lowest: Pitch = lowest(&horn).parse().unwrap();
            for range in horn.ranges {
                let low = range.low.midi().max(lowest.midi());
                for midi in low..=range.high.midi() {
                    let written = Pitch::new(crate::Letter::C, midi - 60, 4);
                    assert!(horn.fingering(written).is_some(), "{} {midi}", horn.id);
                }
            }
        }
    }

    #[test]
    fn a_horn_like_another() {
        let check = |like: &str, middle_c_sounds: &str, fundamental: Option<&str>| {
            let like = Instrument::named(like).unwrap();
            let middle_c = Pitch::new(crate::Letter::C, 0, 4);
            let now = middle_c_sounds.parse::<Pitch>().unwrap() - middle_c;
            let tube = like.tube.unwrap();
            let found = tube.written_otherwise(like.written_to_sounding, now);
            assert_eq!(
                found.map(|tube| tube.fundamental.to_string()).as_deref(),
                fundamental,
                "{} {middle_c_sounds}",
                like.id
            );
        };
        // The same trombone, read in the brass band's treble clef.
        check("trombone", "Bb2", Some("Bb1"));
        check("trombone", "C4", Some("Bb1"));
        // A trumpet in E flat, one in D, a piccolo trumpet in B flat.
        check("b-flat trumpet", "Eb4", Some("Eb3"));
        check("b-flat trumpet", "D4", Some("D3"));
        check("b-flat trumpet", "Bb4", Some("Bb2"));
        // A tuba in B flat and one in E flat, read in the treble clef.
        check("tuba", "Bb1", Some("Bb0"));
        check("tuba", "Eb2", None);
    }
}
