//! A figure's counts one by one, as a row that can be clicked.

use rhythm::{Count, CountWord, Counting, Fraction, Meter, MeterKind, Sound, count_word};

use super::document::Document;
use super::figure::Figure;

/// A row of counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grid {
    /// The figure's name, if it has one.
    pub name: Option<String>,
    /// Its meter as a lesson says it.
    pub meter: String,
    /// How finely it is counted.
    pub division: Division,
    /// The divisions it may be counted in.
    pub divisions: Vec<Division>,
    /// Every count in order.
    pub cells: Vec<Cell>,
}

/// Into what each number of the count is parted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Division {
    /// Not at all.
    Numbers,
    /// `&`
    Halves,
    /// `trip let`
    Thirds,
    /// `e & a`
    Quarters,
}

/// One count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// Quarters from the figure's first bar line; negative in a pickup.
    pub at: Fraction,
    /// Quarters to the next.
    pub length: Fraction,
    /// As it is counted: `1 and`, in a longer figure `bar 2: 1 and`.
    pub name: String,
    /// The same in short: `1`, `&`.
    pub sign: String,
    /// Whether a bar begins here.
    pub opens_bar: bool,
    /// What it is.
    pub state: State,
    /// What a click makes of it.
    pub next: State,
    /// Its note, the first that sounds being 1.
    pub note: Option<usize>,
    /// What the note sounds: a degree of the scale, or the ornament in words.
    pub sounds: Option<String>,
}

/// What happens on a count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum State {
    /// A note begins.
    Note,
    /// Silence.
    Silence,
    /// The note before goes on.
    Hold,
}

/// The counts of a figure, from 0; none where it says something unclear. An
/// unsaid division is the coarsest that has a place for every note.
pub fn grid(text: &str, figure: usize, division: Option<Division>) -> Option<Grid> {
    if text.len() > crate::limit::LESSON_BYTES {
        return None;
    }
    let document = Document::read(text);
    Figure::read(&document, figure).map(|figure| of(&figure, division))
}

pub(super) fn of(figure: &Figure, division: Option<Division>) -> Grid {
    let (count, meter) = (&figure.count, &figure.meter);
    let divisions = divisions(meter);
    let fits = |division: &&Division| {
        let unit = part(meter, **division);
        count
            .slots
            .iter()
            .all(|slot| (slot.onset / unit).is_integer())
    };
    let usual = divisions
        .iter()
        .filter(|division| **division != Division::Numbers || meter.kind() != MeterKind::Simple)
        .find(fits)
        .copied();
    let division = division
        .or(usual)
        .unwrap_or(if meter.kind() == MeterKind::Simple {
            Division::Halves
        } else {
            Division::Numbers
        });
    let onsets = onsets(count, meter, division);
    let sounds = figure.line.sounds(figure.ladder.as_ref());
    Grid {
        name: figure.name.clone(),
        meter: meter.to_string(),
        division,
        divisions,
        cells: cells(count, meter, &onsets, &sounds),
    }
}

/// How a meter's numbers may be parted.
fn divisions(meter: &Meter) -> Vec<Division> {
    match meter.kind() {
        MeterKind::Compound => vec![Division::Numbers, Division::Halves],
        _ => vec![
            Division::Numbers,
            Division::Halves,
            Division::Thirds,
            Division::Quarters,
        ],
    }
}

fn part(meter: &Meter, division: Division) -> Fraction {
    let parts = match division {
        Division::Numbers => 1,
        Division::Halves => 2,
        Division::Thirds => 3,
        Division::Quarters => 4,
    };
    meter.unit() / parts
}

/// Where the figure begins and ends.
fn extent(count: &Count) -> (Fraction, Fraction) {
    let first = count
        .slots
        .first()
        .map_or(Fraction::ZERO, |slot| slot.onset);
    let last = count
        .slots
        .last()
        .map_or(count.length, |slot| slot.onset + slot.length);
    (first.min(Fraction::ZERO), last)
}

