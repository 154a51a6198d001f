//! Variants of a figure: the same cell flipped, reordered, moved in its bar,
//! or ornamented.

use std::fmt;

use rhythm::{Count, Counting, Fraction, Meter, MeterKind, Slot, Thirds, writable};

use crate::Figure;
use crate::tone::{self, CellTone, tones};

/// What becomes of a figure.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Variant {
    /// Nothing.
    AsItIs,
    /// Upside down around its first note.
    Flipped,
    /// Last note first.
    Reversed,
    /// Both.
    FlippedAndReversed,
    /// Begun on another of its notes (from 1), the notes before following at
    /// the end.
    BegunOn(usize),
    /// Its notes (from 1) in another order.
    Order(Vec<usize>),
    /// Begun so many eighths later.
    Later(u32),
    /// All values half as long.
    HalfValues,
    /// All values twice as long.
    DoubleValues,
    /// The same notes over the bars of another meter.
    In(Meter),
    /// Ornaments on some of its notes (from 1), in the first half of each.
    Ornamented(Ornament, Vec<usize>),
}

/// An ornament that a variant adds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Ornament {
    FromBelow,
    FromAbove,
    Enclosed,
}

/// Why a figure has no such variant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoVariant {
    /// It has only so many notes.
    Notes(usize),
    /// An order must name each of so many notes once.
    NoOrder(usize),
    /// The bar has only so many eighths.
    Eighths(u32),
    /// Its rhythm can't be written so.
    Unwritable,
}

impl Ornament {
    const fn words(self) -> &'static str {
        match self {
            Ornament::FromBelow => "from below",
            Ornament::FromAbove => "from above",
            Ornament::Enclosed => "enclosed",
        }
    }

    const fn tones(self) -> &'static [CellTone] {
        match self {
            Ornament::FromBelow => &[CellTone::Below],
            Ornament::FromAbove => &[CellTone::Above],
            Ornament::Enclosed => &[CellTone::Above, CellTone::Below],
        }
    }
}

/// In the lesson's words: `order 2 1 3`, `3 eighths later`.
impl fmt::Display for Variant {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let listed = |numbers: &[usize]| {
            let words: Vec<String> = numbers.iter().map(usize::to_string).collect();
            words.join(" ")
        };
        match self {
            Variant::AsItIs => f.write_str("as it is"),
            Variant::Flipped => f.write_str("flipped"),
            Variant::Reversed => f.write_str("reversed"),
            Variant::FlippedAndReversed => f.write_str("flipped and reversed"),
            Variant::BegunOn(note) => write!(f, "begun on note {note}"),
            Variant::Order(order) => write!(f, "order {}", listed(order)),
            Variant::Later(1) => f.write_str("1 eighth later"),
            Variant::Later(eighths) => write!(f, "{eighths} eighths later"),
            Variant::HalfValues => f.write_str("half values"),
            Variant::DoubleValues => f.write_str("double values"),
            Variant::In(meter) => write!(f, "in {meter}"),
            Variant::Ornamented(ornament, notes) => {
                write!(f, "{} on {}", ornament.words(), listed(notes))
            }
        }
    }
}

impl Variant {
    /// What is said of the figure in a heading: `the figure, its notes in the
    /// order 2 1 3`.
    pub fn heading(&self) -> Option<String> {
        let notes = |notes: &[usize]| {
            let names: Vec<String> = notes.iter().map(usize::to_string).collect();
            match &names[..] {
                [many @ .., last] if !many.is_empty() => {
                    format!("notes {} and {last}", many.join(", "))
                }
                names => format!("note {}", names.join(" ")),
            }
        };
        Some(match self {
            Variant::AsItIs => return None,
            Variant::Order(_) => format!("its notes in the {self}"),
            Variant::Later(1) => "an eighth later".to_owned(),
            Variant::HalfValues => "twice as fast".to_owned(),
            Variant::DoubleValues => "half as fast".to_owned(),
            Variant::Ornamented(Ornament::FromBelow, on) => {
                format!("with {} led up to from below", notes(on))
            }
            Variant::Ornamented(Ornament::FromAbove, on) => {
                format!("with {} led down to from above", notes(on))
            }
            Variant::Ornamented(Ornament::Enclosed, on) => format!("with {} enclosed", notes(on)),
            Variant::Flipped
            | Variant::Reversed
            | Variant::FlippedAndReversed
            | Variant::BegunOn(_)
            | Variant::Later(_)
            | Variant::In(_) => self.to_string(),
        })
    }
}

