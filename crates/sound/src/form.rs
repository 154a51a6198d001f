//! The form of a track: bars of click and passages of sheets, one after
//! another.

use crate::call::calls;
use crate::timeline::Timeline;
use crate::{SoundError, Take};

/// Ticks that a file can say before its end (Standard MIDI Files 1.0: a
/// delta time has 28 bits).
const MOST_TICKS: u64 = 0x0FFF_FFFF;

/// A part of a track.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Stretch<'a> {
    /// Bars of click before a sheet.
    Count(Count<'a>),
    /// A part of a sheet.
    Passage(Passage<'a>),
}

/// Bars of click, in the meter the sheet begins with; the last stops where
/// the sheet's pickup starts.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Count<'a> {
    pub timeline: &'a Timeline<'a>,
    /// The track's ticks.
    pub begins: u64,
    /// The track's ticks.
    pub length: u64,
    /// A whole bar in the track's ticks.
    pub bar: u64,
}

/// A part of a sheet.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Passage<'a> {
    pub timeline: &'a Timeline<'a>,
    /// The sheet's ticks.
    pub from: u64,
    /// The sheet's ticks.
    pub to: u64,
    /// The track's ticks.
    pub begins: u64,
    /// Whether the line sounds, or the student answers.
    pub call: bool,
}

impl Passage<'_> {
    /// The track's tick at which a time of the sheet is played.
    pub(crate) fn played(&self, at: u64) -> u64 {
        self.begins
            + self
                .timeline
                .played(at)
                .saturating_sub(self.timeline.straight(self.from))
    }

    /// The track's tick of a time of the sheet as written.
    pub(crate) fn straight(&self, at: u64) -> u64 {
        self.begins
            + self
                .timeline
                .straight(at)
                .saturating_sub(self.timeline.straight(self.from))
    }
}

/// The stretches of a take in order, and where the last ends.
///
/// # Errors
/// When a file can't say so many ticks.
pub(crate) fn stretches<'a>(
    timelines: &'a [Timeline<'a>],
    take: &Take,
) -> Result<(Vec<Stretch<'a>>, u64), SoundError> {
    let mut stretches = Vec::new();
    let mut end = 0;
    for (number, timeline) in timelines.iter().enumerate() {
        let calls = if take.answer {
            calls(&timeline.sheet)
        } else {
            vec![(0, timeline.sheet.end)]
        };
        for time in 0..take.times.max(1) {
            let bars = match (number, time) {
                (0, 0) => take.count_in,
                (_, 0) => 1,
                _ => 0,
            };
            if let Some(count) = count(timeline, bars, end) {
                end += count.length;
                stretches.push(Stretch::Count(count));
            }
            for (from, to) in &calls {
                for call in [true, false] {
                    if !call && !take.answer {
                        continue;
                    }
                    let passage = Passage {
                        timeline,
                        from: *from,
                        to: *to,
                        begins: end,
                        call,
                    };
                    end = passage.straight(*to);
                    stretches.push(Stretch::Passage(passage));
                    if end > MOST_TICKS {
                        return Err(SoundError::TooLong);
                    }
                }
            }
        }
    }
    Ok((stretches, end))
}

/// Bars of click before a sheet. A pickup sounds in the last of them; where
/// it would take more than half of the only one, and where a sheet with a
/// pickup comes round again, there is one more, so that the beat goes on.
fn count<'a>(timeline: &'a Timeline<'a>, bars: u8, begins: u64) -> Option<Count<'a>> {
    let first = timeline.sheet.bars.first()?;
    let bar = timeline.grid.quarters(first.meter?.bar());
    let pickup = if first.missing(timeline.sheet.divisions) > 0 {
        timeline.straight(first.length)
    } else {
        0
    };
    let again = bars == 0 && begins > 0 && pickup > 0;
    let short = bars == 1 && 2 * pickup > bar;
    let bars = u64::from(bars) + u64::from(again || short);
    let length = (bars * bar).saturating_sub(pickup);
    (bars > 0 && length > 0).then_some(Count {
        timeline,
        begins,
        length,
        bar,
    })
}
