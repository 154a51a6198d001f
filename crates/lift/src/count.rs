//! The count of a phrase in the lesson's words.

use lesson::Phrase;
use rhythm::{Count, Fraction, Meter, NoWords, Sound, mixed};

use crate::LiftError;

/// A phrase counted.
#[derive(Debug)]
pub(crate) struct Counted {
    pub meter: Meter,
    pub count: String,
    pub remarks: Vec<String>,
}

/// The phrase's rhythm in words, in its own meter or, where that has none for
/// it, in one whose numbers count half or a quarter of its beats.
///
/// # Errors
/// Where the rhythm has no words.
pub(crate) fn counted(phrase: &Phrase) -> Result<Counted, LiftError> {
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
        let half = halved(&phrase.meter)?;
        let meters = [halved(&half), Some(half)];
        let said = |meter: Meter| Some((Count::aloud(&sounds, &meter).ok()?, meter));
        meters.into_iter().rev().flatten().find_map(said)
    };
    match own {
        Ok(count) => Ok(Counted {
            meter: phrase.meter.clone(),
            count,
            remarks: Vec::new(),
        }),
        Err(reason) => match finer() {
            Some((count, meter)) => Ok(Counted {
                remarks: vec![format!(
                    "{} is counted as {meter}, since its own count has no words for the rhythm",
                    phrase.meter
                )],
                meter,
                count,
            }),
            None => Err(LiftError(without_words(reason, &phrase.meter))),
        },
    }
}

/// The meter with twice the numbers to a bar, its groups kept.
fn halved(meter: &Meter) -> Option<Meter> {
    let groups: Vec<String> = meter
        .groups()
        .iter()
        .map(|group| (group * 2).to_string())
        .collect();
    format!(
        "{}/{} = {}",
        meter.upper() * 2,
        meter.lower() * 2,
        groups.join("+")
    )
    .parse()
    .ok()
}

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
            Ok(counted) if counted.remarks.is_empty() => counted.count,
            Ok(counted) => format!("{}: {}", counted.meter, counted.count),
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
        check("2/2", "0+1/4 1/4+1/4 1/2+7/2", "4/4 = 2+2: 1 e &");
        check("4/4", "0+1/8 1/8+1/8 1/4+15/4", "8/8: 1 e &");
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
