//! The bars of a part: how long each is, which are pickups or halves of a bar
//! that a repeat cuts in two, and what the meter is where none is said.

use std::ops::Range;

use rhythm::{Fraction, Meter, mixed};

use crate::meter::likely;
use crate::part::{Concern, Measure, Part, PlacedWarning, Sound};
use crate::pitch::WithGuess;
use crate::time::add;
use crate::{Place, Warning};

/// A measure's place in time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct GridBar {
    /// The meter that it fills: its own where it holds more than the one that
    /// is said.
    pub meter: Meter,
    /// The meter that is said.
    pub said: Meter,
    /// Where in its meter it begins, in quarters.
    pub from: Fraction,
    /// Its length in quarters.
    pub length: Fraction,
    /// What of the measure's beginning is only padding before a pickup.
    pub padding: Fraction,
}

/// The bars of a part, measure by measure, and what was guessed.
pub(crate) fn grid(part: &Part) -> (Vec<GridBar>, Vec<PlacedWarning>) {
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
    while let Some(measure) = part.measures.get(bars.len()) {
        let meter = measure.meter.clone().unwrap_or_else(|| first.clone());
        let pieces = pieces(part, bars.len(), &meter);
        if pieces < 2 {
            let (bar, guess) = GridMeasure::of(part, &meter, &bars).bar();
            if let Some(guess) = guess {
                tell(part, bars.len(), &mut told, guess);
            }
            bars.push(bar);
            continue;
        }
        let mut from = Fraction::ZERO;
        for at in bars.len()..bars.len() + pieces {
            let length = part.measures[at].length;
            bars.push(GridBar {
                meter: meter.clone(),
                said: meter.clone(),
                from,
                length,
                padding: Fraction::ZERO,
            });
            from += length;
        }
    }
    (bars, told)
}

/// The most measures that a bar is cut into.
const MOST_PIECES: usize = 4;

/// Into how many measures the bar that begins here was cut: neighbours that
/// are short and fill one bar together, whatever their numbers and flags say.
fn pieces(part: &Part, at: usize, meter: &Meter) -> usize {
    let full = meter.bar();
    let mut sum = Fraction::ZERO;
    let mut pieces = 0;
    let short = |measure: &Measure| measure.length > Fraction::ZERO && measure.length < full;
    for measure in part.measures[at..].iter().take(MOST_PIECES) {
        let same = pieces == 0 || measure.meter.as_ref().is_none_or(|other| other == meter);
        if !same || !short(measure) {
            return 0;
        }
        pieces += 1;
        sum = add(sum, measure.length).unwrap_or(full + full);
        if sum >= full {
            break;
        }
    }
    // What begins the piece and says that it isn't counted is a pickup, and
    // so is what leads into a repeat.
    let first = &part.measures[at];
    let leads = part
        .measures
        .get(at + 1)
        .is_some_and(|next| next.lines.forward);
    let pickup = at == 0 && (says_uncounted(first) || first.lines.forward_after || leads);
    if sum == full && !pickup { pieces } else { 0 }
}

/// The measures that are one bar with the one at a place: its pieces, unless
/// music may turn back or end between them.
pub(crate) fn whole_bar(part: &Part, bars: &[GridBar], at: usize) -> Range<usize> {
    let goes_on = |at: usize| {
        bars.get(at).is_some_and(|bar| bar.from > Fraction::ZERO)
            && at > 0
            && !ends_here(part, at - 1)
    };
    let mut range = at..at + 1;
    while range.start > 0 && goes_on(range.start) {
        range.start -= 1;
    }
    while goes_on(range.end) {
        range.end += 1;
    }
    range
}

/// A measure that is a bar by itself, and what stands around it.
struct GridMeasure<'a> {
    part: &'a Part,
    meter: &'a Meter,
    measure: &'a Measure,
    /// Its place.
    at: usize,
    /// The length of the pickup at the part's beginning.
    pickup: Fraction,
}

