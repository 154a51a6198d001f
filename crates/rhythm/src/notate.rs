//! From events in time to written values: rules 7 and 8.

use crate::bar_filling::BarFilling;
use crate::beam::beam;
use crate::frame::Frame;
use crate::{BarPieces, BeamStyle, Event, Meter, Ticks};

/// Writes events down bar by bar.
///
/// `events` are in order and do not overlap. If the first begins before 0, a
/// pickup bar that long comes first, or as much longer as its first tuplet
/// takes to be whole. Bars go on to the bar line at or after both the last
/// event's end and `until`. `per_quarter` is ticks to the
/// quarter; every onset and length must be writable at it (see
/// [`crate::divisions`]), and splits never need finer ticks than the events
/// and the meter's own beats do.
pub fn notate(
    meter: &Meter,
    per_quarter: u32,
    events: &[Event],
    until: Ticks,
    style: BeamStyle,
) -> Vec<BarPieces> {
    let frame = Frame::of(meter, per_quarter);
    let bar = frame.bar / frame.fine;
    let first = events.first().map_or(0, |event| event.onset).min(0);
    let end = events
        .last()
        .map_or(0, |event| event.onset + event.length)
        .max(until);
    let mut bars = Vec::new();
    if bar <= 0 {
        return bars;
    }
    let mut start = first;
    let mut next = 0;
    while start < end {
        let line = (start.div_euclid(bar) + 1) * bar;
        let mut filling = BarFilling {
            frame: &frame,
            events,
            bar: BarPieces {
                start,
                length: line - start,
                pieces: Vec::new(),
            },
            offset: bar - (line - start),
        };
        filling.fill(&mut next);
        let BarFilling {
            bar: mut pieces,
            offset,
            ..
        } = filling;
        beam(&frame, &mut pieces, offset, style);
        bars.push(pieces);
        start = line;
    }
    bars
}
