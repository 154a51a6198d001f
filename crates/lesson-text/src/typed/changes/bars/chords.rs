//! The chords of a bar: spread over its beats, or after their counts.

use std::ops::Range;

use lesson::PlacedChord;
use rhythm::{Count, Fraction, Meter};
use theory::ChordSymbol;

use crate::mistakes::name_fault::name_fault;
use crate::mistakes::report::Report;
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;

/// A word of a bar, and its bytes in the text.
pub(super) type Word<'t> = (&'t str, Range<usize>);

/// What the chords of a bar are read by.
pub(super) struct BarChords<'r> {
    pub text: &'r Text,
    pub meter: &'r Meter,
    /// The last bar's chords before it, for `same`.
    pub before: Option<&'r [PlacedChord]>,
}

impl BarChords<'_> {
    /// The chords of a bar, spread over its beats or placed by the count.
    pub fn read(&self, words: &[Word<'_>], report: &mut Report<'_>) -> Option<Vec<PlacedChord>> {
        if let [("same", at)] = words {
            if self.before.is_none() {
                fault(
                    self.text,
                    at,
                    "there is no bar before that this could be the same as",
                    "write its chords",
                    report,
                );
            }
            // In a shorter bar, what comes in time.
            let mut chords = self.before?.to_vec();
            chords.retain(|chord| chord.at < self.meter.bar());
            return Some(chords);
        }
        let mut chords: Vec<(Option<Fraction>, ChordSymbol)> = Vec::new();
        let mut at = None;
        let mut good = true;
        for (word, span) in words {
            if let Some(count) = word.strip_prefix('(').and_then(|w| w.strip_suffix(')')) {
                at = self.count(count, span, report);
                good &= at.is_some();
                continue;
            }
            match word.parse::<ChordSymbol>() {
                Ok(symbol) => chords.push((at.take(), symbol)),
                Err(error) => {
                    let span = self.text.part(report, span);
                    report.note(name_fault(&span, &error, "chord", "chords"));
                    good = false;
                }
            }
        }
        if let (Some(_), Some((_, span))) = (at, words.last()) {
            fault(
                self.text,
                span,
                "no chord follows this count",
                "write it after the count",
                report,
            );
            return None;
        }
        good.then(|| self.placed(chords, words, report))?
    }

    fn placed(
        &self,
        chords: Vec<(Option<Fraction>, ChordSymbol)>,
        words: &[Word<'_>],
        report: &mut Report<'_>,
    ) -> Option<Vec<PlacedChord>> {
        let whole = words.first()?.1.start..words.last()?.1.end;
        let counted = chords.iter().any(|(at, _)| at.is_some());
        let places: Option<Vec<Fraction>> = if counted {
            let zero = |index: usize| (index == 0).then_some(Fraction::ZERO);
            let places = chords.iter().enumerate();
            places.map(|(index, (at, _))| at.or(zero(index))).collect()
        } else {
            spread(self.meter, chords.len())
        };
        let rising = places.filter(|places| places.windows(2).all(|pair| pair[0] < pair[1]));
        let Some(places) = rising else {
            let (message, help) = if counted {
                (
                    "it isn't clear where each chord of this bar begins".to_owned(),
                    "write the count before each chord but the first, in order: Gm7 (3&) C7",
                )
            } else {
                (
                    format!("{} chords are more than this bar has beats", chords.len()),
                    "write the count before each chord but the first: Gm7 (2&) C7",
                )
            };
            fault(self.text, &whole, &message, help, report);
            return None;
        };
        let chords = chords.into_iter().zip(places);
        Some(
            chords
                .map(|((_, symbol), at)| PlacedChord { at, symbol })
                .collect(),
        )
    }

    /// `3`, `3&`: where the last count of it falls.
    fn count(&self, said: &str, span: &Range<usize>, report: &mut Report<'_>) -> Option<Fraction> {
        let mut spaced = String::new();
        for letter in said.chars() {
            if !letter.is_ascii_digit() && spaced.ends_with(|c: char| c.is_ascii_digit()) {
                spaced.push(' ');
            }
            spaced.push(letter);
        }
        let read = Count::read_with_spans(&spaced, self.meter, None, None).ok();
        let at = read
            .filter(|(count, _)| count.pickup == Fraction::ZERO)
            .and_then(|(count, places)| count.slots.into_iter().zip(places).next_back())
            .filter(|(_, span)| span.end == spaced.trim_end().len())
            .map(|(last, _)| last.onset)
            .filter(|at| *at >= Fraction::ZERO && *at < self.meter.bar());
        if at.is_none() {
            fault(
                self.text,
                span,
                &format!("{} is no count of a bar of {}", shown(said), self.meter),
                "write the count in parentheses before its chord: (3) C7, or (3&) C7",
                report,
            );
        }
        at
    }
}

/// Chords over the beats of a bar, the earlier ones longer where they aren't
/// even; unequal groups take one each if they are as many.
fn spread(meter: &Meter, count: usize) -> Option<Vec<Fraction>> {
    let mut beats = meter.beats();
    if count > beats.len() {
        let unit = meter.unit();
        beats = (0..i64::from(meter.upper())).map(|at| unit * at).collect();
    }
    let (each, longer) = (beats.len() / count, beats.len() % count);
    (each > 0).then(|| {
        (0..count)
            .map(|index| beats[index * each + index.min(longer)])
            .collect()
    })
}

/// Tells of a fault in the words of some bars.
pub(super) fn fault(
    text: &Text,
    at: &Range<usize>,
    message: &str,
    help: &str,
    report: &mut Report<'_>,
) {
    report.mistake(&text.part(report, at), message, help);
}
