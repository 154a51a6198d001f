//! The chords over a phrase, as the bars of changes are written.

use lesson::{Phrase, PlacedChord};
use rhythm::{CountWord, Counting, Fraction, count_word};

/// `| Dm7 | G7 (4) Db7 | Cmaj7 |`; none where the phrase has no chords.
pub(crate) fn bars(phrase: &Phrase) -> Option<String> {
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
            said.push_str(&placed(phrase, chord, bar));
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
                said.push_str(&format!(" {}", chord.symbol));
            } else {
                said.push_str(&placed(phrase, chord, bar));
            }
        }
        if !any {
            said.push_str(" same");
        }
        said.push_str(" |");
        start += bar;
    }
    Some(said)
}

/// A chord after the count that it comes in on.
fn placed(phrase: &Phrase, chord: &PlacedChord, bar: Fraction) -> String {
    let at = chord.at - (chord.at / bar).floor() * bar;
    let beat = (at / phrase.meter.unit()).floor() + 1;
    let count = match count_word(&phrase.meter, at, Counting::default()) {
        Some(CountWord::Number(number)) => number.to_string(),
        Some(word) => format!("{beat}{word}"),
        None => beat.to_string(),
    };
    format!(" ({count}) {}", chord.symbol)
}
