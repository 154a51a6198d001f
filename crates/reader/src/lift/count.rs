//! The count of a phrase in the lesson's words. What is said is read back:
//! only a count that gives the very rhythm leaves this file.

use lesson::Phrase;
use rhythm::{Count, CountWord, Fraction, Meter, count_word};

use crate::lift::LiftError;
use crate::place::mixed;

/// A phrase counted.
#[derive(Debug)]
pub(crate) struct Counted {
    pub meter: Meter,
    pub count: String,
    pub length: Option<String>,
    pub remarks: Vec<String>,
}

/// A count: a note or a silence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Slot {
    onset: Fraction,
    end: Fraction,
    silent: bool,
}

/// The phrase's rhythm in words, in its own meter or, where that has none for
/// it, in one whose numbers count half or a quarter of its beats.
///
/// # Errors
/// Where the rhythm has no words.
pub(crate) fn counted(phrase: &Phrase) -> Result<Counted, LiftError> {
    let slots = slots(phrase);
    let mut meter = Some(phrase.meter.clone());
    for halvings in 0..3 {
        let Some(own) = meter else { break };
        if let Some((count, length)) = words(&slots, phrase.pickup, &own) {
            let remarks = match halvings {
                0 => Vec::new(),
                _ => vec![format!(
                    "{} is counted as {own}, since its own count has no words for the rhythm",
                    phrase.meter
                )],
            };
            return Ok(Counted {
                meter: own,
                count,
                length,
                remarks,
            });
        }
        meter = halved(&own);
    }
    Err(LiftError(without_words(&slots, &phrase.meter)))
}

/// Counts without gaps from the first to the last bar's end.
fn slots(phrase: &Phrase) -> Vec<Slot> {
    let mut slots: Vec<Slot> = phrase
        .notes
        .iter()
        .map(|note| Slot {
            onset: note.onset,
            end: note.end(),
            silent: note.pitch.is_none(),
        })
        .collect();
    // Silence after the last note is written anew, for the bars it needs.
    while slots.last().is_some_and(|slot| slot.silent) {
        slots.pop();
    }
    slots
}

/// The count's words and length, if they give the rhythm when they are read.
fn words(slots: &[Slot], pickup: Fraction, meter: &Meter) -> Option<(String, Option<String>)> {
    let bar = meter.bar();
    let mut slots = slots.to_vec();
    let end = slots.last()?.end;
    let bars = ((end + pickup) / bar).ceil().max(Fraction::ONE);
    if bar * bars - pickup > end {
        slots.push(Slot {
            onset: end,
            end: bar * bars - pickup,
            silent: true,
        });
    }
    let slots = parted(&slots, meter);
    let last = slots.last()?.onset;
    let least = ((last + pickup) / bar).floor() + 1;
    let length = (bars != least).then(|| {
        let plural = if bars == Fraction::ONE { "" } else { "s" };
        format!("{bars} bar{plural}")
    });
    let text = text(&slots, meter)?;
    let read = Count::read(&text, meter, length.as_deref()).ok()?;
    let same = read.pickup == pickup
        && read.slots.len() == slots.len()
        && read.slots.iter().zip(&slots).all(|(read, slot)| {
            read.onset == slot.onset
                && read.onset + read.length == slot.end
                && read.silent == slot.silent
        });
    same.then_some((text, length))
}

/// Silences parted at bar lines, and at the beat that a note after them parts.
fn parted(slots: &[Slot], meter: &Meter) -> Vec<Slot> {
    let mut all = Vec::with_capacity(slots.len());
    for (at, slot) in slots.iter().enumerate() {
        if !slot.silent {
            all.push(*slot);
            continue;
        }
        let unit = meter.unit();
        let mut cuts: Vec<Fraction> = Vec::new();
        let mut line = ((slot.onset / meter.bar()).floor() + 1) * meter.bar();
        while line < slot.end {
            cuts.push(line);
            line += meter.bar();
        }
        let next = slots.get(at + 1).map(|next| next.onset);
        let beat = next.map(|next| (next / unit).floor() * unit);
        if let Some(beat) = beat.filter(|beat| slot.onset < *beat && *beat < slot.end) {
            cuts.push(beat);
        }
        cuts.sort_unstable();
        cuts.dedup();
        let mut onset = slot.onset;
        for cut in cuts.into_iter().chain([slot.end]) {
            all.push(Slot {
                onset,
                end: cut,
                silent: true,
            });
            onset = cut;
        }
    }
    all
}

/// The words, bar lines and parentheses; none where a count has no word.
fn text(slots: &[Slot], meter: &Meter) -> Option<String> {
    let mut words: Vec<String> = Vec::new();
    let mut open = false;
    let mut bar = (slots.first()?.onset / meter.bar()).floor();
    let mut last_number = None;
    for slot in slots {
        let own = (slot.onset / meter.bar()).floor();
        while bar < own {
            close(&mut words, &mut open);
            words.push("|".to_owned());
            bar += 1;
            last_number = None;
        }
        if !slot.silent {
            close(&mut words, &mut open);
        }
        let unit = ((slot.onset - meter.bar() * own) / meter.unit()).floor();
        let word = match count_word(meter, slot.onset, false)? {
            CountWord::Number(number) => {
                last_number = Some(unit);
                number.to_string()
            }
            // A part belongs to the number said before it in its bar.
            _ if last_number.is_some_and(|number| number != unit) => return None,
            CountWord::And => "&".to_owned(),
            CountWord::E => "e".to_owned(),
            CountWord::A => "a".to_owned(),
            CountWord::SecondThird => "trip".to_owned(),
            CountWord::LastThird => "let".to_owned(),
        };
        if slot.silent && !open {
            words.push(format!("({word}"));
            open = true;
        } else {
            words.push(word);
        }
    }
    close(&mut words, &mut open);
    Some(words.join(" "))
}

