//! Instruments: how they are written, how they sound, how far they reach.

use std::borrow::Cow;
use std::sync::LazyLock;

use crate::instrument_table::{INSTRUMENTS, InstrumentRow};
use crate::name::{Index, words};
use crate::{Clef, Family, Interval, Level, NameError, Range, RegisterBreak, Tube};

/// An instrument of the catalogue, or one that a lesson defines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Instrument {
    /// Stable id: `alto-saxophone`. Also the name of its folder.
    pub id: Cow<'static, str>,
    /// What is printed: `Alto Saxophone in E♭`.
    pub name: Cow<'static, str>,
    /// What is printed before later systems: `A. Sax.`.
    pub abbreviation: Cow<'static, str>,
    /// Its family.
    pub family: Family,
    /// The clef it reads.
    pub clef: Clef,
    /// What to add to the written pitch to get the sound.
    pub written_to_sounding: Interval,
    /// Written ranges of beginner, intermediate and advanced players.
    pub ranges: [Range; 3],
    /// All that can be got out of it.
    pub extreme: Range,
    /// Its registers' crossing, where it has a notorious one.
    pub register_break: Option<RegisterBreak>,
    /// A brass instrument's tube, from which its fingerings follow.
    pub tube: Option<Tube>,
    /// General MIDI program, 1 to 128.
    pub midi_program: u8,
    /// The standard's sound id: `wind.reed.saxophone.alto`.
    pub sound_id: Cow<'static, str>,
}

impl Instrument {
    /// Every instrument of the catalogue, in the order they are listed.
    pub fn catalogue() -> Vec<Instrument> {
        INSTRUMENTS.iter().map(Instrument::from_row).collect()
    }

    /// By id, name or alias.
    ///
    /// # Errors
    /// A name that no instrument has, with near misses, or that several have.
    pub fn named(text: &str) -> Result<Instrument, NameError> {
        let full = |rows: Vec<usize>| {
            rows.into_iter()
                .map(|row| INSTRUMENTS[row].name.to_owned())
                .collect()
        };
        let rows = INDEX.rows(text);
        match rows[..] {
            [row] => return Ok(Instrument::from_row(&INSTRUMENTS[row])),
            [] => {}
            _ => return Err(NameError::several(text, full(rows))),
        }
        let family = family(text);
        match family.len() {
            0 => {}
            1 => return Err(NameError::unknown(text, full(family))),
            _ => return Err(NameError::several(text, full(family))),
        }
        Err(NameError::unknown(text, INDEX.near(text)))
    }

    /// The names that also find it, besides id and name.
    pub fn aliases(&self) -> Vec<&'static str> {
        let row = INSTRUMENTS.iter().find(|row| row.id == self.id);
        row.map_or_else(Vec::new, |row| row.aliases.to_vec())
    }

    /// The written range at a level.
    pub fn range(&self, level: Level) -> Range {
        self.ranges[level as usize]
    }

    fn from_row(row: &InstrumentRow) -> Instrument {
        let (steps, semitones) = row.sounds;
        Instrument {
            id: row.id.into(),
            name: row.name.into(),
            abbreviation: row.abbreviation.into(),
            family: row.family,
            clef: row.clef,
            written_to_sounding: Interval::from_steps(steps, semitones),
            ranges: row.ranges,
            extreme: row.extreme,
            register_break: row.below_break.map(|below| RegisterBreak { below }),
            tube: row.tube,
            midi_program: row.program,
            sound_id: row.sound_id.into(),
        }
    }
}

static INDEX: LazyLock<Index> = LazyLock::new(|| {
    let names = |(row, instrument): (usize, &'static InstrumentRow)| {
        let names = [instrument.id, instrument.name]
            .into_iter()
            .chain(instrument.aliases.iter().copied());
        names.map(move |name| (row, name))
    };
    Index::new(INSTRUMENTS.iter().enumerate().flat_map(names), true)
});

