//! The teacher's words over bars and statements of an exercise.

use lesson::{WordsOver, WordsPlace};
use rhythm::Ticks;
use score::{Cue, Measure};

use crate::compose::timing::Timing;
use crate::remark::{PrintGap, Remark};

/// Puts words over the places of an exercise's own measures; what names a
/// place that isn't there is told.
pub(crate) fn cues(said: &[WordsOver], timing: &Timing, measures: &mut [Measure]) -> Vec<Remark> {
    let mut nowhere = Vec::new();
    for WordsOver { place, words } in said {
        let found = match *place {
            WordsPlace::Bar(number) => bar(number, measures),
            WordsPlace::Statement(number) => statement(number, timing),
        };
        let measure = found.and_then(|(bar, at)| Some((measures.get_mut(bar)?, at)));
        match measure {
            Some((measure, at)) => {
                let cue = Cue {
                    at,
                    words: words.clone(),
                };
                let after = measure.cues.partition_point(|other| other.at <= at);
                measure.cues.insert(after, cue);
            }
            None => nowhere.push(Remark::Print(PrintGap::Words {
                place: *place,
                words: words.clone(),
            })),
        }
    }
    nowhere
}

/// A whole bar, from 1.
fn bar(number: u16, measures: &[Measure]) -> Option<(usize, u32)> {
    let mut whole = measures.iter().enumerate();
    let place = usize::from(number).checked_sub(1)?;
    let whole = whole
        .by_ref()
        .filter(|(_, measure)| !measure.implicit)
        .nth(place);
    whole.map(|(bar, _)| (bar, 0))
}

/// The bar and the tick in it of a statement's first note, from 1. A closing
/// root is none.
fn statement(number: u16, timing: &Timing) -> Option<(usize, u32)> {
    let begins = |at: &usize| {
        let of = timing.statements[*at];
        timing.numbers[*at] > 0
            && at
                .checked_sub(1)
                .is_none_or(|before| timing.statements[before] != of)
    };
    let place = usize::from(number).checked_sub(1)?;
    let note = (0..timing.events.len()).filter(begins).nth(place)?;
    let onset: Ticks = timing.events[note].onset;
    let bar = timing
        .bars
        .iter()
        .position(|bar| (bar.start..bar.start + bar.length).contains(&onset))?;
    let at = u32::try_from(onset - timing.bars[bar].start).ok()?;
    Some((bar, at))
}