impl Figure {
    /// How many notes it has on a scale of so many rungs; an ornament belongs
    /// to the note it leads to.
    pub fn notes(&self, size: i32) -> usize {
        tone::notes(&tones(&self.moves, size)).len()
    }

    /// Eighths in its bar.
    pub fn eighths(&self) -> u32 {
        let eighths = (self.meter.bar() * 2).to_integer();
        u32::try_from(eighths).unwrap_or(0)
    }

    /// A variant of it on a scale of so many rungs to the octave.
    ///
    /// # Errors
    /// When it has none such.
    pub fn varied(&self, variant: &Variant, size: i32) -> Result<Figure, NoVariant> {
        let plain = tones(&self.moves, size);
        let own = self.flipped.as_deref().map(|moves| tones(moves, size));
        let count = tone::notes(&plain).len();
        let mut varied = Figure {
            variant: Some(variant.to_string()),
            variant_heading: variant.heading(),
            ..self.clone()
        };
        match variant {
            Variant::AsItIs => {}
            Variant::Flipped => varied.turn_over(&plain, own.as_deref()),
            Variant::Reversed => varied.reorder(&plain, own.as_deref(), &backwards(count)),
            Variant::FlippedAndReversed => {
                varied.turn_over(&plain, own.as_deref());
                let plain = tones(&varied.moves, size);
                let own = varied.flipped.as_deref().map(|moves| tones(moves, size));
                let count = tone::notes(&plain).len();
                varied.reorder(&plain, own.as_deref(), &backwards(count));
            }
            Variant::BegunOn(note) => {
                let first = place(*note, count)?;
                let order: Vec<usize> = (first..count).chain(0..first).collect();
                varied.reorder(&plain, own.as_deref(), &order);
            }
            Variant::Order(order) => {
                let places = order.iter().map(|note| place(*note, count));
                let order: Vec<usize> = places.collect::<Result<_, _>>()?;
                let mut each = order.clone();
                each.sort_unstable();
                if !each.into_iter().eq(0..count) {
                    return Err(NoVariant::NoOrder(count));
                }
                varied.reorder(&plain, own.as_deref(), &order);
            }
            Variant::Later(eighths) => {
                if *eighths >= self.eighths() {
                    return Err(NoVariant::Eighths(self.eighths()));
                }
                let by = Fraction::new(i64::from(*eighths), 2);
                varied
                    .count
                    .slots
                    .iter_mut()
                    .for_each(|slot| slot.onset += by);
                varied.count.pickup = pickup(&varied.count);
            }
            Variant::HalfValues => scale(&mut varied.count, Fraction::new(1, 2)),
            Variant::DoubleValues => scale(&mut varied.count, Fraction::from(2)),
            Variant::In(meter) => rebar(&mut varied, meter),
            Variant::Ornamented(ornament, notes) => {
                let places = notes.iter().map(|note| place(*note, count));
                let places: Vec<usize> = places.collect::<Result<_, _>>()?;
                varied.ornament(&plain, own.as_deref(), *ornament, &places);
            }
        }
        let unchanged = varied.count == self.count && varied.meter == self.meter;
        if unchanged || writable(&varied.meter, &varied.count) {
            Ok(varied)
        } else {
            Err(NoVariant::Unwritable)
        }
    }

    /// Whether it is played as another is, on a scale of so many rungs.
    pub fn sounds_like(&self, other: &Figure, size: i32) -> bool {
        let times = |figure: &Figure| -> Vec<(Fraction, Fraction)> {
            let sounding = figure.count.slots.iter().filter(|slot| !slot.silent);
            sounding.map(|slot| (slot.onset, slot.length)).collect()
        };
        let over = |figure: &Figure| match &figure.flipped {
            Some(own) => tones(own, size),
            None => tone::flipped(&tones(&figure.moves, size), &figure.unflipped),
        };
        self.meter == other.meter
            && self.count.length == other.count.length
            && tones(&self.moves, size) == tones(&other.moves, size)
            && self.flipped.is_some() == other.flipped.is_some()
            && over(self) == over(other)
            && times(self) == times(other)
    }

