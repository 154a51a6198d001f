//! Who plays the lifted phrase, and how much of an exercise the horn has room
//! for in every key.

use lesson::{Named, Phrase};
use theory::{Instrument, Letter, Level, Pitch, PitchName, Range};

use crate::part_horn::part_horn;

/// Half steps that the twelve keys move a phrase down and up from its own.
const DOWN: i16 = 5;
const UP: i16 = 6;

/// The player of the lesson, and what fits.
#[derive(Debug)]
pub(crate) struct Horn {
    pub player: Player,
    /// Whether an intermediate player's range is too small.
    pub advanced: bool,
    pub sequence: Sequence,
    /// What a teacher should know of the player.
    pub remarks: Vec<String>,
}

/// Who plays.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Player {
    /// The lesson's own default: concert pitch in treble clef.
    Unsaid,
    /// An instrument of the catalogue.
    Instrument(Instrument),
    /// One that reaches as far as the phrase does, in written pitch.
    Reaching(Instrument, Range),
    /// A line at concert pitch that none of them has the range for.
    Line { is_low: bool, range: Range },
}

/// Whether the phrase can be begun on every degree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sequence {
    /// Up, and flipped coming down.
    Flipped,
    /// Up and down, but the flip reaches too far.
    AsItIs,
    /// It is too wide.
    TooWide,
}

/// From and to, in MIDI numbers.
type Reach = (i16, i16);

/// How far a phrase reaches.
struct Extent {
    low: Pitch,
    high: Pitch,
    /// With the root that its exercises come back to.
    plain: Reach,
    /// With its flip too, which turns around the first note.
    flipped: Reach,
}

impl Extent {
    /// None of a phrase without notes.
    fn of(phrase: &Phrase, home: Option<i16>) -> Option<Extent> {
        let pitches = || phrase.notes.iter().filter_map(|note| note.pitch);
        let low = pitches().min_by_key(|pitch| pitch.midi())?;
        let high = pitches().max_by_key(|pitch| pitch.midi())?;
        let first = pitches().next()?.midi();
        let root = home.unwrap_or(first);
        let plain = (low.midi().min(root), high.midi().max(root));
        let flipped = (
            plain.0.min(2 * first - high.midi()),
            plain.1.max(2 * first - low.midi()),
        );
        Some(Extent {
            low,
            high,
            plain,
            flipped,
        })
    }
}

impl Horn {
    /// The horn that the part is for; else concert pitch, in the clef that
    /// suits the phrase.
    /// `home`: the height of the root that its exercises come back to, if any.
    pub fn of(phrase: &Phrase, home: Option<i16>) -> Option<Horn> {
        let reach = Extent::of(phrase, home)?;
        let Some((instrument, only_transposes)) = part_horn(phrase) else {
            return Horn::in_concert_pitch(phrase, &reach);
        };
        let guess = only_transposes.then(|| {
            format!(
                "the part doesn't say which horn plays: its transposition is that of {}",
                instrument.name
            )
        });
        match Horn::named(phrase, instrument, &reach) {
            Some(horn) => Some(Horn {
                remarks: guess.into_iter().collect(),
                ..horn
            }),
            None => Horn::in_concert_pitch(phrase, &reach),
        }
    }

    /// The part's own horn, in its range or a little past it; none where the
    /// phrase is out of its reach.
    fn named(phrase: &Phrase, instrument: Instrument, reach: &Extent) -> Option<Horn> {
        let written = |pitch: Pitch| match phrase.named {
            Named::Concert => pitch - instrument.written_to_sounding,
            Named::Written => pitch,
        };
        let reached = Range {
            low: written(reach.low),
            high: written(reach.high),
        };
        let own = instrument.range(Level::Advanced);
        if fits(reached, own) {
            let spans =
                [Level::Intermediate, Level::Advanced].map(|level| span(instrument.range(level)));
            let player = Player::Instrument(instrument);
            return Some(Horn::with(player, spans, reach.plain, reach.flipped));
        }
        let range = Range {
            low: lower(own.low, reached.low),
            high: higher(own.high, reached.high),
        };
        let extreme = instrument.extreme;
        (extreme.holds(range.low) && extreme.holds(range.high)).then(|| {
            let player = Player::Reaching(instrument, range);
            Horn::with(player, [span(range); 2], reach.plain, reach.flipped)
        })
    }

    /// Concert pitch, in the clef that suits the phrase, or a line of its own
    /// range.
    fn in_concert_pitch(phrase: &Phrase, reach: &Extent) -> Option<Horn> {
        let middle_c = Pitch::new(Letter::C, 0, 4).midi();
        let is_low = reach.low.midi().midpoint(reach.high.midi()) < middle_c;
        let is_bass = is_low && phrase.named == Named::Concert;
        let id = if is_bass {
            "concert-bass"
        } else {
            "concert-treble"
        };
        let default = Instrument::named(id).ok()?;
        let spans = [Level::Intermediate, Level::Advanced].map(|level| span(default.range(level)));
        let Extent { plain, flipped, .. } = *reach;
        if wide(plain) <= spans[1] {
            let player = if is_bass {
                Player::Instrument(default)
            } else {
                Player::Unsaid
            };
            return Some(Horn::with(player, spans, plain, flipped));
        }
        let range = Range {
            low: at((flipped.0 - DOWN).max(Range::WIDEST.low.midi()))?,
            high: at((flipped.1 + UP).min(Range::WIDEST.high.midi()))?,
        };
        let player = Player::Line { is_low, range };
        Some(Horn::with(player, [span(range); 2], plain, flipped))
    }

    /// `spans`: half steps of an intermediate and an advanced player's range.
    fn with(player: Player, spans: [i16; 2], plain: Reach, flipped: Reach) -> Horn {
        let advanced = wide(plain) > spans[0] && spans[0] != spans[1];
        let room = if advanced { spans[1] } else { spans[0] };
        let sequence = if wide(flipped) <= room {
            Sequence::Flipped
        } else if wide(plain) <= room {
            Sequence::AsItIs
        } else {
            Sequence::TooWide
        };
        Horn {
            player,
            advanced,
            sequence,
            remarks: Vec::new(),
        }
    }
}

/// Half steps that a phrase takes in all twelve keys together.
fn wide((low, high): Reach) -> i16 {
    high - low + DOWN + UP
}

fn span(range: Range) -> i16 {
    range.high.midi() - range.low.midi()
}

/// Whether a phrase fits in some octave.
fn fits(reached: Range, range: Range) -> bool {
    let up = (range.low.midi() - reached.low.midi()).div_euclid(12) * 12;
    (up..=up + 12).step_by(12).any(|by| {
        reached.low.midi() + by >= range.low.midi() && reached.high.midi() + by <= range.high.midi()
    })
}

/// The natural or sharp of a MIDI number.
fn at(midi: i16) -> Option<Pitch> {
    let mut names = (-1..11).map(PitchName::from_fifths);
    let name = names.find(|name| i16::from(name.class()) == midi.rem_euclid(12))?;
    Some(name.at(midi.div_euclid(12) - 1))
}

fn lower(one: Pitch, other: Pitch) -> Pitch {
    if other.midi() < one.midi() {
        other
    } else {
        one
    }
}

fn higher(one: Pitch, other: Pitch) -> Pitch {
    if other.midi() > one.midi() {
        other
    } else {
        one
    }
}
