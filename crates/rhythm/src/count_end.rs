//! How long each count lasts, and the figure with them.

use std::ops::Range;

use crate::length::{Length, MOST_BARS, length};
use crate::{Count, CountMistake, Counting, Fraction, Meter, Slot};

/// The most counts a figure may have.
pub(crate) const MOST_COUNTS: usize = 2_000;

/// A count before its end is known.
pub(crate) struct Onset {
    /// Quarters from the first bar line.
    pub at: Fraction,
    pub kind: Kind,
    pub span: Range<usize>,
}

/// What happens on a count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    Note,
    Silence,
    /// What came before it goes on.
    Held,
}

/// Reads a length, if one is said; with its text.
///
/// # Errors
/// The one mistake in it.
pub(crate) fn read_length<'a>(
    said: Option<&'a str>,
    meter: &Meter,
) -> Result<Option<(Length, &'a str)>, CountMistake> {
    said.map(|text| length(text, meter).map(|length| (length, text)))
        .transpose()
}

/// Gives each count its length, and the figure its own; with the bytes at which
/// each slot is counted.
pub(crate) fn counted_out(
    mut counted: Vec<Onset>,
    pickup: Fraction,
    meter: &Meter,
    said: Option<(Length, &str)>,
    text_length: usize,
) -> Result<(Count, Vec<Range<usize>>), Vec<CountMistake>> {
    let whole =
        |message: String, help: &str| vec![CountMistake::in_count(0..text_length, message, help)];
    let (Some(first), Some(last)) = (
        counted.first().map(|one| one.at),
        counted.last().map(|one| one.at),
    ) else {
        return Err(whole(
            "nothing is counted".to_owned(),
            "give the figure at least one note",
        ));
    };
    if last >= meter.bar() * MOST_BARS || counted.len() > MOST_COUNTS {
        let message = format!("a figure lasts {MOST_BARS} bars and {MOST_COUNTS} counts at most");
        return Err(whole(message, "write a shorter figure"));
    }
    let shown = closing_rest(&counted, pickup, meter, said.map(|(length, _)| length));
    let closes_with_rest = shown < counted.len();
    counted.truncate(shown);
    let last = counted.last().map_or(first, |one| one.at);
    let (whole, end) = extent(first, last, pickup, meter, said).map_err(|mistake| vec![mistake])?;
    counted.retain(|one| one.kind != Kind::Held);
    let ends: Vec<Fraction> = counted
        .iter()
        .skip(1)
        .map(|next| next.at)
        .chain([end])
        .collect();
    let spans = counted.iter().map(|one| one.span.clone()).collect();
    let slots = counted.into_iter().zip(ends).map(|(one, end)| Slot {
        onset: one.at,
        length: end - one.at,
        silent: one.kind == Kind::Silence,
    });
    let count = Count {
        slots: slots.collect(),
        pickup,
        length: whole,
        closes_with_rest,
        counting: Counting::default(),
    };
    Ok((count, spans))
}

/// How many counts are left once the silence at the end gives way to the
/// next pickup: all of them, if it begins after its place in the last bar or
/// goes on into another bar.
fn closing_rest(counted: &[Onset], pickup: Fraction, meter: &Meter, said: Option<Length>) -> usize {
    let all = counted.len();
    let silent_from = silent_from(counted);
    let (Some(sounds), Some(rest), Some(last)) = (
        silent_from.checked_sub(1).map(|at| &counted[at]),
        counted.get(silent_from),
        counted.last(),
    ) else {
        return all;
    };
    let bar_line = match said {
        None => bars_to(sounds.at, pickup, meter) * meter.bar(),
        Some(Length::Bars(bars)) => meter.bar() * bars,
        Some(Length::Beats(_)) => return all,
    };
    let next = bar_line - pickup;
    if rest.at > next || last.at >= bar_line {
        return all;
    }
    counted
        .iter()
        .position(|one| one.at >= next)
        .map_or(all, |at| at.max(silent_from))
}

/// Where the silence at the end begins; what is held in it belongs to it.
fn silent_from(counted: &[Onset]) -> usize {
    let sounding = counted.iter().rposition(|one| one.kind == Kind::Note);
    let from = sounding.unwrap_or(0);
    counted[from..]
        .iter()
        .position(|one| one.kind == Kind::Silence)
        .map_or(counted.len(), |at| from + at)
}

/// The fewest bars in which a count sounds at least a little before the next
/// pickup.
fn bars_to(at: Fraction, pickup: Fraction, meter: &Meter) -> Fraction {
    ((at + pickup) / meter.bar()).floor() + 1
}

/// How long the figure is, and where its last count ends.
fn extent(
    first: Fraction,
    last: Fraction,
    pickup: Fraction,
    meter: &Meter,
    said: Option<(Length, &str)>,
) -> Result<(Fraction, Fraction), CountMistake> {
    let Some((length, text)) = said else {
        let whole = bars_to(last, pickup, meter) * meter.bar();
        return Ok((whole, whole - pickup));
    };
    let whole = length.quarters(meter);
    let (from, end) = match length {
        Length::Beats(_) if pickup > Fraction::ZERO => {
            let message = "a figure with a pickup repeats in whole bars".to_owned();
            let help = "say its length in bars, as in \"2 bars\"";
            return Err(CountMistake::in_length(text, message, help));
        }
        Length::Bars(_) => (Fraction::ZERO, whole - pickup),
        Length::Beats(_) => (first, first + whole),
    };
    if last < end {
        return Ok((whole, end));
    }
    let message = format!("“{text}” is shorter than the count");
    let help = format!(
        "the last count is {} into the figure: say more than that, or leave `length` out",
        beats_said(last + pickup - from, meter)
    );
    Err(CountMistake::in_length(text, message, &help))
}

/// A time in whole beats, for a message.
fn beats_said(time: Fraction, meter: &Meter) -> String {
    let beats = (time / meter.beat()).floor().to_integer();
    if beats == 1 {
        "1 beat".to_owned()
    } else {
        format!("{beats} beats")
    }
}
