//! The form of a track: bars of click and passages of sheets, one after
//! another.

use crate::band::Time;
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
    /// The number of the sheet, from 0.
    pub sheet: usize,
    /// The sheet's ticks.
    pub from: u64,
    /// The sheet's ticks.
    pub to: u64,
    /// The track's ticks.
    pub begins: u64,
    /// Whether the line sounds, or the student answers.
    pub call: bool,
    /// Which of the sheet's times it is.
    pub time: Time,
    /// The sheet's time at which the line is silent, since the pickup of the
    /// next time sounds from there.
    pub until: u64,
    /// The track's ticks of a pickup that sounds over the last bar of the
    /// time before, where band and click go on.
    pub over: u64,
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
    let mut end: u64 = 0;
    for (number, timeline) in timelines.iter().enumerate() {
        let calls = if take.answer {
            calls(&timeline.sheet)
        } else {
            vec![(0, timeline.sheet.end)]
        };
        let times = take.times.max(1);
        let round = round(timeline).filter(|_| !take.answer);
        for time in 0..times {
            let bars = match (number, time) {
                (0, 0) => take.count_in,
                (_, 0) => 1,
                _ => 0,
            };
            let over = round.filter(|_| time > 0).map_or(0, |(_, ticks)| ticks);
            end = end.saturating_sub(over);
            if let Some(count) = count(timeline, bars, end).filter(|_| over == 0) {
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
                        sheet: number,
                        from: *from,
                        to: *to,
                        begins: end,
                        call,
                        time: Time {
                            first: time == 0,
                            last: time + 1 == times,
                        },
                        until: round
                            .filter(|_| time + 1 < times)
                            .map_or(*to, |(until, _)| until),
                        over,
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

/// How a sheet with a pickup comes round: from when on the pickup sounds over
/// its last bar, in the sheet's ticks, and how long it is in the track's. None
/// where the last bar is too short for it or other notes begin there.
fn round(timeline: &Timeline<'_>) -> Option<(u64, u64)> {
    let sheet = &timeline.sheet;
    let (first, last) = (sheet.bars.first()?, sheet.bars.last()?);
    let pickup = first.length;
    let until = sheet.end.checked_sub(pickup)?;
    let fits = first.missing(sheet.divisions) > 0
        && first.meter == last.meter
        && sheet.bars.len() > 1
        && until >= last.start
        && sheet.tones.iter().all(|tone| tone.start < until);
    fits.then(|| (until, timeline.straight(pickup)))
}

/// Bars of click before a sheet. A pickup sounds in the last of them; where
/// it would take more than half of the only one, and where a sheet with a
/// pickup comes round again and has no room for it in its last bar, there is
/// one more, so that the beat goes on.
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