fn close(words: &mut [String], open: &mut bool) {
    if std::mem::take(open)
        && let Some(last) = words.last_mut()
    {
        last.push(')');
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
fn without_words(slots: &[Slot], meter: &Meter) -> String {
    let place = |onset: Fraction| {
        let bar = (onset / meter.bar()).floor();
        let beat = (onset - bar * meter.bar()) / meter.unit() + 1;
        format!("bar {}, beat {}", bar + 1, mixed(beat))
    };
    let fine = slots
        .iter()
        .find(|slot| count_word(meter, slot.onset, false).is_none());
    match fine {
        Some(slot) => format!(
            "the count has no word for the note at {} of the phrase: it knows halves, quarters and \
             thirds of a beat",
            place(slot.onset)
        ),
        None => "the count has no words for a note that is held over a whole bar, or over a beat \
                 into a part of it that thirds and halves share"
            .to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use lesson::{Named, PhraseNote};
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
            part: None,
            named: Named::Concert,
            written_to_sounding: Interval::UNISON,
            key: None,
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
            Ok(counted) => {
                let length = counted
                    .length
                    .map_or(String::new(), |length| format!("; {length}"));
                let meter = if counted.remarks.is_empty() {
                    String::new()
                } else {
                    format!("{}: ", counted.meter)
                };
                format!("{meter}{}{length}", counted.count)
            }
            Err(error) => error.to_string(),
        };
        assert_eq!(said, expected, "{rhythm}");
    }

    #[test]
    fn rhythms_have_words() {
        check("4/4", "0+1 1+1 2+1 3+1", "1 2 3 4");
        check(
            "4/4",
            "0+1/2 1/2+1/2 1+1/2 3/2+1/2 (2+1/2) 5/2+1/2 3+1/2 7/2+1/2",
            "1 & 2 & (3) & 4 &",
        );
        check(
            "4/4",
            "0+1/2 1/2+1/2 1+1/2 (3/2+1) 5/2+3/2",
            "1 & 2 (& 3) &",
        );
        check("4/4", "0+1/4 1/4+1/4 1/2+1/4 3/4+1/4 1+3", "1 e & a 2");
        check("4/4", "0+1/3 1/3+1/3 2/3+1/3 1+3", "1 trip let 2");
        check("4/4", "0+1 (1+3)", "1 (2)");
        check("4/4", "(0+1) 1+3", "(1) 2");
        check("4/4", "(0+2) 2+1 3+3 6+2", "(1) 3 4 | 3");
        check("4/4", "0+8", "1; 2 bars");
        check("4/4", "0+1 (1+7)", "1 (2)");
        check("4/4", "0+4 (4+4) 8+4", "1 | (1) | 1");
        check("4/4", "-1+1 0+1 1+1 2+2", "4 | 1 2 3 | (1)");
        check("4/4", "-1+1 0+1 1+1 2+1/2 (5/2+1/2)", "4 | 1 2 3 (&)");
        check("4/4", "-1+1 0+3", "4 | 1");
        check("4/4", "-1+1 0+4", "4 | 1 | (1)");
        check("4/4", "-1/2+1/2 0+2 2+3/2", "& | 1 3");
        check("6/8", "0+1/2 1/2+1/2 1+1/2 3/2+3/2", "1 2 3 4");
        check("6/8", "0+1/4 1/4+1/4 1/2+1 3/2+3/2", "1 & 2 4");
        check("7/8", "0+1 1+1 2+3/2", "1 3 5");
        check("3/4", "0+3/2 (3/2+1/2) 2+1", "6/8 = 2+2+2: 1 (4) 5");
    }

    /// A note held over a beat and left after it has no word in its own meter.
    #[test]
    fn held_over_a_beat() {
        check("4/4", "0+3/2 3/2+1/2 2+2", "8/8: 1 4 5");
        check("4/4", "0+1/2 1/2+1 3/2+5/2", "8/8: 1 2 4");
        check("4/4", "0+7/4 7/4+1/4 2+2", "16/16 = 4+4+4+4: 1 8 9");
        check("3/4", "0+3/2 3/2+3/2", "6/8 = 2+2+2: 1 4");
        check(
            "4/4",
            "0+5/3 5/3+1/3 2+2",
            "the count has no words for a note that is held over a whole bar, or over a beat into a part of it that thirds and halves share",
        );
        check(
            "4/4",
            "0+1/5 1/5+19/5",
            "the count has no word for the note at bar 1, beat 1 1/5 of the phrase: it knows halves, quarters and thirds of a beat",
        );
        check(
            "4/4",
            "0+9 9+3",
            "the count has no words for a note that is held over a whole bar, or over a beat into a part of it that thirds and halves share",
        );
    }
}
