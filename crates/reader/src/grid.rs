//! The bars of a part: how long each is, which are pickups or halves of a bar
//! that a repeat cuts in two, and what the meter is where none is said.

use rhythm::{Fraction, Meter};

use crate::meter::likely;
use crate::part::{About, Measure, Part, Sound, Told};
use crate::place::mixed;
use crate::{Place, Warning};

/// A measure's place in time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct GridBar {
    pub meter: Meter,
    /// Where in its meter it begins, in quarters.
    pub from: Fraction,
    /// Its length in quarters.
    pub length: Fraction,
    /// What of the measure's beginning is only padding before a pickup.
    pub padding: Fraction,
}

/// The bars of a part, measure by measure, and what was guessed.
pub(crate) fn grid(part: &Part) -> (Vec<GridBar>, Vec<Told>) {
    let mut told = Vec::new();
    let said = part
        .measures
        .iter()
        .find_map(|measure| measure.meter.clone());
    let first = said.unwrap_or_else(|| {
        let likely = likely(part.measures.iter().map(|measure| measure.length));
        tell(
            part,
            0,
            &mut told,
            format!("no meter is given: {likely} was taken"),
        );
        likely
    });
    let mut bars: Vec<GridBar> = Vec::with_capacity(part.measures.len());
    for (at, measure) in part.measures.iter().enumerate() {
        let meter = measure.meter.clone().unwrap_or_else(|| first.clone());
        let bar = one(part, at, &meter, &bars, &mut told);
        bars.push(bar);
    }
    (bars, told)
}

fn one(part: &Part, at: usize, meter: &Meter, before: &[GridBar], told: &mut Vec<Told>) -> GridBar {
    let measure = &part.measures[at];
    let full = meter.bar();
    let length = measure.length;
    let bar = |from, length| GridBar {
        meter: meter.clone(),
        from,
        length,
        padding: Fraction::ZERO,
    };
    if length == Fraction::ZERO {
        return bar(Fraction::ZERO, full);
    }
    if length > full {
        let said = mixed(length / meter.unit());
        let whole = mixed(full / meter.unit());
        tell(
            part,
            at,
            told,
            format!("the bar holds {said} beats, more than its meter's {whole}"),
        );
        return bar(Fraction::ZERO, length);
    }
    let only = part.measures.len() == 1;
    if at == 0 && length == full {
        let padding = padding(measure);
        if padding > Fraction::ZERO {
            tell(
                part,
                at,
                told,
                "the hidden rests before the first note were taken for the room before a pickup"
                    .to_owned(),
            );
            return GridBar {
                padding,
                ..bar(padding, full - padding)
            };
        }
    }
    if length == full {
        return bar(Fraction::ZERO, full);
    }
    if at == 0 && !only {
        if !says_uncounted(measure) {
            tell(
                part,
                at,
                told,
                "the first bar is short: it was taken as a pickup".to_owned(),
            );
        }
        return bar(full - length, length);
    }
    // The second half of a bar that was cut in two.
    if let Some(half) = before.last()
        && half.from == Fraction::ZERO
        && half.meter == *meter
        && half.length + length == full
    {
        return bar(half.length, length);
    }
    let pickup = before.first().filter(|first| first.from > Fraction::ZERO);
    let pickup = pickup.map_or(Fraction::ZERO, |first| first.length);
    let completes = pickup > Fraction::ZERO && length + pickup == full && ends_here(part, at);
    let next = part.measures.get(at + 1);
    let cut = next.is_some_and(|next| {
        let next_meter = next.meter.as_ref().unwrap_or(meter);
        next_meter == meter
            && next.length + length == full
            && (says_uncounted(next) || ends_here(part, at))
    });
    if completes || cut || measure.implicit {
        return bar(Fraction::ZERO, length);
    }
    let said = mixed(length / meter.unit());
    let whole = mixed(full / meter.unit());
    tell(
        part,
        at,
        told,
        format!("the bar holds {said} of its {whole} beats: the rest was taken as silence"),
    );
    bar(Fraction::ZERO, full)
}

/// Whether a measure says that it isn't counted: by its flag, or by a number
/// such as 0 or X1.
fn says_uncounted(measure: &Measure) -> bool {
    measure.implicit || measure.number == "0" || measure.number.starts_with(['X', 'x'])
}

/// Whether music may end or turn back after a measure.
fn ends_here(part: &Part, at: usize) -> bool {
    let lines = &part.measures[at].lines;
    let next = part.measures.get(at + 1).map(|next| &next.lines);
    lines.backward
        || lines.ending_over
        || lines.forward_after
        || next.is_none_or(|next| next.forward || next.backward_before || next.ending.is_some())
}

/// The hidden rests before a measure's first note; none if it has chords
/// there, or no note at all.
fn padding(measure: &Measure) -> Fraction {
    let first = measure
        .notes
        .iter()
        .filter(|note| !matches!(note.sound, Sound::Hidden))
        .map(|note| note.at)
        .min();
    let Some(first) = first else {
        return Fraction::ZERO;
    };
    let hidden = measure.notes.iter().any(|note| note.at < first);
    let chords = measure.chords.iter().any(|chord| chord.at < first);
    if hidden && !chords {
        first
    } else {
        Fraction::ZERO
    }
}

fn tell(part: &Part, at: usize, told: &mut Vec<Told>, message: String) {
    let place = Place {
        measure: part
            .measures
            .get(at)
            .map(|measure| crate::shown::short(&measure.number)),
        ..Place::default()
    };
    told.push(Told {
        about: About::All,
        warning: Warning { place, message },
        measure: at,
    });
}
