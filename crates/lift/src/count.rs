//! The count of a phrase in the lesson's words.

use lesson::Phrase;
use rhythm::{Count, Fraction, Meter, NoWords, Sound, mixed};

use crate::request::LiftError;

/// A phrase counted.
#[derive(Debug)]
pub(crate) struct PhraseCount {
    pub count: String,
    /// What its numbers count, where that is less than the meter's.
    pub numbers: Option<&'static str>,
    pub remarks: Vec<String>,
}

/// The phrase's rhythm in words, by its meter's own numbers or, where those have
/// none for it, by numbers of half or a quarter of their value.
///
/// # Errors
/// Where the rhythm has no words.
pub(crate) fn counted(phrase: &Phrase) -> Result<PhraseCount, LiftError> {
    let sounds: Vec<Sound> = phrase
        .notes
        .iter()
        .map(|note| Sound {
            onset: note.onset,
            length: note.length,
            silent: note.pitch.is_none(),
        })
        .collect();
    let own = Count::aloud(&sounds, &phrase.meter);
    let finer = || {
        [2, 4].into_iter().find_map(|times| {
            let lower = phrase.meter.lower() * times;
            let numbered = phrase.meter.in_units_of(lower)?;
            let (_, name) = NUMBERS.iter().find(|(of, _)| *of == lower)?;
            Some((Count::aloud(&sounds, &numbered).ok()?, *name))
        })
    };
    match own {
        Ok(count) => Ok(PhraseCount {
            count,
            numbers: None,
            remarks: Vec::new(),
        }),
        Err(reason) => match finer() {
            Some((count, numbers)) => Ok(PhraseCount {
                remarks: vec![format!(
                    "its numbers count {numbers}, since those of {} have no words for the rhythm",
                    phrase.meter
                )],
                count,
                numbers: Some(numbers),
            }),
            None => Err(LiftError(without_words(reason, &phrase.meter))),
        },
    }
}

/// What numbers may count, by the lower number of a meter of them.
const NUMBERS: [(u16, &str); 4] = [
    (4, "quarters"),
    (8, "eighths"),
    (16, "sixteenths"),
    (32, "thirty-seconds"),
];

/// What the count has no word for.
fn without_words(reason: NoWords, meter: &Meter) -> String {
    let place = |onset: Fraction| {
        let bar = (onset / meter.bar()).floor();
        let beat = (onset - bar * meter.bar()) / meter.unit() + 1;
        format!("bar {}, beat {}", bar + 1, mixed(beat))
    };
    match reason {
        NoWords::Between(onset) => format!(
            "the count has no word for {} of the phrase: it knows halves, quarters and thirds of a \
             beat",
            place(onset)
        ),
        NoWords::Mixed(onset) => format!(
            "at {} of the phrase, thirds and halves or quarters of one beat meet, for which the \
             count has no words",
            place(onset)
        ),
        NoWords::NoFigure => format!("the count has no words for this rhythm in {meter}"),
    }
}

#[cfg(test)]
mod tests {
    use lesson::{Around, Named, PhraseNote, PlayedBy};
    use theory::{Interval, Pitch};

    use super::*;

    /// Onsets and lengths as `0+1/2`, silences in parentheses; the first one
    /// sets the pickup.
    fn check(meter: &str, rhythm: &str, expected: &str) {
        let meter: Meter = meter.parse().unwrap();
        let pitch: Pitch = "C5".parse().unwrap();
        let notes: Vec<PhraseNote> = rhythm
            .split_whitespace()
            .map(|word| {
                let plain = word.trim_matches(['(', ')']);
                let (onset, length) = plain.split_once('+').unwrap();
                PhraseNote {
                    onset: onset.parse().unwrap(),
                    length: length.parse().unwrap(),
                    pitch: (plain == word).then_some(pitch),
                }
            })
            .collect();
        let first = notes[0].onset;
        let phrase = Phrase {
            title: None,
            played_by: PlayedBy::default(),
            named: Named::Concert,
            written_to_sounding: Interval::UNISON,
            key: None,
            home: None,
            around: Around::default(),
            meter,
            pickup: if first < Fraction::ZERO {
                -first
            } else {
                Fraction::ZERO
            },
            notes,
            chords: Vec::new(),
        };
        let said = match counted(&phrase) {
            Ok(counted) => match counted.numbers {
                None => counted.count,
                Some(numbers) => format!("{numbers}: {}", counted.count),
            },
            Err(error) => error.to_string(),
        };
        assert_eq!(said, expected, "{rhythm}");
    }

    #[test]
    fn in_its_own_meter() {
        check("4/4", "0+1 1+1 2+1 3+1", "1 2 3 4");
        check("4/4", "0+3/2 3/2+1/2 2+2", "1-2 & 3");
        check("4/4", "0+9 9+3", "1 | -1 | -1 2");
        check("4/4", "-1+1 0+3", "4 | 1 (4)");
        check("3/4", "0+3/2 (3/2+1/2) 2+1", "1-2 (&) 3");
        check("6/8", "0+5/4 5/4+1/4 3/2+3/2", "1-3 & 4");
    }

    #[test]
    fn in_shorter_units() {
        check("2/2", "0+1/4 1/4+1/4 1/2+7/2", "quarters: 1 e &");
        check("4/4", "0+1/8 1/8+1/8 1/4+15/4", "eighths: 1 e &");
    }

    #[test]
    fn without_words() {
        check(
            "4/4",
            "0+1/5 1/5+19/5",
            "the count has no word for bar 1, beat 1 1/5 of the phrase: it knows halves, quarters and thirds of a beat",
        );
        check(
            "4/4",
            "0+1/3 1/3+1/6 1/2+1/2 1+1/5 6/5+14/5",
            "at bar 1, beat 1 1/2 of the phrase, thirds and halves or quarters of one beat meet, for which the count has no words",
        );
    }
}