/// The counts of a division, and those in use beside them.
fn onsets(count: &Count, meter: &Meter, division: Division) -> Vec<Fraction> {
    let (from, to) = extent(count);
    let unit = part(meter, division);
    let mut onsets: Vec<Fraction> = Vec::new();
    let mut at = (from / unit).ceil() * unit;
    while at < to {
        onsets.push(at);
        at += unit;
    }
    onsets.extend(count.slots.iter().map(|slot| slot.onset));
    onsets.push(from);
    onsets.retain(|at| *at < to);
    onsets.sort_unstable();
    onsets.dedup();
    onsets
}

fn cells(count: &Count, meter: &Meter, onsets: &[Fraction], sounds: &[String]) -> Vec<Cell> {
    let (_, end) = extent(count);
    let bars = (end / meter.bar()).ceil() > Fraction::ONE;
    let ends = onsets.iter().skip(1).copied().chain([end]);
    let mut notes = 0;
    let mut cells: Vec<Cell> = Vec::with_capacity(onsets.len());
    for (at, end) in onsets.iter().copied().zip(ends) {
        let slot = count
            .slots
            .iter()
            .rfind(|slot| slot.onset <= at && at < slot.onset + slot.length);
        let state = match slot {
            None => State::Silence,
            Some(slot) if slot.silent => State::Silence,
            Some(slot) if slot.onset == at => State::Note,
            Some(_) => State::Hold,
        };
        let can_hold = cells
            .last()
            .is_some_and(|cell| cell.state != State::Silence);
        let note = (state == State::Note).then(|| {
            notes += 1;
            notes
        });
        let (name, sign) = named(meter, at, bars, count.counting);
        cells.push(Cell {
            at,
            length: end - at,
            name,
            sign,
            opens_bar: (at / meter.bar()).is_integer(),
            state,
            next: match state {
                State::Note => State::Silence,
                State::Silence if can_hold => State::Hold,
                State::Silence | State::Hold => State::Note,
            },
            note,
            sounds: note.and_then(|note| sounds.get(note - 1).cloned()),
        });
    }
    cells
}

/// How a place is counted aloud, whole and in short.
fn named(meter: &Meter, at: Fraction, bars: bool, counting: Counting) -> (String, String) {
    let numbered = if counting.beats {
        meter.beat()
    } else {
        meter.unit()
    };
    let bar = (at / meter.bar()).floor();
    let number = ((at - bar * meter.bar()) / numbered).floor().to_integer() + 1;
    let (part, sign) = match count_word(meter, at, counting) {
        Some(CountWord::Number(_)) => ("", number.to_string()),
        Some(CountWord::And) => (" and", "&".to_owned()),
        Some(CountWord::E) => (" e", "e".to_owned()),
        Some(CountWord::A) => (" a", "a".to_owned()),
        Some(CountWord::Trip) => (" trip", "trip".to_owned()),
        Some(CountWord::Let) => (" let", "let".to_owned()),
        Some(CountWord::La) => (" la", "la".to_owned()),
        Some(CountWord::Li) => (" li", "li".to_owned()),
        None => (" between", "·".to_owned()),
    };
    let name = format!("{number}{part}");
    let name = match bar.to_integer() {
        bar if bar < 0 => format!("pickup: {name}"),
        bar if bars => format!("bar {}: {name}", bar + 1),
        _ => name,
    };
    (name, sign)
}

/// The sounds of a row of cells.
pub(super) fn sounds(cells: &[Cell]) -> Vec<Sound> {
    let mut sounds: Vec<Sound> = Vec::with_capacity(cells.len());
    for cell in cells {
        let goes_on = match cell.state {
            State::Note => false,
            State::Hold => true,
            State::Silence => sounds.last().is_some_and(|last| last.silent),
        };
        match sounds.last_mut().filter(|_| goes_on) {
            Some(last) => last.length += cell.length,
            None => sounds.push(Sound {
                onset: cell.at,
                length: cell.length,
                silent: cell.state != State::Note,
            }),
        }
    }
    sounds
}