    /// Upside down; a flip of its own wording turns back into the figure.
    fn turn_over(&mut self, plain: &[CellTone], own: Option<&[CellTone]>) {
        let over = own.map_or_else(
            || tone::flipped(plain, &self.unflipped),
            <[CellTone]>::to_vec,
        );
        self.moves = tone::moves(&over);
        self.flipped = own.map(|_| tone::moves(plain));
    }

    /// Its notes in another order, and so its own flip's, if that has as many.
    fn reorder(&mut self, plain: &[CellTone], own: Option<&[CellTone]>, order: &[usize]) {
        let same = own.filter(|own| tone::notes(own).len() == order.len());
        self.moves = tone::moves(&tone::reordered(plain, order));
        self.flipped = same.map(|own| tone::moves(&tone::reordered(own, order)));
        let kept = |place: &usize| self.unflipped.contains(&order[*place]);
        self.unflipped = (0..order.len()).filter(kept).collect();
    }

    /// Ornaments in the first half of some of its notes, of an eighth each at
    /// most. A flip of its own
    /// wording gives way to the plain one.
    fn ornament(
        &mut self,
        plain: &[CellTone],
        own: Option<&[CellTone]>,
        ornament: Ornament,
        places: &[usize],
    ) {
        let added = ornament.tones();
        let notes = tone::notes(plain);
        // The tone that each note's own rung is.
        let rungs: Vec<usize> = notes.iter().map(|note| note.end - 1).collect();
        let ornamented = |at: usize| {
            rungs
                .iter()
                .position(|rung| *rung == at)
                .is_some_and(|note| places.contains(&note))
        };
        let mut moves: Vec<CellTone> = Vec::with_capacity(plain.len() + 2 * places.len());
        for (at, tone) in plain.iter().enumerate() {
            if ornamented(at) {
                moves.extend_from_slice(added);
            }
            moves.push(*tone);
        }
        let mut slots: Vec<Slot> = Vec::with_capacity(moves.len());
        let mut at = 0;
        for slot in &self.count.slots {
            if slot.silent {
                slots.push(*slot);
                continue;
            }
            if ornamented(at) {
                let half = slot.length / 2 / added.len() as i64;
                let each = half.min(Fraction::new(1, 2));
                let mut onset = slot.onset;
                for _ in added {
                    slots.push(Slot {
                        onset,
                        length: each,
                        ..*slot
                    });
                    onset += each;
                }
                slots.push(Slot {
                    onset,
                    length: slot.onset + slot.length - onset,
                    ..*slot
                });
            } else {
                slots.push(*slot);
            }
            at += 1;
        }
        self.moves = tone::moves(&moves);
        self.count.slots = slots;
        if own.is_some() {
            self.flipped = None;
        }
    }
}

/// A note's place from 0.
fn place(note: usize, count: usize) -> Result<usize, NoVariant> {
    let place = note.checked_sub(1).filter(|place| *place < count);
    place.ok_or(NoVariant::Notes(count))
}

fn backwards(count: usize) -> Vec<usize> {
    (0..count).rev().collect()
}

fn pickup(count: &Count) -> Fraction {
    let first = count
        .slots
        .first()
        .map_or(Fraction::ZERO, |slot| slot.onset);
    (-first).max(Fraction::ZERO)
}

fn scale(count: &mut Count, by: Fraction) {
    for slot in &mut count.slots {
        slot.onset *= by;
        slot.length *= by;
    }
    count.length *= by;
    count.pickup *= by;
}

/// The same lengths over other bars; what lasted whole bars lasts to the end of
/// the bar of its last count again.
fn rebar(figure: &mut Figure, meter: &Meter) {
    let whole = |time: Fraction, bar: Fraction| (time / bar).is_integer();
    let count = &mut figure.count;
    if whole(count.length, figure.meter.bar())
        && let Some(last) = count.slots.last_mut()
    {
        let bars = ((last.onset + count.pickup) / meter.bar()).floor() + 1;
        count.length = bars * meter.bar();
        last.length = count.length - count.pickup - last.onset;
    }
    if meter.kind() != MeterKind::Compound {
        count.counting = match count.counting.thirds {
            // Only compound beats are counted so.
            Thirds::AndA => Counting::default(),
            _ => Counting {
                beats: false,
                ..count.counting
            },
        };
    }
    figure.meter = meter.clone();
}