impl<'a> GridMeasure<'a> {
    /// The measure after some bars.
    fn of(part: &'a Part, meter: &'a Meter, before: &[GridBar]) -> GridMeasure<'a> {
        let pickup = before.first().filter(|first| first.from > Fraction::ZERO);
        GridMeasure {
            part,
            meter,
            measure: &part.measures[before.len()],
            at: before.len(),
            pickup: pickup.map_or(Fraction::ZERO, |first| first.length),
        }
    }

    fn starting(&self, from: Fraction, length: Fraction) -> GridBar {
        GridBar {
            meter: self.meter.clone(),
            said: self.meter.clone(),
            from,
            length,
            padding: Fraction::ZERO,
        }
    }

    /// Its bar, and what was guessed.
    fn bar(&self) -> WithGuess<GridBar> {
        let full = self.meter.bar();
        let length = self.measure.length;
        if length == Fraction::ZERO {
            return (self.starting(Fraction::ZERO, full), None);
        }
        if length > full {
            return self.overfull();
        }
        if length < full {
            return self.short();
        }
        let padding = match self.at {
            0 => padding(self.measure),
            _ => Fraction::ZERO,
        };
        if padding == Fraction::ZERO {
            return (self.starting(Fraction::ZERO, full), None);
        }
        let guess =
            "the hidden rests before the first note were taken for the room before a pickup";
        let bar = GridBar {
            padding,
            ..self.starting(padding, full - padding)
        };
        (bar, Some(guess.to_owned()))
    }

    /// One that holds more than its meter does.
    fn overfull(&self) -> WithGuess<GridBar> {
        let [said, whole] = self.beats();
        let length = self.measure.length;
        let bar = GridBar {
            meter: filled(length, self.meter),
            ..self.starting(Fraction::ZERO, length)
        };
        let guess = format!("the bar holds {said} beats, more than its meter's {whole}");
        (bar, Some(guess))
    }

    /// One that holds less than its meter does.
    fn short(&self) -> WithGuess<GridBar> {
        let (part, at) = (self.part, self.at);
        let full = self.meter.bar();
        let length = self.measure.length;
        let only = part.measures.len() == 1;
        if at == 0 && !only {
            let guess = "the first bar is short: it was taken as a pickup".to_owned();
            let guess = Some(guess).filter(|_| !says_uncounted(self.measure));
            return (self.starting(full - length, length), guess);
        }
        let completes = self.pickup > Fraction::ZERO && length + self.pickup == full;
        // Where music turns back or a section begins or ends, a bar may be
        // short: what leads into a section, and what leaves room for that.
        let begins = at > 0 && ends_here(part, at - 1);
        let ends = ends_here(part, at);
        let last = at + 1 == part.measures.len();
        if begins && !ends {
            return (self.starting(full - length, length), None);
        }
        if (completes && ends) || self.measure.implicit || (ends && !last) {
            return (self.starting(Fraction::ZERO, length), None);
        }
        let [said, whole] = self.beats();
        let guess =
            format!("the bar holds {said} of its {whole} beats: the rest was taken as silence");
        (self.starting(Fraction::ZERO, full), Some(guess))
    }

    /// The beats that it holds, and those of its meter.
    fn beats(&self) -> [String; 2] {
        let unit = self.meter.unit();
        [self.measure.length, self.meter.bar()].map(|length| mixed(length / unit))
    }
}

/// The meter that a length fills, in the lower number of the one that is said
/// or the next finer that counts it.
fn filled(length: Fraction, said: &Meter) -> Meter {
    let lowers = [said.lower(), 8, 16, 32].into_iter();
    let meter = |lower| {
        let units = length * Fraction::new(i64::from(lower), 4);
        let text = units
            .is_integer()
            .then(|| format!("{}/{lower}", units.to_integer()))?;
        text.parse().ok()
    };
    lowers
        .filter(|lower| *lower >= said.lower())
        .find_map(meter)
        .unwrap_or_else(|| said.clone())
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

fn tell(part: &Part, at: usize, told: &mut Vec<PlacedWarning>, message: String) {
    let place = Place {
        measure: part
            .measures
            .get(at)
            .map(|measure| crate::shown::short(&measure.number)),
        ..Place::default()
    };
    told.push(PlacedWarning {
        about: Concern::All,
        warning: Warning { place, message },
        measure: at,
    });
}
