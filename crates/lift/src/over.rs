//! The chords over a phrase: whether they are several, what they close on,
//! and how the bars of changes are written.

use lesson::{Phrase, PlacedChord};
use rhythm::{CountWord, Counting, Fraction, count_word};
use theory::{Degree, Interval, Mode, PitchName};

/// The chords that are heard while it lasts; silence has none.
fn heard(phrase: &Phrase) -> impl DoubleEndedIterator<Item = &PlacedChord> {
    let last = phrase.notes.iter().rfind(|note| note.pitch.is_some());
    let end = last.map(|note| note.end());
    let heard = phrase.chords.iter();
    heard
        .filter(move |chord| end.is_some_and(|end| chord.at < end) && !chord.symbol.chord.is_none())
}

/// Whether they stand on more than one root.
pub(crate) fn has_several_roots(phrase: &Phrase) -> bool {
    let mut roots = heard(phrase).map(|chord| chord.symbol.root.class());
    let first = roots.next();
    roots.any(|root| Some(root) != first)
}

/// The last of several, where it can be a tonic: a triad or more with a
/// perfect fifth, and with a major third no minor seventh.
pub(crate) fn closing(phrase: &Phrase) -> Option<(PitchName, Mode)> {
    let symbol = &heard(phrase).next_back()?.symbol;
    let has = |number, alteration| {
        symbol
            .chord
            .degrees()
            .contains(&Degree::new(number, alteration))
    };
    if !has_several_roots(phrase) || !has(5, 0) {
        return None;
    }
    match (has(3, 0), has(3, -1)) {
        (true, false) if !has(7, -1) => Some((symbol.root, Mode::Major)),
        (false, true) => Some((symbol.root, Mode::Minor)),
        _ => None,
    }
}

/// `| Dm7 | G7 (4) Db7 | Cmaj7 |`, moved by an interval; none where the phrase
/// has no chords.
pub(crate) fn bars(phrase: &Phrase, by: Interval) -> Option<String> {
    if phrase.chords.is_empty() {
        return None;
    }
    let bar = phrase.meter.bar();
    let end = phrase.notes.last()?.end();
    let mut said = String::from("|");
    let pickup: Vec<&PlacedChord> = phrase
        .chords
        .iter()
        .filter(|chord| chord.at < Fraction::ZERO)
        .collect();
    if !pickup.is_empty() {
        said.push_str(" pickup");
        for chord in pickup {
            said.push_str(&placed(phrase, chord, by));
        }
        said.push_str(" |");
    }
    let mut start = Fraction::ZERO;
    while start < end {
        let within = |chord: &&PlacedChord| (start..start + bar).contains(&chord.at);
        let mut any = false;
        for chord in phrase.chords.iter().filter(within) {
            any = true;
            if chord.at == start {
                said.push_str(&format!(" {}", named(chord, by)));
            } else {
                said.push_str(&placed(phrase, chord, by));
            }
        }
        if !any {
            // it goes on; "same" would say the whole bar before again
            let before = phrase.chords.iter().rfind(|chord| chord.at < start);
            let on = before.map_or("same".to_owned(), |chord| named(chord, by));
            said.push_str(&format!(" {on}"));
        }
        said.push_str(" |");
        start += bar;
    }
    Some(said)
}

/// A chord after the count that it comes in on.
fn placed(phrase: &Phrase, chord: &PlacedChord, by: Interval) -> String {
    let bar = phrase.meter.bar();
    let at = chord.at - (chord.at / bar).floor() * bar;
    let beat = (at / phrase.meter.unit()).floor() + 1;
    let count = match count_word(&phrase.meter, at, Counting::default()) {
        Some(CountWord::Number(number)) => number.to_string(),
        Some(word) => format!("{beat}{word}"),
        None => beat.to_string(),
    };
    format!(" ({count}) {}", named(chord, by))
}

fn named(chord: &PlacedChord, by: Interval) -> String {
    if chord.symbol.chord.is_none() {
        return chord.symbol.to_string();
    }
    chord.symbol.transposed(by).to_string()
}

#[cfg(test)]
pub(crate) mod tests {
    use lesson::{Around, Named, PhraseNote, PlayedBy};

    use super::*;

    /// Quarters in 4/4 without a key, with a chord to each bar.
    pub(crate) fn made(pitches: &str, chords: &str) -> Phrase {
        let notes = pitches.split_whitespace().zip(0i64..);
        let notes = notes.map(|(pitch, at)| PhraseNote {
            onset: at.into(),
            length: 1.into(),
            pitch: pitch.parse().ok(),
        });
        let chords = chords.split_whitespace().zip(0i64..);
        Phrase {
            title: None,
            played_by: PlayedBy::default(),
            named: Named::Concert,
            written_to_sounding: Interval::UNISON,
            key: None,
            home: None,
            around: Around::default(),
            meter: "4/4".parse().unwrap(),
            pickup: Fraction::ZERO,
            notes: notes.collect(),
            chords: chords
                .map(|(symbol, bar)| PlacedChord {
                    at: (4 * bar).into(),
                    symbol: symbol.parse().unwrap(),
                })
                .collect(),
        }
    }

    fn check(chords: &str, several: bool, closes: Option<(&str, Mode)>) {
        let phrase = made(&"C5 ".repeat(4 * chords.split_whitespace().count()), chords);
        assert_eq!(has_several_roots(&phrase), several, "{chords}");
        let found = closing(&phrase).map(|(tonic, mode)| (tonic.to_string(), mode));
        let expected = closes.map(|(tonic, mode)| (tonic.to_owned(), mode));
        assert_eq!(found, expected, "{chords}");
    }

    #[test]
    fn what_chords_close_on() {
        check("Dm7 G7 Cmaj7", true, Some(("C", Mode::Major)));
        check("Dm7(b5) G7 Cm6", true, Some(("C", Mode::Minor)));
        check("Am7 D7", true, None);
        check("C7 C7 Cm", false, None);
        check("Fmaj7 Bm7(b5)", true, None);
        check("Dm7 N.C.", false, None);
        check("", false, None);
    }

    #[test]
    fn bars_in_another_key() {
        let phrase = made(&"F5 ".repeat(12), "Gm7 C7/E Fmaj7");
        let by = Interval::from_coordinates(1, 0);
        assert_eq!(bars(&phrase, by).as_deref(), Some("| Dm7 | G7/B | Cmaj7 |"));
        let held = bars(&made(&"F5 ".repeat(12), "Gm7 C7"), by);
        assert_eq!(held.as_deref(), Some("| Dm7 | G7 | G7 |"));
        let as_it_is = bars(&phrase, Interval::UNISON);
        assert_eq!(as_it_is.as_deref(), Some("| Gm7 | C7/E | Fmaj7 |"));
    }
}
