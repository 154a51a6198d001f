//! Who plays the lifted phrase, and how much of an exercise the horn has room
//! for in every key.

use lesson::{Named, Phrase};
use theory::{Instrument, Letter, Level, Pitch};

use crate::lift::fit::OnScale;

/// Semitones that the twelve keys move a phrase up from its lowest place.
const KEYS: i16 = 11;

/// The instrument of the lesson, and what fits it.
#[derive(Debug)]
pub(crate) struct Horn {
    /// The instrument to name; none where the lesson's own default suits.
    pub instrument: Option<Instrument>,
    /// Whether an intermediate player's range is too small.
    pub advanced: bool,
    pub sequence: Sequence,
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

impl Horn {
    /// The horn whose name the part has, if it sounds as the part does; else
    /// concert pitch, in the clef that suits the phrase.
    pub fn of(phrase: &Phrase, on: &OnScale) -> Option<Horn> {
        let named = phrase
            .part
            .as_deref()
            .and_then(|part| Instrument::named(part).ok())
            .filter(|instrument| instrument.written_to_sounding == phrase.written_to_sounding);
        let heights = || {
            phrase
                .notes
                .iter()
                .filter_map(|note| note.pitch)
                .map(Pitch::midi)
        };
        let (low, high) = (heights().min()?, heights().max()?);
        let first = heights().next()?;
        let middle_c = Pitch::new(Letter::C, 0, 4).midi();
        let is_low = low.midpoint(high) < middle_c;
        let is_bass = is_low && named.is_none() && phrase.named == Named::Concert;
        let default = Instrument::named(if is_bass {
            "concert-bass"
        } else {
            "concert-treble"
        })
        .ok()?;
        let played = named.as_ref().unwrap_or(&default);
        let span = |level: Level| {
            let range = played.range(level);
            range.high.midi() - range.low.midi()
        };
        // Every exercise comes home to the root; the flip turns around the
        // first note.
        let root = on.root_height(phrase)?;
        let plain = (low.min(root), high.max(root));
        let flipped = (plain.0.min(2 * first - high), plain.1.max(2 * first - low));
        let wide = |(low, high): (i16, i16)| high - low + KEYS;
        let advanced = wide(plain) > span(Level::Intermediate);
        let room = span(if advanced {
            Level::Advanced
        } else {
            Level::Intermediate
        });
        let sequence = if wide(flipped) <= room {
            Sequence::Flipped
        } else if wide(plain) <= room {
            Sequence::AsItIs
        } else {
            Sequence::TooWide
        };
        let instrument = named.or_else(|| is_bass.then_some(default));
        Some(Horn {
            instrument,
            advanced,
            sequence,
        })
    }
}