/// The rows whose name has all these words: the clarinets, the saxophones.
fn family(text: &str) -> Vec<usize> {
    let whole = |word: String| match word.as_str() {
        "bari" => "baritone".to_owned(),
        "sop" => "soprano".to_owned(),
        _ => word,
    };
    let said: Vec<String> = words(text)
        .into_iter()
        .filter(|word| word != "in")
        .map(whole)
        .collect();
    let belongs = |row: &InstrumentRow| {
        let name = words(row.name);
        !said.is_empty() && said.iter().all(|word| name.contains(word))
    };
    INSTRUMENTS
        .iter()
        .enumerate()
        .filter(|(_, row)| belongs(row))
        .map(|(row, _)| row)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::NameFault;

    #[test]
    fn names_that_teachers_type() {
        let check =
            |typed: &str, id: &str| assert_eq!(Instrument::named(typed).unwrap().id, id, "{typed}");
        check("alto sax", "alto-saxophone");
        check("altosax", "alto-saxophone");
        check("Eb alto saxophone", "alto-saxophone");
        check("Alto Saxophone in E♭", "alto-saxophone");
        check("alto saxophone (E flat)", "alto-saxophone");
        check("tenor sax", "tenor-saxophone");
        check("bari sax", "baritone-saxophone");
        check("soprano saxophone", "soprano-saxophone");
        check("horn", "horn-in-f");
        check("French Horn", "horn-in-f");
        check("F horn", "horn-in-f");
        check("Bb clarinet", "b-flat-clarinet");
        check("B♭ Clarinet", "b-flat-clarinet");
        check("clarinet in B♭", "b-flat-clarinet");
        check("clarinet in B flat", "b-flat-clarinet");
        check("bflat clarinet", "b-flat-clarinet");
        check("Bbclarinet", "b-flat-clarinet");
        check("clarinet in A", "a-clarinet");
        check("A clarinet", "a-clarinet");
        check("E-flat clarinet", "e-flat-clarinet");
        check("bass clarinet", "bass-clarinet");
        check("b-flat trumpet", "b-flat-trumpet");
        check("Trumpet in Bb", "b-flat-trumpet");
        check("C trumpet", "c-trumpet");
        check("euphonium", "euphonium");
        check("euphonium tc", "euphonium-treble-clef");
        check("euphonium T.C.", "euphonium-treble-clef");
        check("baritone horn", "baritone-treble-clef");
        check("tenor horn", "e-flat-alto-horn");
        check("flute", "flute");
        check("cor anglais", "english-horn");
        check("cello", "cello");
        check("violoncello", "cello");
        check("descant recorder", "soprano-recorder");
        check("string bass", "double-bass");
        check("concert pitch treble clef", "concert-treble");
        check("tenor", "tenor");
    }

    fn check_fault(typed: &str, expected: NameFault) {
        assert_eq!(
            Instrument::named(typed).unwrap_err().fault,
            expected,
            "{typed}"
        );
    }

    fn list(names: &[&str]) -> Vec<String> {
        names.iter().map(|&name| name.to_owned()).collect()
    }

    #[test]
    fn family_words_are_refused_with_the_list() {
        let several =
            |typed: &str, names: &[&str]| check_fault(typed, NameFault::Several(list(names)));
        several(
            "clarinet",
            &[
                "Clarinet in E♭",
                "Clarinet in B♭",
                "Clarinet in A",
                "Alto Clarinet in E♭",
                "Bass Clarinet in B♭",
            ],
        );
        several(
            "Sax",
            &[
                "Soprano Saxophone in B♭",
                "Alto Saxophone in E♭",
                "Tenor Saxophone in B♭",
                "Baritone Saxophone in E♭",
                "Bass Saxophone in B♭",
            ],
        );
        several(
            "recorder",
            &["Soprano Recorder", "Alto Recorder", "Tenor Recorder"],
        );
        several("trumpet", &["Trumpet in B♭", "Trumpet in C"]);
        several("piano", &["Piano (right hand)", "Piano (left hand)"]);
        several(
            "bari",
            &[
                "Baritone Saxophone in E♭",
                "Baritone Horn (treble clef)",
                "Baritone voice",
            ],
        );
        several(
            "sop",
            &[
                "Soprano Recorder",
                "Soprano Saxophone in B♭",
                "Soprano voice",
                "Mezzo-soprano voice",
            ],
        );
    }

    /// What is listed beside a name finds the same instrument.
    #[test]
    fn other_names() {
        for instrument in Instrument::catalogue() {
            for alias in instrument.aliases() {
                assert_eq!(Instrument::named(alias).unwrap(), instrument, "{alias}");
            }
        }
        let horn = Instrument::named("horn in f").unwrap();
        assert!(horn.aliases().contains(&"French horn"));
        let own = Instrument {
            id: "own".into(),
            ..horn
        };
        assert!(own.aliases().is_empty());
    }

    #[test]
    fn near_misses() {
        let near =
            |typed: &str, names: &[&str]| check_fault(typed, NameFault::Unknown(list(names)));
        near("alto saxaphone", &["alto saxophone"]);
        near("flut", &["flute"]);
        near("tromboen", &["trombone"]);
        near("kazoo", &[]);
        near("bari horn", &["Baritone Horn (treble clef)"]);
        near("", &[]);
        near("in", &[]);
    }

    #[test]
    fn register_breaks() {
        let check = |id: &str, below: Option<&str>| {
            let found = Instrument::named(id).unwrap().register_break;
            assert_eq!(
                found.map(|found| found.below.to_string()).as_deref(),
                below,
                "{id}"
            );
        };
        for clarinet in [
            "e-flat-clarinet",
            "b-flat-clarinet",
            "a-clarinet",
            "alto-clarinet",
            "bass-clarinet",
        ] {
            check(clarinet, Some("Bb4"));
        }
        for horn in [
            "soprano-saxophone",
            "alto-saxophone",
            "bass-saxophone",
            "flute",
            "piccolo",
        ] {
            check(horn, Some("C#5"));
        }
        check("b-flat-trumpet", None);
        check("oboe", None);
    }

    #[test]
    fn a_range_holds_by_sound() {
        let range = Instrument::named("trombone")
            .unwrap()
            .range(Level::Beginner);
        let check = |pitch: &str, expected: bool| {
            assert_eq!(range.holds(pitch.parse().unwrap()), expected, "{pitch}")
        };
        check("A2", true);
        check("G##2", true);
        check("G#2", false);
        check("B#3", true);
        check("C4", true);
        check("C#4", false);
        assert_eq!(range.twice_middle(), 45 + 60);
    }

    #[test]
    fn ranges_widen_with_the_level() {
        for instrument in Instrument::catalogue() {
            let mut outer = instrument.extreme;
            for level in Level::ALL.into_iter().rev() {
                let range = instrument.range(level);
                assert!(
                    outer.holds(range.low) && outer.holds(range.high),
                    "{} {level:?}",
                    instrument.id
                );
                outer = range;
            }
        }
    }
}
